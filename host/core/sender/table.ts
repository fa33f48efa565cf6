import { CELSIUS_ZERO_KELVIN } from '../units';

/** A knot of a table: a measured value (degrees Celsius or the sender's unit) and its resistance. */
export type TableKnot = {
  readonly argument: number;
  readonly ohm: number;
  /** Slope of the curve here in the scale of the table: d(ln R)/d(1/T) or dR/d(value). */
  readonly slope: number;
  /** Standard uncertainty here, as a share of R (thermal scale) or in ohm (plain scale). */
  readonly deviation: number;
};

/**
 * A monotone cubic through the knots, in (1/T, ln R) for temperature senders (`thermal`), where any NTC is nearly
 * straight, and in (value, R) otherwise (`plain`). Knots ascend in `argument`.
 */
export type TableLaw = {
  readonly name: 'table';
  readonly scale: 'thermal' | 'plain';
  readonly knots: readonly TableKnot[];
};

type Scaled = { readonly u: number; readonly w: number };

/** A place in the scale of the table. Source: definition of the two scales. */
export const scaledArgument = (scale: TableLaw['scale'], argument: number): number =>
  scale === 'thermal' ? 1 / (argument + CELSIUS_ZERO_KELVIN) : argument;
/** A resistance in the scale of the table. Source: definition of the two scales. */
export const scaledOhm = (scale: TableLaw['scale'], ohm: number): number =>
  scale === 'thermal' ? Math.log(ohm) : ohm;
const ohmFromScaled = (scale: TableLaw['scale'], w: number): number =>
  scale === 'thermal' ? Math.exp(w) : w;

/**
 * Resistance of a table at an argument; beyond the ends along the straight line of the outermost pair, which for a
 * thermistor is the Beta law of that pair.
 * Source: Fritsch and Carlson, SIAM J. Numer. Anal. 17 (1980) 238-246.
 */
export function tableOhm(law: TableLaw, argument: number): number {
  return ohmFromScaled(law.scale, curveAndChord(law, argument).curve);
}

/**
 * Standard uncertainty of the resistance at an argument, ohm: that of the knots on both sides, and a quarter of what
 * the curve departs from the chord for what may happen between knots. Source: derived here;
 * tests/core/sender/table.test.ts holds it against a published material curve thinned out.
 */
export function tableOhmUncertainty(law: TableLaw, argument: number): number {
  const { curve, chord, deviation, distance } = curveAndChord(law, argument);
  const total = Math.hypot(deviation * distance, (curve - chord) / 4);
  return law.scale === 'thermal' ? Math.exp(curve) * total : total;
}

/** The part of a range in which a table takes a resistance: between two knots, or beyond the outermost. Source: bisection. */
export function knotsAround(
  { knots }: TableLaw,
  range: { readonly from: number; readonly to: number },
  ohm: number,
): { from: number; to: number } {
  const isRising = knots.at(-1)!.ohm > knots[0]!.ohm;
  const isBefore = (knot: TableKnot): boolean => (isRising ? knot.ohm < ohm : knot.ohm > ohm);
  let low = 0;
  let high = knots.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (isBefore(knots[middle]!)) low = middle + 1;
    else high = middle;
  }
  return { from: knots[low - 1]?.argument ?? range.from, to: knots[low]?.argument ?? range.to };
}

/** Both ends of a flat stretch that holds this resistance, undefined where there is none. Source: definition. */
export function flatStretch(law: TableLaw, ohm: number): { from: number; to: number } | undefined {
  const flat = law.knots.filter((knot) => knot.ohm === ohm);
  return flat.length < 2 ? undefined : { from: flat[0]!.argument, to: flat.at(-1)!.argument };
}

function curveAndChord(
  law: TableLaw,
  argument: number,
): { curve: number; chord: number; deviation: number; distance: number } {
  const { knots, scale } = law;
  const right = segmentEnd(knots, argument);
  const [one, two] = [knots[right - 1]!, knots[right]!];
  const [a, b] = [scaled(scale, one), scaled(scale, two)];
  const width = b.u - a.u;
  const t = (scaledArgument(scale, argument) - a.u) / width;
  const chord = a.w + (b.w - a.w) * t;
  if (t < 0 || t > 1) {
    // One end's error swings the line: the further out, the more.
    const distance = Math.max(1, 2 * Math.abs(t - 0.5));
    return { curve: chord, chord, deviation: Math.max(one.deviation, two.deviation), distance };
  }
  const curve =
    a.w * (1 + 2 * t) * (1 - t) ** 2 +
    b.w * t * t * (3 - 2 * t) +
    width * (one.slope * t * (1 - t) ** 2 - two.slope * t * t * (1 - t));
  const deviation = Math.hypot(one.deviation * (1 - t), two.deviation * t);
  return { curve, chord, deviation, distance: 1 };
}

const scaled = (scale: TableLaw['scale'], knot: TableKnot): Scaled => ({
  u: scaledArgument(scale, knot.argument),
  w: scaledOhm(scale, knot.ohm),
});

/** Index of the knot that ends the segment of an argument; the outermost segments serve beyond the ends. */
function segmentEnd(knots: readonly TableKnot[], argument: number): number {
  let low = 1;
  let high = knots.length - 1;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (knots[middle]!.argument < argument) low = middle + 1;
    else high = middle;
  }
  return low;
}
