import { spawn } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { build } from 'esbuild';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { expect } from 'vitest';
import { Catalogue, openPostgres, sync, verify } from '../../host/store/catalogue';
import { hashOf } from '../../host/store/catalogue/keeper';
import { scratchFolder } from './scratch';

const AT = '2030-01-01T00:00:00.000Z';
const MOST_LINES = 10;
const LONGEST_DELAY_MS = 4;
/** Fits of cards take a while: so many, drawn by the order of arrival, are compared with what the killed programs kept. */
const WORKED_OUT = 8;

/** Runs the program, kills it a drawn moment after a drawn number of lines, answers the names it acknowledged. */
async function killed(
  words: readonly string[],
  uniform: () => number,
  longestMs = LONGEST_DELAY_MS,
): Promise<string[]> {
  const child = spawn(process.execPath, words);
  let told = '';
  child.stderr.on('data', (data: unknown) => (told += String(data)));
  const ended = new Promise<NodeJS.Signals | null>((resolve) =>
    child.on('close', (_code, signal) => resolve(signal)),
  );
  const acknowledged: string[] = [];
  const killAt = 1 + Math.floor(uniform() * MOST_LINES);
  const delayMs = uniform() * longestMs;
  let lines = 0;
  for await (const line of createInterface({ input: child.stdout })) {
    acknowledged.push(...line.split(' '));
    lines += 1;
    if (lines === killAt) setTimeout(() => child.kill('SIGKILL'), delayMs);
  }
  expect([await ended, told]).toEqual(['SIGKILL', '']);
  return acknowledged;
}

/** Inside the project, so that it finds the library that no bundle can hold. */
export async function keepingProgram(): Promise<string> {
  const outfile = fileURLToPath(new URL('../../.test-output/killed-catalogue.mjs', import.meta.url));
  await build({
    entryPoints: [fileURLToPath(new URL('killed-catalogue.ts', import.meta.url))],
    ...{ outfile, bundle: true, platform: 'node', format: 'esm', target: 'node20', logLevel: 'error' },
    packages: 'external',
  });
  return outfile;
}

/** The file is sound, every text is what its name was made of, and nothing that was acknowledged is missing. */
export function expectWhole(catalogue: Catalogue, acknowledged: Iterable<string>): void {
  expect(catalogue.keeper.faults()).toEqual([]);
  const kept = catalogue.keeper.since(0);
  expect(kept.filter(({ hash, body }) => hashOf(body) !== hash)).toEqual([]);
  const there = new Set(kept.map(({ hash }) => hash));
  expect([...acknowledged].filter((name) => !there.has(name))).toEqual([]);
}

/** Works some cards out beside what is worked out already; all that is there must be what a fresh fit gives. */
export function expectRebuilt(catalogue: Catalogue): void {
  let asked = 0;
  catalogue.workOut(() => (asked += 1) > WORKED_OUT);
  const before = catalogue.entries();
  expect(before.filter(({ search }) => search !== undefined).length).toBeGreaterThan(0);
  expect(verify(catalogue).faults).toEqual([]);
}

/** Kills a program that keeps documents, one by one or as an import does; each goes on where the one before was killed. */
export async function catalogueSurvivesKills(
  mode: 'add' | 'import',
  count: number,
  uniform: () => number,
): Promise<void> {
  const folder = await scratchFolder();
  const program = await keepingProgram();
  const acknowledged = new Set<string>();
  for (let round = 0; round < count; round += 1) {
    for (const name of await killed([program, folder, String(acknowledged.size), mode], uniform))
      acknowledged.add(name);
    const catalogue = await Catalogue.open(folder, 'test');
    expectWhole(catalogue, acknowledged);
    // All of an import or nothing of it.
    if (mode === 'import') expect(catalogue.keeper.count() % 50).toBe(0);
    if (round === count - 1) expectRebuilt(catalogue);
    catalogue.close();
  }
}

async function synced(catalogue: Catalogue, url: string): Promise<void> {
  const server = await openPostgres(url);
  try {
    await sync(catalogue, server, AT);
  } finally {
    await server.close();
  }
}

const textsOf = (catalogue: Catalogue): string[] =>
  catalogue.keeper
    .since(0)
    .map(({ body }) => body)
    .sort();

/**
 * Kills benches, two in turn, while they synchronise with one server: nothing acknowledged is missing on the bench or on
 * the server, and in the end both, and a third that starts with nothing, have the same.
 */
export async function syncSurvivesKills(url: string, count: number, uniform: () => number): Promise<void> {
  const program = await keepingProgram();
  const folders = [join(await scratchFolder(), 'left'), join(await scratchFolder(), 'right')];
  const acknowledged = folders.map(() => new Set<string>());
  for (let round = 0; round < count; round += 1) {
    const bench = round % folders.length;
    const [folder = '', mine = new Set<string>()] = [folders[bench], acknowledged[bench]];
    for (const name of await killed([program, folder, String(mine.size), 'sync', url], uniform, 30))
      mine.add(name);
    const catalogue = await Catalogue.open(folder, 'test');
    expectWhole(catalogue, mine);
    catalogue.close();
    const server = await openPostgres(url);
    const there = new Set((await server.rows(`select encode(hash, 'hex') from document`)).map(String));
    await server.close();
    expect([...mine].filter((name) => !there.has(name))).toEqual([]);
  }
  await sameAtLast(folders, url);
}

async function sameAtLast(folders: readonly string[], url: string): Promise<void> {
  const benches = await Promise.all(
    [...folders, join(await scratchFolder(), 'third')].map((folder) => Catalogue.open(folder, 'test')),
  );
  for (const bench of [...benches, ...benches]) await synced(bench, url);
  const [first = [], ...others] = benches.map(textsOf);
  for (const other of others) expect(other).toEqual(first);
  for (const bench of benches) bench.close();
}
