import { appendFileSync, existsSync, mkdirSync, readFileSync } from 'node:fs';
import { z } from 'zod';
import type { FamilyName } from '../../host/core/diagnosis';
import type { CauseName } from '../../host/core/diagnosis/names';
import { randomSource } from '../../host/core/numeric/random';
import { isSaidSound, mendAndCheckAgain, partsOf, runVehicle, type Round } from './diagnosis-runs';

/** One vehicle of a table, by its number in the order of the table. */
export type Case = { readonly family: FamilyName; readonly faults: readonly CauseName[] };

const outcome = z.object({
  index: z.number(),
  isFaulty: z.boolean(),
  worth: z.number(),
  isFirst: z.boolean(),
  isInTwo: z.boolean(),
  areBothInTwo: z.boolean(),
  verdict: z.enum(['is', 'most-likely', 'between', 'no-circuit']),
  isSaidRight: z.boolean(),
  isSaidSound: z.boolean(),
  tests: z.number(),
  minutes: z.number(),
  decisionsMs: z.array(z.number()),
  /** Both faults mended by checking again, and the minutes that it took; only where that was tried. */
  isWhole: z.boolean().optional(),
  allMinutes: z.number().optional(),
});
/** What came of one vehicle, kept on the disk: a table of thousands is made in several goes. */
export type Outcome = z.infer<typeof outcome>;

const folder = new URL('../../.test-output/diagnosis/', import.meta.url);
const fileOf = (name: string): URL => new URL(`${name}.ndjson`, folder);

const keptOf = (name: string): Outcome[] =>
  existsSync(fileOf(name))
    ? readFileSync(fileOf(name), 'utf8')
        .split('\n')
        .filter((line) => line.endsWith('}'))
        .map((line) => outcome.parse(JSON.parse(line)))
    : [];

/** What a decision costs, not how long a crowded machine lets it wait. */
function cpuMs(): number {
  const { user, system } = process.cpuUsage();
  return (user + system) / 1_000;
}

function outcomeOf(index: number, { family, faults }: Case, round: Round): Outcome {
  const run = runVehicle(family, faults, round, cpuMs);
  const { last } = run;
  const parts = partsOf(run);
  const [first, second] = last.suspects;
  const two = [first?.part, second?.part];
  return {
    index,
    isFaulty: faults.length > 0,
    worth: run.worth,
    isFirst: parts.some((part) => part === first?.part),
    isInTwo: parts.some((part) => two.includes(part)),
    areBothInTwo: parts.every((part) => two.includes(part)),
    verdict: last.verdict,
    isSaidRight: last.named.every(({ part }) => parts.includes(part)),
    isSaidSound: isSaidSound(run),
    tests: run.tests,
    minutes: last.minutes,
    decisionsMs: run.decisions.map((ms) => Number(ms.toFixed(1))),
    ...(faults.length < 2 ? {} : mendedOf(family, faults, round)),
  };
}

function mendedOf(...vehicle: Parameters<typeof mendAndCheckAgain>): Pick<Outcome, 'isWhole' | 'allMinutes'> {
  const { isWhole, minutes } = mendAndCheckAgain(...vehicle);
  return { isWhole, allMinutes: minutes };
}

/** So many vehicles are taken together, those of one cloud one after the other: drawing a cloud takes seconds. */
const BATCH = 280;

type Plan = {
  readonly name: string;
  readonly cases: readonly Case[];
  readonly seed: number;
  readonly way: Round['way'];
  readonly hasWrongPriors?: boolean;
};

/** The order in which a part of the table is as good as all of it: mixed by its seed, then by cloud within a batch. */
function orderOf({ cases, seed }: Plan): readonly number[] {
  const random = randomSource(seed);
  const mixed = cases
    .map((_, index) => ({ index, at: random.uniform() }))
    .sort((one, two) => one.at - two.at)
    .map(({ index }) => index);
  const batches = Array.from({ length: Math.ceil(mixed.length / BATCH) }, (_, at) =>
    mixed.slice(BATCH * at, BATCH * (at + 1)),
  );
  // The first draw of a vehicle's seed chooses the state it comes in, and so its cloud.
  const cloudOf = (index: number): string =>
    `${cases[index]?.family} ${randomSource(seed + index)
      .uniform()
      .toFixed(2)}`;
  return batches.flatMap((batch) => [...batch].sort((one, two) => cloudOf(one).localeCompare(cloudOf(two))));
}

const WRONG_DIGITS = 0.01;

/** Goes on with a table until it is whole or its minutes are over; everything that was ever made of it comes back. */
export function goOnWith(plan: Plan, budgetMs: number): readonly Outcome[] {
  mkdirSync(folder, { recursive: true });
  const kept = keptOf(plan.name);
  const done = new Set(kept.map(({ index }) => index));
  const until = performance.now() + budgetMs;
  for (const index of orderOf(plan)) {
    const each = plan.cases[index];
    if (each === undefined || done.has(index)) continue;
    if (performance.now() > until) break;
    const { seed, way, hasWrongPriors = false } = plan;
    const made = outcomeOf(index, each, {
      seed: seed + index,
      way,
      hasWrongPriors,
      wrongDigits: WRONG_DIGITS,
    });
    appendFileSync(fileOf(plan.name), `${JSON.stringify(made)}\n`);
    kept.push(made);
  }
  return kept;
}
