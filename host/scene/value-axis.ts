import { figure } from '../core/figure';

export type AxisTick = { readonly value: number; readonly text: string };

/** An upright axis: `place` is 0 at its foot and 1 at its head. */
export type ValueAxis = {
  readonly from: number;
  readonly to: number;
  readonly place: (value: number) => number;
  readonly ticks: readonly AxisTick[];
};

/** Room over and under what is drawn, as a part of the height. */
const ROOM = 0.04;
const FEWEST_TICKS = 3;
const STEPS = [1, 2, 2.5, 5];
const EASY_STEPS = [1, 2, 5];

/** Round steps of which at most `most` lie in a span. */
function roundStep(span: number, most: number, steps: readonly number[]): number {
  const decade = 10 ** Math.floor(Math.log10(span / most));
  const ascending = [1, 10, 100].flatMap((times) => steps.map((step) => step * times * decade));
  return ascending.find((step) => span / step <= most) ?? span;
}

/** Multiples of a round step from `from` to `to`, ends included; no "-0". */
export function roundValues(
  from: number,
  to: number,
  most: number,
  steps: readonly number[] = STEPS,
): number[] {
  if (!(to > from) || !Number.isFinite(to - from)) return [];
  const step = roundStep(to - from, most, steps);
  const first = Math.ceil(from / step - 1e-9);
  const last = Math.floor(to / step + 1e-9);
  return Array.from(
    { length: last - first + 1 },
    (_, index) => Number(((first + index) * step).toPrecision(12)) + 0,
  );
}

const finite = (values: readonly number[]): number[] => values.filter(Number.isFinite);

/** Ohms on an even axis that stands on zero: tanks and pressures. Source: definition. */
export function ohmAxis(ohms: readonly number[], mostTicks: number): ValueAxis {
  const highest = Math.max(1, ...finite(ohms));
  const to = highest * (1 + ROOM);
  return {
    from: 0,
    to,
    place: (ohm) => ohm / to,
    ticks: roundValues(0, to, mostTicks).map(ohmTick),
  };
}

/** Mantissas of a decade, coarse to fine: the first list of which enough lie in sight is taken. */
const MANTISSAS = [[1], [1, 3], [1, 2, 5], [1, 1.5, 2, 3, 5, 7], [1, 1.2, 1.5, 2, 2.5, 3, 4, 5, 6, 7, 8, 9]];

/**
 * Ohms by their ratio: thermistors. A short, which has no ratio, lies on the foot of the axis.
 * Source: definition; ticks 1, 2, 5 of each decade, more or fewer as there is room.
 */
export function ohmRatioAxis(ohms: readonly number[], mostTicks: number): ValueAxis {
  const above = finite(ohms).filter((ohm) => ohm > 0);
  const [lowest, highest] = above.length === 0 ? [10, 1000] : [Math.min(...above), Math.max(...above)];
  const spread = Math.max(Math.log(highest / lowest), Math.log(1.5));
  const middle = (Math.log(lowest) + Math.log(highest)) / 2;
  const [foot, head] = [middle - spread * (0.5 + ROOM), middle + spread * (0.5 + ROOM)];
  const [from, to] = [Math.exp(foot), Math.exp(head)];
  return {
    from,
    to,
    place: (ohm) => (ohm > 0 ? (Math.log(ohm) - foot) / (head - foot) : 0),
    ticks: ratioValues(from, to, mostTicks).map(ohmTick),
  };
}

function ratioValues(from: number, to: number, most: number): number[] {
  const decades = Array.from(
    { length: Math.floor(Math.log10(to)) - Math.floor(Math.log10(from)) + 1 },
    (_, index) => 10 ** (Math.floor(Math.log10(from)) + index),
  );
  const inSight = MANTISSAS.map((list) =>
    decades
      .flatMap((decade) => list.map((mantissa) => Number((mantissa * decade).toPrecision(3))))
      .filter((value) => value >= from && value <= to),
  );
  const fitting = inSight.filter(({ length }) => length <= most);
  const best = fitting.find(({ length }) => length >= Math.min(5, most)) ?? fitting.at(-1);
  return best !== undefined && best.length >= FEWEST_TICKS ? best : roundValues(from, to, most);
}

/**
 * Errors to both sides of nothing: zero and the limit are always in sight. Source: definition.
 */
export function errorAxis(
  errors: readonly number[],
  limit: number | undefined,
  mostTicks: number,
): ValueAxis {
  const shown = [...finite(errors), 0, ...(limit === undefined ? [] : [limit * 1.25, -limit * 1.25])];
  const span = Math.max(...shown) - Math.min(...shown) || 1;
  const [from, to] = [Math.min(...shown) - ROOM * span, Math.max(...shown) + ROOM * span];
  return {
    from,
    to,
    place: (error) => (error - from) / (to - from),
    ticks: roundValues(from, to, mostTicks, EASY_STEPS).map((value) => ({ value, text: signed(value) })),
  };
}

const OHM_PER_KILOHM = 1000;
const ohmTick = (value: number): AxisTick => ({
  value,
  text: value >= OHM_PER_KILOHM ? `${figure(value / OHM_PER_KILOHM)} k` : figure(value),
});

const signed = (value: number): string =>
  value === 0 ? '0' : `${value > 0 ? '+' : '\u2212'}${figure(Math.abs(value))}`;
