import type { Part, TestName } from './names';
import type { Cloud, Hypothesis } from './cloud';
import { comparisonOf } from './measure';
import { testRow } from './tests';

/** One reading: a part of the scale, volt, ohm or millivolt by its test; 1 and 0 for yes and no. */
export type Reading = { readonly test: TestName; readonly value: number };

/** What all readings of one test say together; of a question the part of its answers that is yes. */
export type Finding = {
  readonly test: TestName;
  readonly value: number;
  /** How many readings agree on it; of a question that is tried anew each time, all of them. */
  readonly count: number;
  /** Readings that no other one agrees with: a third is wanted. */
  readonly isSplit: boolean;
};

/** A reading is a wrong digit, a wrong range, the other wire. An assumption. */
const SLIP = 0.03;
/** Two readings of one test that lie so many spreads apart are two values. */
const AGREE_SPREADS = 4;

const SQRT_2PI = Math.sqrt(2 * Math.PI);

/** Likelihood of a finding on every vehicle of a cloud, and how much of it is a slip. */
type Likelihoods = { readonly log: Float64Array; readonly slip: Float64Array };

const kept = new WeakMap<Cloud, Map<string, Likelihoods>>();

/** As `reckon`, once for each cloud and finding. */
function likelihoods(cloud: Cloud, finding: Finding): Likelihoods {
  const known = kept.get(cloud) ?? new Map<string, Likelihoods>();
  kept.set(cloud, known);
  const key = `${finding.test} ${finding.value} ${finding.count}`;
  const found = known.get(key) ?? reckon(cloud, finding);
  known.set(key, found);
  return found;
}

/** Twice the same wrong digit is rarer than once. */
const slipOf = (count: number): number => SLIP ** count;

function reckon(cloud: Cloud, { test, value, count }: Finding): Likelihoods {
  const outcomes = cloud.outcomes.get(test) ?? new Float64Array();
  const log = new Float64Array(outcomes.length);
  const slips = new Float64Array(outcomes.length);
  const slip = slipOf(count);
  const { range, scaled } = comparisonOf(test);
  const isChance = testRow(test).measure === 'chance';
  const seen = scaled(value);
  const spreads = cloud.spreads.get(test);
  const wrong = isChance ? slip / 2 : slip / range;
  cloud.hypotheses.forEach(({ first, count: size }, at) => {
    const width = cloud.widths.get(test)?.[at] ?? 0;
    const all = new Float64Array(size);
    for (let index = 0; index < size; index += 1) {
      const expected = outcomes[first + index]!;
      const good = isChance
        ? answered(expected, { test, value, count })
        : normal(seen - expected, Math.hypot(spreads?.[first + index] ?? 0, width));
      all[index] = (1 - slip) * good + wrong;
    }
    if (cloud.idle.get(test)?.[at] === true) all.fill(all.reduce((sum, each) => sum + each, 0) / size);
    all.forEach((each, index) => {
      log[first + index] = Math.log(each);
      slips[first + index] = wrong / each;
    });
  });
  return { log, slip: slips };
}

const yesOrNo = (chance: number, value: number): number => (value > 0.5 ? chance : 1 - chance);

/** A look shows the same however often it is taken; what jumps by chance may jump each time anew. */
const answered = (
  chance: number,
  { test, value, count }: Pick<Finding, 'test' | 'value' | 'count'>,
): number =>
  testRow(test).isAnew
    ? chance ** (value * count) * (1 - chance) ** ((1 - value) * count)
    : yesOrNo(chance, value);

const normal = (off: number, spread: number): number =>
  Math.exp(-0.5 * (off / spread) ** 2) / (SQRT_2PI * spread);

/** Belief in every vehicle and every hypothesis of a cloud; each sums to 1. */
export type Belief = {
  readonly cloud: Cloud;
  readonly weights: Float64Array;
  readonly hypotheses: Float64Array;
  /** ln of what the findings were worth to each hypothesis, its prior left out. */
  readonly logEvidence: Float64Array;
};

/** What is believed after these findings. */
export function believe(cloud: Cloud, findings: readonly Finding[]): Belief {
  const total = cloud.hypotheses.reduce((sum, { count }) => sum + count, 0);
  const logs = new Float64Array(total);
  for (const finding of findings) {
    const { log } = likelihoods(cloud, finding);
    for (let index = 0; index < total; index += 1) logs[index]! += log[index]!;
  }
  return weigh(cloud, logs);
}

function weigh(cloud: Cloud, logs: Float64Array): Belief {
  const logEvidence = Float64Array.from(cloud.hypotheses, ({ first, count }) => logMean(logs, first, count));
  const best = Math.max(...cloud.hypotheses.map(({ prior }, at) => Math.log(prior) + logEvidence[at]!));
  const hypotheses = Float64Array.from(cloud.hypotheses, ({ prior }, at) =>
    Math.exp(Math.log(prior) + logEvidence[at]! - best),
  );
  const all = hypotheses.reduce((sum, each) => sum + each, 0);
  hypotheses.forEach((each, at) => (hypotheses[at] = each / all));
  const weights = new Float64Array(logs.length);
  cloud.hypotheses.forEach(({ first, count }, at) => {
    const share = hypotheses[at]!;
    if (share < LEAST_SHARE) return;
    for (let index = first; index < first + count; index += 1)
      weights[index] = (share * Math.exp(logs[index]! - logEvidence[at]!)) / count;
  });
  return { cloud, weights, hypotheses, logEvidence };
}

/** Below this nothing of a hypothesis is weighed any more. */
const LEAST_SHARE = 1e-7;

function logMean(logs: Float64Array, first: number, count: number): number {
  let most = -Infinity;
  for (let index = first; index < first + count; index += 1) most = Math.max(most, logs[index]!);
  let sum = 0;
  for (let index = first; index < first + count; index += 1) sum += Math.exp(logs[index]! - most);
  return most + Math.log(sum / count);
}

/** Belief in each part, pairs counted for both of theirs, the likeliest first. */
export function partsBelieved({ cloud, hypotheses }: Belief): readonly {
  readonly part: Part;
  readonly share: number;
}[] {
  const shares = new Map<Part, number>();
  cloud.hypotheses.forEach(({ parts }, at) => {
    for (const part of parts) shares.set(part, (shares.get(part) ?? 0) + hypotheses[at]!);
  });
  return [...shares].map(([part, share]) => ({ part, share })).sort((one, two) => two.share - one.share);
}

/** The likeliest hypothesis that names a part. */
export function bestWith({ cloud, hypotheses }: Belief, part: Part): Hypothesis | undefined {
  let best: Hypothesis | undefined;
  let most = -1;
  cloud.hypotheses.forEach((each, at) => {
    if (!each.parts.includes(part) || !(hypotheses[at]! > most)) return;
    best = each;
    most = hypotheses[at]!;
  });
  return best;
}

/** What share of a belief takes a finding for a slip; within one part where that is named. */
export function slipShare({ cloud, weights }: Belief, finding: Finding, part?: Part): number {
  const { slip } = likelihoods(cloud, finding);
  let sum = 0;
  let all = 0;
  for (const { first, count, parts } of cloud.hypotheses) {
    if (part !== undefined && !parts.includes(part)) continue;
    for (let index = first; index < first + count; index += 1) {
      sum += weights[index]! * slip[index]!;
      all += weights[index]!;
    }
  }
  return all > 0 ? sum / all : 1;
}

/** The readings of each test as one finding: the mean of the newest two that agree, the last one where none do. */
export function findingsOf(cloud: Cloud, readings: readonly Reading[]): readonly Finding[] {
  const names = [...new Set(readings.map(({ test }) => test))].filter((test) => cloud.tests.includes(test));
  return names.map((test) =>
    together(
      cloud,
      test,
      readings.filter((each) => each.test === test).map(({ value }) => value),
    ),
  );
}

function together(cloud: Cloud, test: TestName, values: readonly number[]): Finding {
  const last = values.at(-1) ?? NaN;
  if (values.length < 2) return { test, value: last, count: 1, isSplit: false };
  if (testRow(test).measure === 'chance') return answers(test, values);
  const { scaled, back } = comparisonOf(test);
  const alike = values.map((value) => values.filter((other) => agree(cloud, test, value, other)));
  const most = Math.max(...alike.map(({ length }) => length));
  if (most < 2) return { test, value: last, count: 1, isSplit: true };
  const group = alike[alike.map(({ length }) => length).lastIndexOf(most)] ?? [last];
  const mean = group.reduce((sum, value) => sum + scaled(value), 0) / group.length;
  return { test, value: back(mean), count: group.length, isSplit: false };
}

function answers(test: TestName, values: readonly number[]): Finding {
  const part = values.filter((value) => value > 0.5).length / values.length;
  const isSplit = part === 0.5;
  if (testRow(test).isAnew) return { test, value: part, count: values.length, isSplit };
  return {
    test,
    value: isSplit ? (values.at(-1) ?? NaN) : Math.round(part),
    count: isSplit ? 1 : 2,
    isSplit,
  };
}

function agree(cloud: Cloud, test: TestName, one: number, other: number): boolean {
  const { scaled } = comparisonOf(test);
  return Math.abs(scaled(one) - scaled(other)) <= AGREE_SPREADS * spreadAt(cloud, test, one);
}

/** The spread of a reading of this size: that of the vehicle whose outcome lies nearest. */
function spreadAt(cloud: Cloud, test: TestName, value: number): number {
  const outcomes = cloud.outcomes.get(test) ?? new Float64Array();
  const seen = comparisonOf(test).scaled(value);
  let best = 0;
  outcomes.forEach((each, index) => {
    if (Math.abs(each - seen) < Math.abs((outcomes[best] ?? 0) - seen)) best = index;
  });
  return cloud.spreads.get(test)?.[best] ?? 0;
}

/** What share of belief expected a value as far off as this one or further: 95 % of it within two spreads. */
export function expectedShare({ cloud, weights }: Belief, { test, value }: Finding): number {
  if (testRow(test).measure === 'chance') return chanceShare({ cloud, weights }, test, value);
  const seen = comparisonOf(test).scaled(value);
  const outcomes = cloud.outcomes.get(test);
  const spreads = cloud.spreads.get(test);
  if (outcomes === undefined || spreads === undefined) return 1;
  let sum = 0;
  cloud.hypotheses.forEach(({ first, count }, at) => {
    const width = cloud.widths.get(test)?.[at] ?? 0;
    for (let index = first; index < first + count; index += 1)
      if (Math.abs(seen - outcomes[index]!) < 2 * Math.hypot(spreads[index]!, width)) sum += weights[index]!;
  });
  return sum;
}

function chanceShare(
  { cloud, weights }: Pick<Belief, 'cloud' | 'weights'>,
  test: TestName,
  value: number,
): number {
  const outcomes = cloud.outcomes.get(test);
  let sum = 0;
  weights.forEach((weight, index) => {
    const yes = outcomes?.[index] ?? 0.5;
    sum += weight * yesOrNo(yes, value);
  });
  return sum;
}
