// Bundles everything that runs into .build/: the command line, the simulated box, the page, the firmware.
import { build } from 'esbuild';
import { chmod, mkdir, readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { basename } from 'node:path';
import { existsSync } from 'node:fs';
import { minify } from 'terser';
import { firmwareBundle, firstBuild } from './firmware-bundle.mjs';

const root = new URL('..', import.meta.url).pathname;
const out = `${root}.build`;

const node = {
  bundle: true,
  platform: 'node',
  format: 'esm',
  target: 'node20',
  packages: 'external',
  sourcemap: true,
  logLevel: 'warning',
};

const jobs = [
  {
    ...node,
    entryPoints: [`${root}host/cli/main.ts`],
    outfile: `${out}/cli/main.js`,
    banner: { js: '#!/usr/bin/env node' },
  },
  {
    ...node,
    entryPoints: [`${root}firmware-ts/board/simulated/main.ts`],
    outfile: `${out}/box/simulated.js`,
  },
  {
    ...node,
    entryPoints: [`${root}firmware-ts/board/simulated/main.ts`],
    outfile: `${out}/box/first-build.js`,
    plugins: [firstBuild],
  },
  {
    ...node,
    entryPoints: [`${root}firmware-ts/board/simulated/cluster/main.ts`],
    outfile: `${out}/box/cluster.js`,
  },
  {
    ...node,
    entryPoints: [`${root}firmware-ts/board/pico/emulator/main.ts`],
    outfile: `${out}/chip/main.js`,
  },
  {
    ...node,
    entryPoints: [`${root}host/server/findings/compute-thread.ts`],
    outfile: `${out}/cli/compute-thread.js`,
  },
  {
    ...node,
    entryPoints: [`${root}host/server/catalogue/catalogue-thread.ts`],
    outfile: `${out}/cli/catalogue-thread.js`,
  },
  {
    ...node,
    entryPoints: [`${root}host/server/record/record-thread.ts`],
    outfile: `${out}/cli/record-thread.js`,
  },
  {
    bundle: true,
    platform: 'browser',
    format: 'esm',
    target: ['chrome109', 'firefox115', 'safari16'],
    entryPoints: [
      `${root}host/web/main.tsx`,
      `${root}host/web/style/sheet.css`,
      `${root}host/web/style/night.css`,
    ],
    outdir: `${out}/web`,
    splitting: true,
    chunkNames: 'parts/[name]-[hash]',
    assetNames: 'fonts/[name]-[hash]',
    loader: { '.woff2': 'file' },
    minify: true,
    sourcemap: true,
    jsx: 'automatic',
    jsxImportSource: 'preact',
    logLevel: 'warning',
  },
];

/** A second compressor over the page's scripts: 4 % less to carry to a phone. The maps still lead back to the sources. */
async function compressPage() {
  const parts = (await readdir(`${out}/web/parts`)).filter((name) => name.endsWith('.js'));
  for (const name of ['main.js', ...parts.map((part) => `parts/${part}`)]) await compress(name);
}

async function compress(name) {
  const script = `${out}/web/${name}`;
  const content = await readFile(`${script}.map`, 'utf8');
  const { code, map } = await minify(await readFile(script, 'utf8'), {
    ecma: 2020,
    module: true,
    compress: { passes: 2 },
    sourceMap: { content, url: `${basename(name)}.map` },
  });
  await Promise.all([writeFile(script, code), writeFile(`${script}.map`, map)]);
}

/** The page, with the names its fonts bear since they bear their content: what it loads first it can name at once. */
async function writePage() {
  let page = await readFile(`${root}host/web/index.html`, 'utf8');
  for (const font of await readdir(`${out}/web/fonts`))
    page = page.replace(font.replace(/-[A-Z0-9]+\.woff2$/, '.woff2'), font);
  await writeFile(`${out}/web/index.html`, page);
}

// `node host/build.mjs web` builds the jobs whose entry path contains the word, for work on one part.
const [only = ''] = process.argv.slice(2);
for (const job of jobs) {
  const [entry] = job.entryPoints;
  if (!existsSync(entry) || !entry.slice(root.length).includes(only)) continue;
  // Parts bear their content in their names: those of the build before would stay for ever.
  if (job.platform === 'browser')
    for (const named of ['parts', 'fonts']) await rm(`${out}/web/${named}`, { recursive: true, force: true });
  await build(job);
  if (job.platform === 'browser') await Promise.all([compressPage(), writePage()]);
}
if (existsSync(`${out}/cli/main.js`)) await chmod(`${out}/cli/main.js`, 0o755);

// What the microcontroller runs, in one file: for its size, and for anyone who wants to look at it.
await mkdir(`${out}/firmware`, { recursive: true });
const firmware = await firmwareBundle(`${root}firmware-ts/main.ts`);
await writeFile(`${out}/firmware/box.js`, firmware.text);
const first = await firmwareBundle(`${root}firmware-ts/main.ts`, { board: 'first-build' });
await mkdir(`${out}/firmware/first-build`, { recursive: true });
await writeFile(`${out}/firmware/first-build/box.js`, first.text);
for (const board of ['reference', 'first-build']) {
  const { text } = await firmwareBundle(`${root}firmware-ts/main.ts`, { board, converter: 'second' });
  await mkdir(`${out}/firmware/second-converter/${board}`, { recursive: true });
  await writeFile(`${out}/firmware/second-converter/${board}/box.js`, text);
}
