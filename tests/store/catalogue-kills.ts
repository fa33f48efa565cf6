import { spawn } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { build } from 'esbuild';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { expect } from 'vitest';
import { hashOf, Keeper } from '../../host/store/catalogue/keeper';
import { openSqlite } from '../../host/store/catalogue/sqlite';
import { scratchFolder } from './scratch';

const MOST_LINES = 10;
const LONGEST_DELAY_MS = 4;

/** Runs the program, kills it a drawn moment after a drawn number of lines, answers the names it acknowledged. */
async function killed(words: readonly string[], uniform: () => number): Promise<string[]> {
  const child = spawn(process.execPath, words);
  const ended = new Promise<NodeJS.Signals | null>((resolve) =>
    child.on('close', (_code, signal) => resolve(signal)),
  );
  const acknowledged: string[] = [];
  const killAt = 1 + Math.floor(uniform() * MOST_LINES);
  const delayMs = uniform() * LONGEST_DELAY_MS;
  let lines = 0;
  for await (const line of createInterface({ input: child.stdout })) {
    acknowledged.push(...line.split(' '));
    lines += 1;
    if (lines === killAt) setTimeout(() => child.kill('SIGKILL'), delayMs);
  }
  expect(await ended).toBe('SIGKILL');
  return acknowledged;
}

/** Inside the project, so that it finds the library that no bundle can hold. */
async function built(): Promise<string> {
  const outfile = fileURLToPath(new URL('../../.test-output/killed-catalogue.mjs', import.meta.url));
  await build({
    entryPoints: [fileURLToPath(new URL('killed-catalogue.ts', import.meta.url))],
    ...{ outfile, bundle: true, platform: 'node', format: 'esm', target: 'node20', logLevel: 'error' },
    packages: 'external',
  });
  return outfile;
}

/** Kills a program that keeps documents, one by one or as an import does; each goes on where the one before was killed. */
export async function catalogueSurvivesKills(
  batch: number,
  count: number,
  uniform: () => number,
): Promise<void> {
  const folder = await scratchFolder();
  const program = await built();
  const path = join(folder, 'catalogue.sqlite');
  const acknowledged = new Set<string>();
  for (let round = 0; round < count; round += 1) {
    for (const name of await killed([program, path, String(acknowledged.size), String(batch)], uniform))
      acknowledged.add(name);
    const keeper = new Keeper(await openSqlite(path));
    const kept = keeper.since(0);
    expect(keeper.faults()).toEqual([]);
    expect(kept.every(({ hash, body }) => hashOf(body) === hash)).toBe(true);
    const there = new Set(kept.map(({ hash }) => hash));
    expect([...acknowledged].filter((name) => !there.has(name))).toEqual([]);
    // All of a batch or nothing of it.
    expect(kept.length % batch).toBe(0);
    keeper.close();
  }
}
