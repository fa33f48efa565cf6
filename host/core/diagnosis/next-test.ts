import type { Belief } from './belief';
import { testRow, type Access } from './tests';
import type { TestName } from './names';

/** What one more test would tell, and what it costs. */
export type Prospect = {
  readonly test: TestName;
  readonly bits: number;
  readonly minutes: number;
  /** Bits for each minute, risk and unpaid access counted in. */
  readonly worth: number;
};

const ACCESS_MINUTES: Readonly<Record<Access, number>> = { lead: 1, dash: 6, hot: 10 };
/** A hot-wire needle has to come to rest. */
const SETTLE_MINUTES = 1;
const CELLS = 10;
const FINE_CELLS = 600;
/** Of the bias of Miller and Madow, what is taken off. */
const BIAS_SHARE = 0.3;
/** What is believed less is not weighed for what a test would tell. */
const LEAST_SHARE = 1e-3;

/** Minutes of a test, and of the access it needs that is not there yet. */
export function minutesOf(
  test: TestName,
  isThermal: boolean,
  paid: ReadonlySet<Access>,
): { readonly test: number; readonly access: number } {
  const { minutes, hasNeedle, access } = testRow(test);
  const unpaid = access.filter((each) => !paid.has(each));
  return {
    test: minutes + (hasNeedle && isThermal ? SETTLE_MINUTES : 0),
    access: unpaid.reduce((sum, each) => sum + ACCESS_MINUTES[each], 0),
  };
}

/** What the tests that were done have opened. */
export const accessOf = (done: Iterable<TestName>): ReadonlySet<Access> =>
  new Set([...done].flatMap((test) => testRow(test).access));

/** Every one of these tests with what it is worth now, the best first. */
export function prospects(
  belief: Belief,
  candidates: readonly TestName[],
  paid: ReadonlySet<Access>,
): readonly Prospect[] {
  const sample = sampleOf(belief);
  const isThermal = belief.cloud.subject.family.kind === 'thermal';
  return candidates
    .map((test) => {
      const { test: own, access } = minutesOf(test, isThermal, paid);
      const bits = informationOf(belief, test, sample);
      return { test, bits, minutes: own + access, worth: bits / (own * testRow(test).risk + access) };
    })
    .sort((one, two) => two.worth - one.worth);
}

/** So many vehicles stand for a hypothesis, of a single cause and of a pair: evenly by their weight. */
const MANY = 500;
const MANY_DRAWN = 250;
const FEW_DRAWN = 40;

/** The vehicles that still count: their weight, their label and their number within their hypothesis. */
type Sample = {
  readonly indices: Int32Array;
  readonly weights: Float64Array;
  readonly labels: Int32Array;
  readonly draws: Int32Array;
  readonly labelCount: number;
  /** What finite samples add for each cell more than one, nats: over labels, share x rest of it / (2 x effective number). */
  readonly biasPerCell: number;
};

function sampleOf({ cloud, weights, hypotheses }: Belief): Sample {
  const labels = new Map<string, number>();
  const indices: number[] = [];
  const at: number[] = [];
  const draws: number[] = [];
  const picked: number[] = [];
  cloud.hypotheses.forEach(({ first, count, parts }, which) => {
    if (hypotheses[which]! < LEAST_SHARE) return;
    const name = parts.join(' ');
    const label = labels.get(name) ?? labels.size;
    labels.set(name, label);
    const step = hypotheses[which]! / Math.min(count, count < MANY ? FEW_DRAWN : MANY_DRAWN);
    let passed = 0;
    for (let index = first; index < first + count; index += 1) {
      const before = Math.round(passed / step);
      passed += weights[index]!;
      const times = Math.round(passed / step) - before;
      if (times === 0) continue;
      indices.push(index);
      at.push(label);
      draws.push(index - first);
      picked.push(times * step);
    }
  });
  const own = Float64Array.from(picked);
  const all = own.reduce((sum, each) => sum + each, 0);
  own.forEach((each, index) => (own[index] = each / all));
  return {
    ...{ indices: Int32Array.from(indices), weights: own, labels: Int32Array.from(at) },
    ...{ draws: Int32Array.from(draws), labelCount: labels.size },
    biasPerCell: biasOf(own, at, labels.size),
  };
}

/** A label of little weight adds little, one of few vehicles much. */
function biasOf(weights: Float64Array, labels: readonly number[], count: number): number {
  const sums = new Float64Array(count);
  const squares = new Float64Array(count);
  labels.forEach((label, at) => {
    sums[label]! += weights[at]!;
    squares[label]! += weights[at]! ** 2;
  });
  return sums.reduce((all, sum, label) => all + ((1 - sum) * squares[label]!) / (2 * sum), 0);
}

const plogp = (p: number): number => (p > 0 ? p * Math.log2(p) : 0);

/**
 * Expected information about the part, bit: mutual information of the part and the cell the reading falls into, less a
 * share of the bias that finite samples give it. Source: Shannon (1948); bias of Miller (1955), Madow (1948).
 */
function informationOf({ cloud }: Belief, test: TestName, sample: Sample): number {
  const { labelCount, biasPerCell } = sample;
  if (labelCount < 2) return 0;
  const cells = testRow(test).measure === 'chance' ? 2 : CELLS;
  const joint =
    cells === 2 ? chanceCells(cloud.outcomes.get(test), sample) : readingCells(cloud, test, sample);
  const byCell = new Float64Array(cells);
  const byLabel = new Float64Array(labelCount);
  let sum = 0;
  joint.forEach((p, index) => {
    sum += plogp(p);
    byCell[index % cells]! += p;
    byLabel[Math.floor(index / cells)]! += p;
  });
  const used = byCell.filter((p) => p > 0).length;
  const bias = ((used - 1) * biasPerCell) / Math.LN2;
  const bits =
    sum - byCell.reduce((all, p) => all + plogp(p), 0) - byLabel.reduce((all, p) => all + plogp(p), 0);
  return Math.max(0, bits - BIAS_SHARE * bias);
}

function chanceCells(outcomes: Float64Array | undefined, sample: Sample): Float64Array {
  const joint = new Float64Array(2 * sample.labelCount);
  sample.indices.forEach((index, at) => {
    const yes = outcomes?.[index] ?? 0.5;
    const cell = 2 * sample.labels[at]!;
    joint[cell]! += sample.weights[at]! * yes;
    joint[cell + 1]! += sample.weights[at]! * (1 - yes);
  });
  return joint;
}

/** Readings with their own chance, counted in cells that each hold about the same share of belief. */
function readingCells(cloud: Belief['cloud'], test: TestName, sample: Sample): Float64Array {
  const outcomes = cloud.outcomes.get(test) ?? new Float64Array();
  const spreads = cloud.spreads.get(test) ?? new Float64Array();
  const chances = cloud.chances.get(test) ?? new Float64Array();
  const { indices, weights, labels, draws, labelCount } = sample;
  const size = indices.length;
  const seen = new Float64Array(2 * size);
  // Each vehicle is read twice, too high and too low by the same chance.
  for (let at = 0; at < size; at += 1) {
    const index = indices[at]!;
    const off = spreads[index]! * chances[draws[at]!]!;
    seen[at] = outcomes[index]! + off;
    seen[at + size] = outcomes[index]! - off;
  }
  const cells = equalCells(seen, weights);
  const joint = new Float64Array(CELLS * labelCount);
  for (let at = 0; at < seen.length; at += 1)
    joint[CELLS * labels[at % size]! + cells[at]!]! += weights[at % size]! / 2;
  return joint;
}

/** Which of ten cells each value falls into, cells of about equal weight made of fine ones. */
function equalCells(seen: Float64Array, weights: Float64Array): Int32Array {
  let least = Infinity;
  let most = -Infinity;
  for (const value of seen) {
    least = Math.min(least, value);
    most = Math.max(most, value);
  }
  const step = (most - least) / FINE_CELLS || 1;
  const held = new Float64Array(FINE_CELLS);
  const fine = new Int32Array(seen.length);
  for (let at = 0; at < seen.length; at += 1) {
    const cell = Math.min(FINE_CELLS - 1, Math.floor((seen[at]! - least) / step));
    fine[at] = cell;
    held[cell]! += weights[at % weights.length]! / 2;
  }
  let below = 0;
  const coarse = held.map((weight) => {
    const cell = Math.min(CELLS - 1, Math.floor(CELLS * (below + weight / 2)));
    below += weight;
    return cell;
  });
  return fine.map((cell) => coarse[cell]!);
}
