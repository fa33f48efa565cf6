// Bundles the firmware as one script. Names are kept: on the chip they lie in flash, once each, and cost next to no time.
import { build } from 'esbuild';
import { fileURLToPath } from 'node:url';

/**
 * One script of an entry and all it imports, without comments and spaces.
 * @param {string} entry absolute path
 * @param {{ format?: 'esm' | 'iife' }} [options]
 * @returns {Promise<{ text: string, bytes: number }>}
 */
export async function firmwareBundle(entry, { format = 'esm' } = {}) {
  const bundle = await build({
    entryPoints: [entry],
    absWorkingDir: fileURLToPath(new URL('..', import.meta.url)),
    bundle: true,
    format,
    target: 'es2022',
    write: false,
    logLevel: 'silent',
    minify: true,
  });
  const { text } = bundle.outputFiles[0];
  return { text, bytes: Buffer.byteLength(text) };
}
