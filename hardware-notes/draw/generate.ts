import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { drawAll } from './drawings';

/** Writes every drawing below `folder`; answers with the names written. */
export function writeAll(folder: string): string[] {
  const drawings = join(folder, 'drawings');
  mkdirSync(drawings, { recursive: true });
  return drawAll().map(([file, svg]) => {
    writeFileSync(join(drawings, file), svg);
    return `drawings/${file}`;
  });
}
