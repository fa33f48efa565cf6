import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join, relative } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';

const root = fileURLToPath(new URL('..', import.meta.url));

/** Parts, longest path first where one lies in another, and what each may import: parts of ours, then packages. */
const parts: Readonly<
  Record<string, { readonly ours: readonly string[]; readonly packages: readonly RegExp[] }>
> = {
  protocol: { ours: [], packages: [] },
  'firmware-ts': { ours: ['protocol'], packages: [] },
  // The runtime's own modules, and the bundle that its manifest names.
  'firmware-ts/board/pico': {
    ours: ['firmware-ts'],
    packages: [/^embedded:/, /^(timer|time|needlewright-box)$/, /^mc\/ffi$/],
  },
  // Runs an image on an emulated chip; knows the protocol as any host does, and nothing of the firmware.
  'firmware-ts/board/pico/emulator': { ours: ['protocol'], packages: [/^node:/] },
  'firmware-ts/board/simulated/main.ts': { ours: ['protocol', 'firmware-ts'], packages: [/^node:/] },
  'firmware-ts/board/simulated/cluster/main.ts': { ours: ['protocol', 'firmware-ts'], packages: [/^node:/] },
  'host/core': { ours: [], packages: [] },
  // What the host refuses, and how it says so; figures and names come in, sentences go out.
  'host/refusals': { ours: ['host/core'], packages: [] },
  'host/job': { ours: ['host/core', 'host/refusals'], packages: [/^zod$/] },
  // The only place that speaks: codes and figures become sentences, for page, command and record alike.
  'host/words': { ours: ['host/core', 'host/job'], packages: [] },
  // Where everything of a plot or a circuit lies, before page, record or command draws it.
  'host/scene': { ours: ['host/core', 'host/job', 'host/words'], packages: [] },
  // What the catalogue keeps, and what was said about it: documents, no disk.
  'host/catalogue': { ours: ['host/core', 'host/job'], packages: [/^zod$/] },
  'host/link': { ours: ['protocol'], packages: [/^node:/, /^@serialport\//] },
  'host/store': {
    ours: ['host/core', 'host/refusals', 'host/job', 'host/words', 'host/catalogue'],
    packages: [/^node:/, /^zod$/],
  },
  // One door to each library: no other file knows which it is.
  'host/store/catalogue/sqlite.ts': {
    ours: ['host/core', 'host/refusals', 'host/store'],
    packages: [/^node:/, /^libsql$/],
  },
  'host/store/catalogue/postgres.ts': {
    ours: ['host/core', 'host/refusals', 'host/store'],
    packages: [/^pg$/],
  },
  'host/store/catalogue/zip.ts': { ours: [], packages: [/^fflate$/] },
  'host/bench': {
    ours: ['protocol', 'host/core', 'host/refusals', 'host/job', 'host/words', 'host/link', 'host/store'],
    packages: [/^node:/, /^zod$/],
  },
  'host/server': {
    ours: [
      'protocol',
      'host/core',
      'host/refusals',
      'host/job',
      'host/words',
      'host/link',
      'host/store',
      'host/bench',
      'host/record',
    ],
    packages: [/^node:/, /^zod$/, /^fastify$/, /^@fastify\//, /^ws$/, /^uqr$/],
  },
  // The record of a job: as data, on its sheets, and as files.
  'host/record': {
    ours: ['host/core', 'host/job', 'host/words', 'host/scene', 'host/catalogue'],
    packages: [/^node:/, /^zod$/],
  },
  'host/record/files/fonts.ts': { ours: ['host/record'], packages: [/^node:/, /^fontkit$/] },
  'host/record/files/pdf.ts': { ours: ['host/record'], packages: [/^pdfkit$/] },
  /** The program's version; nothing of it is code. */
  'package.json': { ours: [], packages: [] },
  'host/cli': {
    ours: [
      'protocol',
      'host/core',
      'host/refusals',
      'host/job',
      'host/words',
      'host/scene',
      'host/catalogue',
      'host/link',
      'host/store',
      'host/bench',
      'host/server',
      'host/record',
      'package.json',
    ],
    packages: [/^node:/, /^zod$/, /^uqr$/],
  },
  'host/web': {
    ours: ['protocol', 'host/core', 'host/job', 'host/words', 'host/scene'],
    packages: [/^preact/, /^uplot/],
  },
};

const isSource = (name: string): boolean => /\.tsx?$/.test(name) && !name.endsWith('.d.ts');

const partOf = (file: string): string | undefined =>
  Object.keys(parts)
    .filter((part) => file === part || file.startsWith(`${part}/`))
    .sort((left, right) => right.length - left.length)[0];

function sourcesIn(folder: string): string[] {
  return readdirSync(join(root, folder), { recursive: true, encoding: 'utf8' })
    .map((name) => join(folder, name))
    .filter((name) => isSource(name) && !name.includes('node_modules'));
}

type Import = { readonly file: string; readonly names: string; readonly typeOnly: boolean };

/** Sees import, export-from, dynamic import and side-effect imports; errs by seeing too much, never too little. */
function importsOf(text: string): Import[] {
  const pattern =
    /(?:import|export)\s+(type\s+)?(?:[\w*{][^'"`;]*?\sfrom\s*)?['"]([^'"]+)['"]|import\(\s*['"]([^'"]+)['"]/g;
  return [...text.matchAll(pattern)].map((match) => ({
    file: match[2] ?? match[3] ?? '',
    names: match[0],
    typeOnly: match[1] !== undefined,
  }));
}

function wrongArrow(file: string, imported: Import): string | undefined {
  const from = partOf(file);
  if (from === undefined) return `${file} belongs to no part`;
  const rule = parts[from];
  if (!imported.file.startsWith('.')) {
    const known = rule?.packages.some((pattern) => pattern.test(imported.file)) ?? false;
    return known ? undefined : `${file} imports the package ${imported.file}`;
  }
  const target = relative(root, join(root, dirname(file), imported.file));
  const to = partOf(target);
  if (to === from || (to !== undefined && rule?.ours.includes(to))) return undefined;
  return `${file} imports ${target}`;
}

/** The page is small because it takes the schemas' types and never their code. */
const isHeavyPageImport = (file: string, imported: Import): boolean =>
  file.startsWith('host/web/') && imported.file.includes('/protocol') && !imported.typeOnly;

const files = ['protocol', 'firmware-ts', 'host'].flatMap(sourcesIn);

describe('the arrows between the parts', () => {
  const seen = files.flatMap((file) =>
    importsOf(readFileSync(join(root, file), 'utf8')).map((imported) => ({ file, imported })),
  );

  it('sees the imports of a real project, not an empty list', () => {
    expect(seen.length).toBeGreaterThan(300);
  });

  it('lets each part import only what the design allows', () => {
    const wrong = seen
      .map(({ file, imported }) => wrongArrow(file, imported))
      .filter((line) => line !== undefined);
    expect(wrong).toEqual([]);
  });

  it('lets the page import message types only, never the codec', () => {
    expect(seen.filter(({ file, imported }) => isHeavyPageImport(file, imported))).toEqual([]);
  });

  it.each([
    ['host/core/planted.ts', `import { readFile } from 'node:fs/promises';`],
    ['host/core/planted.ts', `import { openBench } from '../bench/index';`],
    ['host/web/planted.ts', `const link = await import('../link/index');`],
    ['protocol/planted.ts', `export * from '../firmware-ts/box';`],
    ['firmware-ts/planted.ts', `import { fitCurve } from '../host/core/curve/index';`],
    ['host/bench/planted.ts', `import '../../firmware-ts/box';`],
  ])('would refuse a wrong arrow in %s: %s', (file, text) => {
    const [imported] = importsOf(text);
    expect(imported && wrongArrow(file, imported)).toBeTypeOf('string');
  });

  it.each([
    ['host/core', /\b(Date\.now|new Date|Math\.random|process\.|setTimeout|setInterval|console\.)/],
    ['protocol', /\b(Date\.now|new Date|Math\.random|process\.|setTimeout|setInterval|console\.|Buffer\b)/],
  ])('keeps clock, randomness and host out of %s', (part, forbidden) => {
    const bare = (text: string): string => text.replace(/\/\*[\s\S]*?\*\//g, '').replace(/\/\/.*$/gm, '');
    const wrong = files
      .filter((file) => file.startsWith(`${part}/`))
      .filter((file) => forbidden.test(bare(readFileSync(join(root, file), 'utf8'))));
    expect(wrong).toEqual([]);
  });
});
