import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { dirname, join, normalize } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';

const root = fileURLToPath(new URL('..', import.meta.url));

/** What only tests take, each with the reason why it may be taken. */
const FOR_TESTS: Readonly<Record<string, string>> = {
  'host/bench/calibrate/element-table.ts PRINTED_ELEMENT_OHM': 'held to the parts of the design',
  'host/bench/calibrate/element-table.ts PRINTED_LIMITER_OHM': 'held to the parts of the design',
  'host/bench/sender/self-heating-check.ts SENDING_MS': 'tests lend the clock this long',
  'host/cli/commands/hold.ts lookWords': 'what a keystroke means, without a terminal',
  'host/cli/input/box-options.ts SIMULATED_GAUGES': 'held to what the simulated box offers',
  'host/core/budget/monte-carlo.ts propagate': 'worked examples of JCGM 101 with models that are no sum',
  'host/core/ladder/setting.ts madeMilliohm': 'a setting against all combinations',
  'host/core/network/closed-form/three-point.ts curvatureOf': 'published vectors of the bilinear map',
  'host/core/network/closed-form/three-point.ts threeResistor': 'published vectors of the bilinear map',
  'host/core/network/search/proof-of-impossible.ts ohmForReading': 'the inverse of a needle, for brute force',
  'host/core/network/trim.ts searchAll': 'the search without its report, for brute force and the bench',
  'host/core/numeric/student-t.ts studentTCdf': 'published tables of the distribution',
  'host/core/preferred/rating.ts chooseRating': 'the worked example of a rating',
  'host/core/units.ts knownUnits': 'every unit is tried',
  'host/core/water/saturation.ts saturationPressure': 'the published verification table of IF97',
  'host/job/state/confirmations.ts confirmationsFor': 'what must be said first, per kind of job',
  'host/job/wire/host-messages.ts hostMessage': 'a screen of a test reads what the page reads',
  'host/link/serial-source.ts problemFromError': 'errors of operating systems, word by word',
  'host/server/findings/check-evidence.ts familyLaw': 'the stand-in law against its ends',
  'host/web/dial/templates.ts templates': 'every template makes a dial',
  'host/web/entry/entry.ts readingTyped': 'what a typed reading means, without a page',
  'host/words/word-list.ts wordList': 'the texts are held to it',
};
/** What is a detail of its file is tried through what the file is for. */
const MOST_FOR_TESTS = 22;

const sourcesIn = (folder: string): string[] =>
  readdirSync(join(root, folder), { recursive: true, encoding: 'utf8' })
    .map((name) => join(folder, name))
    .filter(
      (name) => /\.(tsx?|mjs)$/.test(name) && !name.endsWith('.d.ts') && !name.includes('node_modules'),
    );

const house = sourcesIn('host').filter((file) => /\.tsx?$/.test(file));
const users = [...sourcesIn('host'), ...sourcesIn('hardware-notes'), ...sourcesIn('firmware-ts')];
const tests = sourcesIn('tests');

const read = (file: string): string => readFileSync(join(root, file), 'utf8');

const fileOf = (from: string, specifier: string): string | undefined => {
  const path = normalize(join(dirname(from), specifier));
  return [`${path}.ts`, `${path}.tsx`, `${path}/index.ts`, path].find(
    (name) => /\.tsx?$/.test(name) && existsSync(join(root, name)),
  );
};

const namesIn = (list: string): string[] =>
  list
    .split(',')
    .map(
      (name) =>
        name
          .trim()
          .replace(/^type\s+/, '')
          .split(/\s+as\s+/)[0] ?? '',
    )
    .filter((name) => name !== '');

const isIndex = (file: string): boolean => file.endsWith('/index.ts');

type Taken = { readonly file: string; readonly name: string };

/** Names a file takes from others of ours: imports and re-exports by name. A star takes every name. */
function takenBy(file: string): Taken[] {
  const text = read(file);
  // An index only passes on: what it imports for itself counts, what it exports does not.
  const word = isIndex(file) ? 'import' : '(?:import|export)';
  const named = [
    ...text.matchAll(new RegExp(`${word}\\s+(?:type\\s+)?\\{([^}]*)\\}\\s*from\\s*'(\\.[^']+)'`, 'g')),
  ];
  const stars = [...text.matchAll(/import\s+\*\s+as\s+\w+\s+from\s*'(\.[^']+)'/g)];
  const loaded = [...text.matchAll(/import\(\s*'(\.[^']+)'\s*\)/g)];
  return [
    ...named.flatMap((match) => {
      const target = fileOf(file, match[2] ?? '');
      return target === undefined ? [] : namesIn(match[1] ?? '').map((name) => ({ file: target, name }));
    }),
    ...[...stars, ...loaded].flatMap((match) => {
      const target = fileOf(file, match[1] ?? '');
      return target === undefined ? [] : [{ file: target, name: '*' }];
    }),
  ];
}

/**
 * Values a file exports, and whether it makes them. Types are left out: they cost nothing and say what a function takes
 * and answers.
 */
function exportedBy(file: string): { readonly name: string; readonly isOwn: boolean }[] {
  const text = read(file);
  const own = [...text.matchAll(/^export\s+(?:async\s+)?(?:const|function\*?|class|let)\s+(\w+)/gm)].map(
    (match) => ({ name: match[1] ?? '', isOwn: true }),
  );
  const passed = [...text.matchAll(/^export\s+(?:type\s+)?\{([^}]*)\}/gm)].flatMap((match) =>
    namesIn(match[1] ?? '').map((name) => ({ name, isOwn: false })),
  );
  return [...own, ...passed];
}

/** Where a name that an index passes on is made, so that who takes it there takes it from the maker. */
function makerOf({ file, name }: Taken): Taken {
  if (!isIndex(file)) return { file, name };
  for (const match of read(file).matchAll(/export\s+(?:type\s+)?(\{[^}]*\}|\*)\s*from\s*'(\.[^']+)'/g)) {
    const target = fileOf(file, match[2] ?? '');
    if (target === undefined) continue;
    const passes =
      match[1] === '*'
        ? exportedBy(target).some((each) => each.name === name)
        : namesIn((match[1] ?? '').slice(1, -1)).includes(name);
    if (passes) return makerOf({ file: target, name });
  }
  return { file, name };
}

const key = ({ file, name }: Taken): string => `${file} ${name}`;

const takenIn = (files: readonly string[]): Set<string> =>
  new Set(files.flatMap(takenBy).map(makerOf).map(key));

const inHouse = takenIn(users);
const inTests = takenIn(tests);
const isTaken = (taken: ReadonlySet<string>, file: string, name: string): boolean =>
  taken.has(`${file} ${name}`) || taken.has(`${file} *`);

const exported = house
  .filter((file) => !isIndex(file))
  .flatMap((file) =>
    exportedBy(file)
      .filter(({ isOwn }) => isOwn)
      .map(({ name }) => ({ file, name })),
  );

describe('what the house exports', () => {
  it('is taken by somebody', () => {
    expect(exported.length).toBeGreaterThan(500);
    const unused = exported.filter(
      ({ file, name }) => !isTaken(inHouse, file, name) && !isTaken(inTests, file, name),
    );
    expect(unused.map(key)).toEqual([]);
  });

  it('is taken by the house itself, or by tests for a reason that is told', () => {
    const forTests = exported.filter(
      ({ file, name }) => !isTaken(inHouse, file, name) && isTaken(inTests, file, name),
    );
    expect(forTests.map(key).sort()).toEqual(Object.keys(FOR_TESTS).sort());
    expect(forTests.length).toBeLessThanOrEqual(MOST_FOR_TESTS);
  });
});
