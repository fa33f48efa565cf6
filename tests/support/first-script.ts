import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { gzipSync } from 'node:zlib';

const web = new URL('../../.build/web/', import.meta.url);
const STATIC_IMPORT = /(?:from|import)\s*"(\.\/[^"]+\.js)"/g;

/** Bytes, gzipped, of the script that must be there before the first view is drawn: what is fetched later is not in it. */
export function firstScriptBytes(): number {
  const seen = new Set<string>();
  const waiting = [new URL('main.js', web).href];
  for (let url = waiting.pop(); url !== undefined; url = waiting.pop()) {
    if (seen.has(url)) continue;
    seen.add(url);
    const text = readFileSync(fileURLToPath(url), 'utf8');
    for (const [, path] of text.matchAll(STATIC_IMPORT)) waiting.push(new URL(path ?? '', url).href);
  }
  return [...seen].reduce((sum, url) => sum + gzipSync(readFileSync(fileURLToPath(url))).length, 0);
}
