import { existsSync, readFileSync, readdirSync, statSync } from 'node:fs';
import { dirname, join, relative } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { commandLine } from './support/command-line';

const root = fileURLToPath(new URL('..', import.meta.url));
const ignored = new Set(['node_modules', '.git', '.build', '.test-output']);

function filesBelow(folder: string): string[] {
  return readdirSync(folder, { withFileTypes: true })
    .filter((entry) => !ignored.has(entry.name))
    .flatMap((entry) => {
      const path = join(folder, entry.name);
      return entry.isDirectory() ? filesBelow(path) : [relative(root, path)];
    });
}

const files = filesBelow(root);
const read = (file: string): string => readFileSync(join(root, file), 'utf8');
const documents = files.filter((file) => file.endsWith('.md'));
const sources = files.filter((file) => /\.(ts|tsx|mjs)$/.test(file));
const allSource = sources.map(read).join('\n');

describe('the documents', () => {
  it('stand at a top level that never grows', () => {
    const names = readdirSync(root).filter((name) => !name.startsWith('.') && !ignored.has(name));
    expect(names.sort()).toEqual(
      [
        'DEVELOPERS.md',
        'LICENSE',
        'README.md',
        'demo-sessions',
        'firmware-ts',
        'hardware-notes',
        'host',
        'package-lock.json',
        'package.json',
        'protocol',
        'tests',
        'tsconfig.json',
      ].sort(),
    );
  });

  it('open with the job and the two commands', () => {
    const readme = read('README.md');
    const [title, , paragraph] = readme.split('\n');
    expect(title).toBe('# Needlewright');
    expect(paragraph).toMatch(/gauge.*sender.*resistance/);
    expect(readme).toContain('npm ci && npm start');
    expect(readme).toContain('npm ci && npm test');
  });

  it('show an answer that the command gives', async () => {
    const shown = /\n\$ npx needlewright (network --pairs )"([^"]+)"\n([^]*?)```/.exec(read('README.md'));
    const [, words = '', pairs = '', answer = ''] = shown ?? [];
    const lines = answer.split('\n').filter((line) => line.trim() !== '' && line.trim() !== '...');
    const { code, out } = await commandLine([...words.trim().split(' '), pairs]);
    expect(code).toBe(0);
    expect(lines.length).toBeGreaterThan(8);
    expect(lines.filter((line) => !out.split('\n').includes(line))).toEqual([]);
  });

  it('link only to files that exist', () => {
    const broken = documents.flatMap((file) =>
      [...read(file).matchAll(/\]\((?!https?:|#|mailto:)([^)\s#]+)[^)]*\)/g)]
        .map((match) => join(root, dirname(file), decodeURI(match[1] ?? '')))
        .filter((target) => !existsSync(target))
        .map((target) => `${file} -> ${relative(root, target)}`),
    );
    expect(documents.length).toBeGreaterThan(5);
    expect(broken).toEqual([]);
  });

  it('name only files that exist in the commands they show', () => {
    const named = documents.flatMap((file) =>
      [
        ...read(file).matchAll(/(?:needlewright|node) [^\n`]*?((?:demo-sessions|hardware-notes)\/[\w./-]+)/g),
      ].map((match) => match[1] ?? ''),
    );
    expect(named.length).toBeGreaterThan(1);
    expect(named.filter((name) => !existsSync(join(root, name)))).toEqual([]);
  });

  it('name every folder of the house in the map, and no folder that is gone', () => {
    const map = read('DEVELOPERS.md');
    const named = [...map.matchAll(/`([a-z][\w.-]*(?:\/[\w.-]+)*\/)`/g)].map((match) => match[1] ?? '');
    const gone = named.filter((folder) => !existsSync(join(root, folder)));
    const parts = ['protocol', 'firmware-ts', 'hardware-notes', 'host', 'host/core'];
    const folders = parts.flatMap((part) => [
      `${part}/`,
      ...readdirSync(join(root, part))
        .filter((name) => statSync(join(root, part, name)).isDirectory() && !ignored.has(name))
        .map((name) => `${part}/${name}/`),
    ]);
    expect(gone).toEqual([]);
    expect(folders.filter((folder) => !map.includes(`\`${folder}\``))).toEqual([]);
  });

  it('mention only codes that some source knows', () => {
    const unknown = documents.flatMap((file) =>
      [...read(file).matchAll(/\b[A-Z][A-Z0-9]+(?:_[A-Z0-9]+)+\b/g)]
        .map((match) => match[0])
        .filter((code) => !allSource.includes(code))
        .map((code) => `${file}: ${code}`),
    );
    expect(unknown).toEqual([]);
  });

  it('run only npm scripts that package.json has', () => {
    const scripts = /"scripts": \{([^}]*)\}/.exec(read('package.json'))?.[1] ?? '';
    const known = [...scripts.matchAll(/"([\w:-]+)":/g)].map((match) => match[1]);
    const called = documents.flatMap((file) =>
      [...read(file).matchAll(/npm run ([\w:-]+)/g)].map((match) => `${file}: ${match[1] ?? ''}`),
    );
    expect(called.filter((line) => !known.includes(line.split(': ')[1] ?? ''))).toEqual([]);
  });
});

describe('the limits of length', () => {
  it('hold for every file that is not a table or a test', () => {
    const ceilingLines = 360;
    const tables = ['firmware-ts/board/reference-design.ts', 'hardware-notes/draw/tables.ts'];
    const long = sources
      .filter((file) => !file.startsWith('tests/') && !tables.includes(file))
      .map((file) => ({ file, lines: read(file).split('\n').length }))
      .filter(({ lines }) => lines > ceilingLines);
    expect(long).toEqual([]);
  });
});
