import { mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { drawAll } from './drawings';
import { circuit } from '../circuit/circuit';
import { firstCircuit } from '../circuit/first-build';
import { kicadNetlist } from '../circuit/kicad-netlist';
import { allTables, fillTables } from './tables';

export type Output = { readonly path: string; readonly text: string };

/** Everything generated below `folder`, as it should be: drawings, netlist, and documents with their tables filled. */
export function outputs(folder: string): Output[] {
  const drawings = drawAll().map(([file, text]) => ({ path: join('drawings', file), text }));
  const netlists = [
    ['box.net', kicadNetlist(circuit, 'Needlewright, the box')] as const,
    ['first-build.net', kicadNetlist(firstCircuit, 'Needlewright, the first build')] as const,
  ].map(([file, text]) => ({ path: join('netlist', file), text }));
  const tables = allTables();
  const documents = readdirSync(folder)
    .filter((name) => name.endsWith('.md'))
    .sort()
    .map((path) => ({ path, text: fillTables(readFileSync(join(folder, path), 'utf8'), tables) }));
  return [...drawings, ...netlists, ...documents];
}

/** Writes them; answers with the names written. */
export function writeAll(folder: string): string[] {
  for (const name of ['drawings', 'netlist']) mkdirSync(join(folder, name), { recursive: true });
  return outputs(folder).map(({ path, text }) => {
    writeFileSync(join(folder, path), text);
    return path;
  });
}
