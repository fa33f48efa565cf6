import { chmod } from 'node:fs/promises';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { build } from 'esbuild';

/** Bundles a program of this folder into one that Node runs, readable by every user; answers where it lies. */
export async function builtProgram(name: string, folder: string): Promise<string> {
  const outfile = join(folder, `${name}.mjs`);
  await build({
    entryPoints: [fileURLToPath(new URL(`${name}.ts`, import.meta.url))],
    outfile,
    bundle: true,
    platform: 'node',
    format: 'esm',
    target: 'node20',
    logLevel: 'error',
  });
  await chmod(outfile, 0o644);
  return outfile;
}
