import type { Hunt } from './hunt';
import { excludesMost, huntLastPart, newHunt, offer } from './hunt';
import { parallelOhm } from './ladder-tree';
import type { Problem } from './problem';
import type { Counts, Found } from './ranking';
import { newRanking } from './ranking';
import type { Topology } from './topology';

/** One arrangement of parts to search; `gauge-shunt` comes with one part and with two. */
export type Form = { readonly topology: Topology; readonly partCount: number };

export const forms: readonly Form[] = [
  { topology: 'none', partCount: 0 },
  { topology: 'series', partCount: 1 },
  { topology: 'shunt', partCount: 1 },
  { topology: 'gauge-shunt', partCount: 1 },
  { topology: 'shunt-then-series', partCount: 2 },
  { topology: 'series-then-shunt', partCount: 2 },
  { topology: 'gauge-shunt', partCount: 2 },
  { topology: 'three-resistor', partCount: 3 },
];

/** What a search may use: part values (ascending, ohm), how many of each, the gauge's own resistance, what is forbidden. */
export type Parts = {
  readonly values: Float64Array;
  readonly counts?: Counts;
  readonly gaugeOhm?: number;
  readonly permits?: (form: Form, partsOhm: Float64Array) => boolean;
};

/** The best networks of one form, and what was done to be sure of them. */
export type FormResult = {
  readonly form: Form;
  readonly found: readonly Found[];
  /** Networks that exist in this form. */
  readonly combinations: number;
  /** Networks whose needle was computed; all others were excluded by proof. */
  readonly evaluated: number;
};

const setBase = (hunt: Hunt, seen: (senderOhm: number) => number): void => {
  for (let index = 0; index < hunt.base.length; index += 1) hunt.base[index] = seen(hunt.problem.ohm[index]!);
};

const eachValue = (hunt: Hunt, slot: number, then: (partOhm: number) => void): void => {
  for (let index = 0; index < hunt.values.length; index += 1) {
    hunt.parts[slot] = hunt.values[index]!;
    then(hunt.values[index]!);
  }
};

/**
 * Fills `base` for one shunt across `armOhm` (sender and its series resistor), as long as the windows still leave room
 * for a resistor in series on the gauge's side; false as soon as they do not. Most pairs end at the second sample.
 */
const fillsBase = (hunt: Hunt, armOhm: Float64Array, shuntOhm: number): boolean => {
  const { base, order, windows, values } = hunt;
  let from = values[0]!;
  let to = values[values.length - 1]!;
  for (let position = 0; position < order.length; position += 1) {
    const index = order[position]!;
    const arm = armOhm[index]!;
    const ohm = (arm * shuntOhm) / (arm + shuntOhm);
    base[index] = ohm;
    from = Math.max(from, windows.low[index]! - ohm);
    to = Math.min(to, windows.high[index]! - ohm);
    if (from > to) {
      if (position > 1) excludesMost(order, position);
      return false;
    }
  }
  return true;
};

const huntThree = (hunt: Hunt): void => {
  const armOhm = new Float64Array(hunt.base.length);
  eachValue(hunt, 2, (senderSideOhm) => {
    for (let index = 0; index < armOhm.length; index += 1)
      armOhm[index] = hunt.problem.ohm[index]! + senderSideOhm;
    eachValue(hunt, 1, (shuntOhm) => {
      if (fillsBase(hunt, armOhm, shuntOhm)) huntLastPart(hunt, 'in-series', 0);
    });
  });
};

/** Goes through every choice of the outer parts and solves the last one by intervals. */
const run = (hunt: Hunt, form: Form): void => {
  setBase(hunt, (ohm) => ohm);
  switch (form.topology) {
    case 'none':
      return offer(hunt, 'in-series', 0, 0);
    case 'series':
      return huntLastPart(hunt, 'in-series', 0);
    case 'shunt':
      return huntLastPart(hunt, 'in-parallel', 0);
    case 'shunt-then-series':
      return eachValue(hunt, 1, (shuntOhm) => {
        setBase(hunt, (ohm) => parallelOhm(ohm, shuntOhm));
        huntLastPart(hunt, 'in-series', 0);
      });
    case 'series-then-shunt':
      return eachValue(hunt, 0, (seriesOhm) => {
        setBase(hunt, (ohm) => ohm + seriesOhm);
        huntLastPart(hunt, 'in-parallel', 1);
      });
    case 'three-resistor':
      return huntThree(hunt);
    case 'gauge-shunt':
      if (form.partCount === 1) return huntLastPart(hunt, 'gauge-gain', 0);
      return eachValue(hunt, 1, (seriesOhm) => {
        setBase(hunt, (ohm) => ohm + seriesOhm);
        huntLastPart(hunt, 'gauge-gain', 0);
      });
  }
};

/**
 * Every so many values are tried first, so that the full search starts with narrow windows and computes few needles. Each
 * pass is exact for its own values; only its score is carried over.
 */
const STRIDES = [16, 4] as const;
const FEWEST_FOR_STRIDE = 3;

const everyNth = (values: Float64Array, stride: number): Float64Array =>
  values.filter((_, index) => index % stride === 0);

const huntOnce = (
  problem: Problem,
  form: Form,
  asked: { readonly parts: Parts; readonly keep: number; readonly ceiling: number },
): Hunt => {
  const { permits, counts } = asked.parts;
  const permit = permits && ((partsOhm: Float64Array): boolean => permits(form, partsOhm));
  const hunt = newHunt(problem, newRanking(asked.keep, counts, permit), {
    values: asked.parts.values,
    gaugeOhm: asked.parts.gaugeOhm ?? 0,
    partCount: form.partCount,
    ceiling: asked.ceiling,
  });
  run(hunt, form);
  return hunt;
};

/**
 * The `keep` best networks of one form out of all combinations of the part values: exact. A combination is left out
 * only when the windows of the score already reached prove that it scores worse.
 * Source: branch and bound with interval bounds from monotonicity; equal to brute force in search.test.ts.
 */
export const searchForm = (problem: Problem, form: Form, parts: Parts, keep: number): FormResult => {
  let ceiling = Infinity;
  let evaluated = 0;
  for (const stride of form.partCount > 0 ? STRIDES : []) {
    const values = everyNth(parts.values, stride);
    if (values.length < FEWEST_FOR_STRIDE) continue;
    const coarse = huntOnce(problem, form, { parts: { ...parts, values }, keep, ceiling });
    ceiling = Math.min(ceiling, coarse.ranking.ceiling());
    evaluated += coarse.evaluated;
  }
  const fine = huntOnce(problem, form, { parts, keep, ceiling });
  return {
    form,
    found: fine.ranking.found(),
    combinations: parts.values.length ** form.partCount,
    evaluated: evaluated + fine.evaluated,
  };
};
