import { expect, it } from 'vitest';
import type { Way } from '../../host/core/diagnosis';
import { goOnWith, type Case, type Outcome } from '../support/diagnosis-parts';
import { pairFaults, singleFaults } from '../support/diagnosis-runs';
import { addRow, medianOf } from './table';

/** A seed on which nothing was tuned: the day of the first go, or the one that is to be gone on with. */
const FRESH_SEED = Number(process.env['DIAGNOSIS_SEED'] ?? Math.floor(Date.now() / 86_400_000));
/** A table of thousands takes most of an hour: each go adds to it for so long, and the next one goes on. */
const MINUTES = Number(process.env['DIAGNOSIS_MINUTES'] ?? 8);
const MS_PER_MINUTE = 60_000;
const PER_CAUSE = 11;
const PAIRS = 240;
/** A fault that moves the needle less is nobody's complaint, part of the scale. */
const WORTH = 0.06;

const rowOf = (what: string, measured: string, goal: string): void =>
  addRow({ part: 'diagnosis', what, measured, goal });
const share = (part: readonly unknown[], all: readonly unknown[]): string =>
  `${((100 * part.length) / Math.max(1, all.length)).toFixed(1)} %`;

const firsts = (runs: readonly Outcome[]) => runs.filter(({ isFirst }) => isFirst);
const inTwo = (runs: readonly Outcome[]) => runs.filter(({ isInTwo }) => isInTwo);
const saidOf = (runs: readonly Outcome[]) => runs.filter(({ verdict }) => verdict === 'is');
const rightOf = (runs: readonly Outcome[]) => saidOf(runs).filter(({ isSaidRight }) => isSaidRight);

type Part = { readonly name: string; readonly cases: readonly Case[]; readonly minutesPart: number };

const NAMES = ['single', 'pairs', 'meter', 'resistors', 'looking', 'priors'];
const SEEDS_A_PART = 10_000;
const seedOf = (name: string): number => SEEDS_A_PART * (FRESH_SEED * NAMES.length + NAMES.indexOf(name));

/** Goes on with one part of the table. Each vehicle has a seed of its own, fresh with the table's. */
const table = ({ name, cases, minutesPart }: Part, way: Way = 'box') =>
  goOnWith(
    { name: `${FRESH_SEED}-${name}`, cases, seed: seedOf(name), way, hasWrongPriors: name === 'priors' },
    MINUTES * MS_PER_MINUTE * minutesPart,
  );
const soFar = (runs: readonly Outcome[], cases: readonly Case[]): string =>
  runs.length < cases.length
    ? `${runs.length} of ${cases.length} vehicles, seed ${FRESH_SEED}: run it again to go on`
    : `${runs.length} vehicles, seed ${FRESH_SEED}`;

it('finds which part lies in vehicles of a world that it does not know', () => {
  const cases = singleFaults(PER_CAUSE);
  const runs = table({ name: 'single', cases, minutesPart: 0.55 });
  const good = runs.filter(({ isFaulty }) => !isFaulty);
  const worth = runs.filter(({ isFaulty, worth: size }) => isFaulty && size > WORTH);
  const times = runs.flatMap(({ decisionsMs }) => decisionsMs).sort((one, two) => one - two);
  const minutes = runs.map((run) => run.minutes).sort((one, two) => one - two);
  rowOf(
    `right part first; in the first two; ${soFar(runs, cases)}`,
    `${share(firsts(runs), runs)}; ${share(inTwo(runs), runs)}`,
    '93; 98 %',
  );
  rowOf(
    'says "It is"; and is right then',
    `${share(saidOf(runs), runs)}; ${share(rightOf(runs), saidOf(runs))}`,
    'right 96 %',
  );
  rowOf(
    `good vehicles: a false conclusion; ${good.length}`,
    share(
      saidOf(good).filter(({ isSaidSound }) => !isSaidSound),
      good,
    ),
    '2 %',
  );
  rowOf(
    'a fault worth over 6 % of the scale called sound',
    share(
      worth.filter(({ isSaidSound }) => isSaidSound),
      worth,
    ),
    '1.5 %',
  );
  rowOf(
    'tests; minutes: median, good vehicles, nine in ten',
    `${medianOf(runs.map(({ tests }) => tests))}; ${medianOf(minutes).toFixed(1)}, ${medianOf(good.map((run) => run.minutes)).toFixed(1)}, ${(minutes[Math.floor(0.9 * minutes.length)] ?? 0).toFixed(1)}`,
    'median 12 min',
  );
  rowOf(
    'a decision, of the processor\u2019s time: median, worst of twenty, worst (a cloud of pairs drawn)',
    `${[0.5, 0.95, 1].map((part) => (times[Math.min(times.length - 1, Math.floor(part * times.length))] ?? 0).toFixed(0)).join(', ')} ms`,
    '50 ms',
  );
  for (const word of ['most-likely', 'between'] as const) {
    const those = runs.filter(({ verdict }) => verdict === word);
    rowOf(
      `ends with "${word}": so often; first part right`,
      `${share(those, runs)}; ${share(firsts(those), those)}`,
      word === 'most-likely' ? '80 to 95 %' : '',
    );
  }
  expect(firsts(runs).length / runs.length).toBeGreaterThan(0.9);
});

it('names one of two faults', () => {
  const cases = pairFaults(PAIRS, FRESH_SEED);
  const runs = table({ name: 'pairs', cases, minutesPart: 0.2 });
  rowOf(
    `two faults: one of them first; both in the first two; ${soFar(runs, cases)}`,
    `${share(firsts(runs), runs)}; ${share(
      runs.filter(({ areBothInTwo }) => areBothInTwo),
      runs,
    )}`,
    '98 %; -',
  );
  const again = runs.map(({ allMinutes = 0 }) => allMinutes);
  rowOf(
    'two faults: both mended by mending and checking again; minutes in all, median',
    `${share(
      runs.filter(({ isWhole }) => isWhole === true),
      runs,
    )}; ${medianOf(again).toFixed(0)}`,
    '92 %; -',
  );
  expect(firsts(runs).length / runs.length).toBeGreaterThan(0.85);
});

const WAYS: Readonly<Record<string, readonly [way: Way, words: string]>> = {
  meter: ['meter', 'a meter and two resistors'],
  resistors: ['resistors', 'two resistors'],
  looking: ['looking', 'nothing but looking'],
  priors: ['box', 'a box, shares of the causes wrong by up to three times'],
};

it.each([
  ['meter', 2, '90 %'],
  ['resistors', 1, ''],
  ['looking', 1, ''],
  ['priors', 2, 'no more than 3 points less'],
] as const)('finds which part lies otherwise: %s', (name, perCause, goal) => {
  const [way = 'box', words = ''] = WAYS[name] ?? [];
  const cases = singleFaults(perCause);
  const runs = table({ name, cases, minutesPart: 0.06 }, way);
  rowOf(
    `with ${words}: right part first; in the first two; says "It is", right then; ${soFar(runs, cases)}`,
    `${share(firsts(runs), runs)}; ${share(inTwo(runs), runs)}; ${share(saidOf(runs), runs)}, ${share(rightOf(runs), saidOf(runs))}`,
    goal,
  );
  expect(runs.length).toBeGreaterThan(0);
});
