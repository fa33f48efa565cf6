import { mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { drawAll } from './drawings';
import { allTables, fillTables } from './tables';

export type Output = { readonly path: string; readonly text: string };

/** Everything generated below `folder`, as it should be: drawings, and documents with their tables filled. */
export function outputs(folder: string): Output[] {
  const drawings = drawAll().map(([file, text]) => ({ path: join('drawings', file), text }));
  const tables = allTables();
  const documents = readdirSync(folder)
    .filter((name) => name.endsWith('.md'))
    .sort()
    .map((path) => ({ path, text: fillTables(readFileSync(join(folder, path), 'utf8'), tables) }));
  return [...drawings, ...documents];
}

/** Writes them; answers with the names written. */
export function writeAll(folder: string): string[] {
  mkdirSync(join(folder, 'drawings'), { recursive: true });
  return outputs(folder).map(({ path, text }) => {
    writeFileSync(join(folder, path), text);
    return path;
  });
}
