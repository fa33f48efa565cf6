// Bundles the firmware as one script. Names are kept: on the chip they lie in flash, once each, and cost next to no time.
import { build } from 'esbuild';
import { fileURLToPath } from 'node:url';

/** The first build's data in place of the reference design, for whoever imports it but the first build itself. */
export const firstBuild = {
  name: 'first-build',
  setup({ onResolve }) {
    const own = fileURLToPath(new URL('../firmware-ts/board/first-build/', import.meta.url));
    onResolve({ filter: /(?:^|\/)reference-design$/ }, ({ importer }) =>
      importer.startsWith(own) ? undefined : { path: `${own}reference-design.ts` },
    );
  },
};

/** The driver of the second converter in place of the usual one, for whoever imports that. */
const secondConverter = {
  name: 'second-converter',
  setup({ onResolve }) {
    const path = fileURLToPath(new URL('../firmware-ts/meter/second-converter.ts', import.meta.url));
    onResolve({ filter: /(?:^\.|\/meter)\/converter$/ }, ({ path: asked, importer }) =>
      `${asked} ${importer}`.includes('/meter/') ? { path } : undefined,
    );
  },
};

/**
 * One script of an entry and all it imports, without comments and spaces.
 * @param {string} entry absolute path
 * @param {{ format?: 'esm' | 'iife', board?: 'reference' | 'first-build', converter?: 'first' | 'second' }} [options]
 * @returns {Promise<{ text: string, bytes: number }>}
 */
export async function firmwareBundle(
  entry,
  { format = 'esm', board = 'reference', converter = 'first' } = {},
) {
  const bundle = await build({
    entryPoints: [entry],
    absWorkingDir: fileURLToPath(new URL('..', import.meta.url)),
    bundle: true,
    format,
    target: 'es2022',
    write: false,
    logLevel: 'silent',
    minify: true,
    plugins: [
      ...(board === 'first-build' ? [firstBuild] : []),
      ...(converter === 'second' ? [secondConverter] : []),
    ],
  });
  const { text } = bundle.outputFiles[0];
  return { text, bytes: Buffer.byteLength(text) };
}
