// Redraws hardware-notes/drawings/*.svg and the generated tables: node hardware-notes/draw/generate.mjs
import { build } from 'esbuild';

const root = new URL('../..', import.meta.url).pathname;
const outfile = `${root}.build/hardware/outputs.js`;

await build({
  entryPoints: [`${root}hardware-notes/draw/outputs.ts`],
  bundle: true,
  platform: 'node',
  format: 'esm',
  target: 'node20',
  outfile,
  logLevel: 'warning',
});
const { writeAll } = await import(`file://${outfile}`);
for (const name of writeAll(`${root}hardware-notes`)) process.stdout.write(`${name}\n`);
