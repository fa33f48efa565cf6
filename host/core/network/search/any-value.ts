import type { LastPart, Outer } from './heated-last-part';
import { lastPartAt } from './heated-last-part';
import { parallelOhm } from '../closed-form/ladder-tree';
import type { Problem } from './problem';
import type { Form, Parts } from './search';
import type { Windows } from './windows';
import { makeWindows, setWindows } from './windows';

/** A box of the parts that are not solved for last: lowest and highest value of each, ohm. */
type Box = { readonly low: readonly number[]; readonly high: readonly number[] };

/** How a form splits into outer parts and the last one; what the gauge sees rises with every outer part. */
type Split = {
  readonly outerCount: number;
  readonly last: LastPart;
  readonly outer: (outerOhm: readonly number[]) => Outer;
};

const alone: Outer = { armOhm: 0, shuntOhm: Infinity };
const inArm = ([armOhm]: readonly number[]): Outer => ({ armOhm: armOhm!, shuntOhm: Infinity });

const splitOf = ({ topology, partCount }: Form): Split | undefined => {
  switch (topology) {
    case 'none':
      return undefined;
    case 'series':
      return { outerCount: 0, last: 'in-series', outer: () => alone };
    case 'shunt':
      return { outerCount: 0, last: 'in-parallel', outer: () => alone };
    case 'shunt-then-series':
      return { outerCount: 1, last: 'in-series', outer: ([shunt]) => ({ armOhm: 0, shuntOhm: shunt! }) };
    case 'series-then-shunt':
      return { outerCount: 1, last: 'in-parallel', outer: inArm };
    case 'three-resistor':
      return { outerCount: 2, last: 'in-series', outer: ([b, shunt]) => ({ armOhm: b!, shuntOhm: shunt! }) };
    case 'gauge-shunt':
      return partCount === 1
        ? { outerCount: 0, last: 'gauge-gain', outer: () => alone }
        : { outerCount: 1, last: 'gauge-gain', outer: inArm };
  }
};

type Range = readonly [low: number, high: number];

/** What one sample asks of the last part, in ohm, siemens or gain, when its base lies between two values. */
const lastRange = (windows: Windows, index: number, last: LastPart, [baseLow, baseHigh]: Range): Range => {
  const low = windows.low[index]!;
  const high = windows.high[index]!;
  if (last === 'in-series') return [low - baseHigh, high - baseLow];
  // A base of nothing is seen as nothing, whatever is in parallel with it or multiplies it.
  if (baseHigh === 0) return low > 0 ? [Infinity, -Infinity] : [-Infinity, Infinity];
  if (last === 'in-parallel')
    return [windows.lowSiemens[index]! - 1 / baseLow, windows.highSiemens[index]! - 1 / baseHigh];
  return [low / baseHigh, baseLow > 0 ? high / baseLow : Infinity];
};

type Question = {
  readonly problem: Problem;
  readonly windows: Windows;
  readonly split: Split;
  /** Values that the last part can have, in its own measure (ohm, siemens or gain). */
  readonly last: Range;
};

const baseOhm = (senderOhm: number, { armOhm, shuntOhm }: Outer): number =>
  parallelOhm(senderOhm + armOhm, shuntOhm);

/** The same for a heated sender: at one edge of the window the last part falls with every outer part. */
const heatedRange = ({ problem, windows, split }: Question, index: number, box: Box): Range => {
  const { heat } = problem;
  const [lowOhm, highOhm] = [windows.low[index]!, windows.high[index]!];
  if (heat === undefined || !(lowOhm <= highOhm)) return [Infinity, -Infinity];
  const at = (edgeOhm: number, outerOhm: readonly number[]): number =>
    lastPartAt(heat, heat.anchors[index]!, { last: split.last, outer: split.outer(outerOhm), edgeOhm });
  return split.last === 'in-parallel'
    ? [at(highOhm, box.low), at(lowOhm, box.high)]
    : [at(lowOhm, box.high), at(highOhm, box.low)];
};

/** Tolerance of the comparison below: the part's own measure is computed, not given. */
const ROUNDING = 1e-12;

/** True when no part values inside the box keep all samples in their windows. */
const excludes = ({ problem, windows, split, last }: Question, box: Box): boolean => {
  let [from, to] = last;
  for (let index = 0; index < problem.ohm.length; index += 1) {
    const [low, high] =
      problem.heat === undefined
        ? lastRange(windows, index, split.last, [
            baseOhm(problem.ohm[index]!, split.outer(box.low)),
            baseOhm(problem.ohm[index]!, split.outer(box.high)),
          ])
        : heatedRange({ problem, windows, split, last }, index, box);
    from = Math.max(from, low);
    to = Math.min(to, high);
    if (from > to + ROUNDING * Math.abs(to)) return true;
  }
  return false;
};

const centre = ({ low, high }: Box): Box => {
  const middle = low.map((value, index) => Math.sqrt(value * high[index]!));
  return { low: middle, high: middle };
};

const halves = ({ low, high }: Box): readonly [Box, Box] => {
  const ratios = low.map((value, index) => high[index]! / value);
  const widest = ratios.indexOf(Math.max(...ratios));
  const cut = Math.sqrt(low[widest]! * high[widest]!);
  const replaced = (values: readonly number[]): number[] =>
    values.map((value, index) => (index === widest ? cut : value));
  return [
    { low, high: replaced(high) },
    { low: replaced(low), high },
  ];
};

/** Boxes looked at before an answer is given up: the bound then stays lower than it could be, but true. */
const MOST_BOXES = 600;

/** True only with proof that no values of the parts, preferred or not, reach the windows. */
const provesImpossible = (question: Question, whole: Box): boolean => {
  const open = [whole];
  for (let looked = 0; open.length > 0; looked += 1) {
    const box = open.pop()!;
    if (excludes(question, box)) continue;
    if (looked >= MOST_BOXES || question.split.outerCount === 0 || !excludes(question, centre(box)))
      return false;
    open.push(...halves(box));
  }
  return true;
};

const lastValues = (last: LastPart, [lowest, highest]: Range, gaugeOhm: number): Range => {
  if (last === 'in-series') return [lowest, highest];
  return last === 'in-parallel' ? [1 / highest, 1 / lowest] : [1 + gaugeOhm / highest, 1 + gaugeOhm / lowest];
};

const HALVINGS = 10;
/** A form that cannot do better than this share of what another reaches is not looked at further. */
const WORTH_WHILE = 0.995;

/**
 * A score below which no network of this form can come with any resistances from the lowest to the highest of the part
 * values, preferred or not: how much closer values could still bring. Never above `reached`.
 * Source: interval bounds from monotonicity over boxes of part values, bisected; a true lower bound at every step.
 */
export const anyValueBound = (problem: Problem, form: Form, parts: Parts, reached: number): number => {
  const split = splitOf(form);
  if (!split || !Number.isFinite(reached)) return reached;
  const range: Range = [parts.values[0]!, parts.values[parts.values.length - 1]!];
  const least = split.last === 'gauge-gain' ? (problem.heat?.leastAcrossOhm ?? 0) : 0;
  const lastOhm: Range = [Math.max(range[0], least), range[1]];
  const windows = makeWindows(problem.value.length);
  const question = { problem, windows, split, last: lastValues(split.last, lastOhm, parts.gaugeOhm ?? 0) };
  const whole = {
    low: Array<number>(split.outerCount).fill(range[0]),
    high: Array<number>(split.outerCount).fill(range[1]),
  };
  setWindows(windows, problem, reached * WORTH_WHILE);
  if (provesImpossible(question, whole)) return reached * WORTH_WHILE;
  let impossible = 0;
  let unknown = reached;
  for (let step = 0; step < HALVINGS; step += 1) {
    const score = (impossible + unknown) / 2;
    setWindows(windows, problem, score);
    if (provesImpossible(question, whole)) impossible = score;
    else unknown = score;
  }
  return impossible;
};
