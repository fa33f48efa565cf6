import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { dirname, join, normalize } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';

const root = fileURLToPath(new URL('..', import.meta.url));

/**
 * Rooms of a folder, lowest first: a room imports itself and the rooms before it. What lies beside the rooms imports
 * any of them; a room imports of it only what `ground` names (types that all rooms share) and files that are named
 * among the rooms before it.
 */
const houses: Readonly<
  Record<string, { readonly rooms: readonly string[]; readonly ground: readonly string[] }>
> = {
  'host/core/network': { rooms: ['closed-form', 'search', 'circuit', 'report'], ground: ['remarks.ts'] },
  'host/core/curve': {
    rooms: ['readings', 'laws', 'spline', 'choice', 'report'],
    ground: ['types.ts', 'remarks.ts'],
  },
  'host/cli': {
    rooms: ['input', 'output', 'commands'],
    ground: ['command.ts', 'options.ts', 'input-error.ts', 'program-end.ts'],
  },
  'host/web': {
    rooms: [
      'connection',
      'parts',
      'dial',
      'entry',
      'plot',
      'drawing',
      'app.ts',
      'stations',
      'frame',
      'home',
      'catalogue',
      'cluster',
      'style',
    ],
    ground: ['signal.ts'],
  },
  'host/record': {
    rooms: [
      'paper',
      'plots',
      'model',
      'sheets',
      'files',
      'record-mark.ts',
      'job-sum.ts',
      'record-file.ts',
      'cluster-file.ts',
      'verify.ts',
      'plot-file.ts',
    ],
    ground: [],
  },
  'host/job': {
    rooms: ['schema', 'state', 'hook-up.ts', 'proof', 'findings.ts', 'check', 'stations.ts', 'wire'],
    ground: [],
  },
  'host/bench': {
    rooms: ['box', 'people', 'sender', 'sweep', 'hand', 'decide', 'calibrate', 'cluster'],
    ground: ['rules.ts', 'clock.ts'],
  },
};

/** Parts in which no files import each other in a circle, types included. */
const withoutCircles = ['host'];

const sourcesIn = (folder: string): string[] =>
  readdirSync(join(root, folder), { recursive: true, encoding: 'utf8' })
    .map((name) => join(folder, name))
    .filter((name) => /\.tsx?$/.test(name) && !name.endsWith('.d.ts') && !name.includes('node_modules'));

const fileOf = (path: string): string | undefined =>
  [`${path}.ts`, `${path}.tsx`, `${path}/index.ts`].find((name) => existsSync(join(root, name)));

/** Files of ours that a file imports, types included. */
function importsOf(file: string): string[] {
  const pattern = /(?:\bfrom\s+|\bimport\(?\s*)['"](\.[^'"]+)['"]/g;
  return [...readFileSync(join(root, file), 'utf8').matchAll(pattern)].flatMap(
    (match) => fileOf(normalize(join(dirname(file), match[1] ?? ''))) ?? [],
  );
}

type Imports = ReadonlyMap<string, readonly string[]>;

const importsIn = (folder: string): Imports =>
  new Map(sourcesIn(folder).map((file) => [file, importsOf(file)]));

/** The room of a file below `house`; its name alone when it lies beside the rooms. */
const roomOf = (house: string, file: string): string => file.slice(house.length + 1).split('/')[0] ?? '';

function wrongDoors(house: string, imports: Imports): string[] {
  const { rooms, ground } = houses[house] ?? { rooms: [], ground: [] };
  return [...imports].flatMap(([file, targets]) => {
    const from = rooms.indexOf(roomOf(house, file));
    if (from < 0) return [];
    return targets
      .filter((target) => target.startsWith(`${house}/`))
      .filter((target) => {
        const to = rooms.indexOf(roomOf(house, target));
        return to < 0 ? !ground.includes(roomOf(house, target)) : to > from;
      })
      .map((target) => `${file} imports ${target}`);
  });
}

/** Groups of files each of which can be reached from each other. Source: depth-first search, Tarjan (1972). */
function circles(imports: Imports): string[][] {
  const index = new Map<string, number>();
  const low = new Map<string, number>();
  const stack: string[] = [];
  const found: string[][] = [];
  const visit = (file: string): void => {
    index.set(file, index.size);
    low.set(file, index.get(file) ?? 0);
    stack.push(file);
    for (const target of imports.get(file) ?? []) {
      if (!imports.has(target)) continue;
      if (!index.has(target)) visit(target);
      if (stack.includes(target)) low.set(file, Math.min(low.get(file) ?? 0, low.get(target) ?? 0));
    }
    if (low.get(file) !== index.get(file)) return;
    const group = stack.splice(stack.indexOf(file));
    if (group.length > 1 || imports.get(file)?.includes(file) === true) found.push(group.sort());
  };
  for (const file of imports.keys()) if (!index.has(file)) visit(file);
  return found;
}

describe('the rooms of a part', () => {
  it.each(Object.keys(houses))('of %s are entered in one direction only', (house) => {
    const imports = importsIn(house);
    expect(imports.size).toBeGreaterThan(10);
    expect(wrongDoors(house, imports)).toEqual([]);
  });

  it.each(Object.entries(houses))('of %s are the folders that are there', (house, { rooms }) => {
    const folders = readdirSync(join(root, house), { withFileTypes: true })
      .filter((entry) => entry.isDirectory())
      .map((entry) => entry.name);
    const named = rooms.filter((room) => !room.endsWith('.ts'));
    expect(named.sort()).toEqual(folders.sort());
  });

  it('would refuse a way back up, and a room that takes what lies beside it', () => {
    const planted = new Map([
      ['host/core/network/closed-form/a.ts', ['host/core/network/report/b.ts', 'host/core/network/trim.ts']],
    ]);
    expect(wrongDoors('host/core/network', planted)).toHaveLength(2);
  });
});

describe('import circles', () => {
  it.each(withoutCircles)('there are none in %s', (part) => {
    const imports = importsIn(part);
    expect([...imports.values()].flat().length).toBeGreaterThan(100);
    expect(circles(imports)).toEqual([]);
  });

  it('would be seen: of two files, of three, of one', () => {
    const planted = new Map([
      ['a', ['b']],
      ['b', ['a', 'c']],
      ['c', ['d']],
      ['d', ['e']],
      ['e', ['c']],
      ['f', ['f']],
      ['g', ['a']],
    ]);
    expect(circles(planted)).toEqual([['c', 'd', 'e'], ['a', 'b'], ['f']]);
  });
});
