import { expect, it } from 'vitest';
import {
  isSaidSound,
  pairFaults,
  partsOf,
  runVehicle,
  singleFaults,
  type Round,
  type Run,
} from '../support/diagnosis-runs';
import { addRow, medianOf } from './table';

/** A seed on which nothing was tuned: the day of the run. */
const FRESH_SEED = Math.floor(Date.now() / 86_400_000);
const PER_CAUSE = 11;
const PAIRS = 240;
/** A fault that moves the needle less is nobody's complaint, part of the scale. */
const WORTH = 0.06;

const rowOf = (what: string, measured: string, goal: string): void =>
  addRow({ part: 'diagnosis', what, measured, goal });
const share = (part: readonly unknown[], all: readonly unknown[]): string =>
  `${((100 * part.length) / Math.max(1, all.length)).toFixed(1)} %`;

const firstOf = ({ last }: Run): string | undefined => last.suspects[0]?.part;
const isRight = (run: Run): boolean => partsOf(run).some((part) => part === firstOf(run));
const isInTwo = (run: Run): boolean =>
  run.last.suspects.slice(0, 2).some(({ part }) => partsOf(run).includes(part));
const isSaidRight = (run: Run): boolean => run.last.named.every(({ part }) => partsOf(run).includes(part));

const round = (seed: number, way: Round['way'] = 'box'): Round => ({ seed, way, wrongDigits: 0.01 });

it('finds which part lies in vehicles of a world that it does not know', () => {
  const runs = singleFaults(PER_CAUSE).map(({ family, faults }, index) =>
    runVehicle(family, faults, round(FRESH_SEED * 10_000 + index), () => performance.now()),
  );
  const said = runs.filter(({ last }) => last.verdict === 'is');
  const good = runs.filter(({ faults }) => faults.length === 0);
  const worth = runs.filter(({ faults, worth: size }) => faults.length > 0 && size > WORTH);
  const times = runs.flatMap(({ decisions }) => decisions).sort((one, two) => one - two);
  const minutes = runs.map(({ last }) => last.minutes).sort((one, two) => one - two);
  const many = `${runs.length} vehicles, seed ${FRESH_SEED}`;
  rowOf(
    `right part first; in the first two; ${many}`,
    `${share(runs.filter(isRight), runs)}; ${share(runs.filter(isInTwo), runs)}`,
    '93; 98 %',
  );
  rowOf(
    'says "It is"; and is right then',
    `${share(said, runs)}; ${share(said.filter(isSaidRight), said)}`,
    'right 96 %',
  );
  rowOf(
    `good vehicles: a false conclusion; ${good.length}`,
    share(
      good.filter((run) => run.last.verdict === 'is' && !isSaidSound(run)),
      good,
    ),
    '2 %',
  );
  rowOf('a fault worth over 6 % of the scale called sound', share(worth.filter(isSaidSound), worth), '1.5 %');
  rowOf(
    'tests; minutes: median, good vehicles, nine in ten',
    `${medianOf(runs.map(({ tests }) => tests))}; ${medianOf(minutes).toFixed(1)}, ${medianOf(good.map(({ last }) => last.minutes)).toFixed(1)}, ${(minutes[Math.floor(0.9 * minutes.length)] ?? 0).toFixed(1)}`,
    'median 12 min',
  );
  rowOf(
    'a decision: median, worst of twenty, worst (pairs drawn)',
    `${[0.5, 0.95, 1].map((part) => (times[Math.min(times.length - 1, Math.floor(part * times.length))] ?? 0).toFixed(0)).join(', ')} ms`,
    '50 ms',
  );
  for (const word of ['most-likely', 'between'] as const) {
    const those = runs.filter(({ last }) => last.verdict === word);
    rowOf(
      `ends with "${word}": so often; first part right`,
      `${share(those, runs)}; ${share(those.filter(isRight), those)}`,
      word === 'most-likely' ? '80 to 95 %' : '',
    );
  }
  expect(runs.filter(isRight).length / runs.length).toBeGreaterThan(0.9);
});

it('names one of two faults', () => {
  const runs = pairFaults(PAIRS, FRESH_SEED).map(({ family, faults }, index) =>
    runVehicle(family, faults, round(FRESH_SEED * 20_000 + index)),
  );
  const both = runs.filter((run) =>
    partsOf(run).every((part) => run.last.suspects.slice(0, 2).some((each) => each.part === part)),
  );
  rowOf(
    `two faults: one of them first; both in the first two; ${PAIRS} vehicles`,
    `${share(runs.filter(isRight), runs)}; ${share(both, runs)}`,
    '98 %; -',
  );
  expect(runs.filter(isRight).length / runs.length).toBeGreaterThan(0.9);
});

it.each([
  ['meter', 2, '90 %'],
  ['resistors', 1, ''],
  ['looking', 1, ''],
] as const)('works with %s alone', (way, perCause, goal) => {
  const runs = singleFaults(perCause).map(({ family, faults }, index) =>
    runVehicle(family, faults, round(FRESH_SEED * 30_000 + index, way)),
  );
  const said = runs.filter(({ last }) => last.verdict === 'is');
  rowOf(
    `${way}: right part first; in the first two; says "It is", right then; ${runs.length} vehicles`,
    `${share(runs.filter(isRight), runs)}; ${share(runs.filter(isInTwo), runs)}; ${share(said, runs)}, ${share(said.filter(isSaidRight), said)}`,
    goal,
  );
  expect(runs.length).toBeGreaterThan(100);
});
