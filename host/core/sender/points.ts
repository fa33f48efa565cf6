import { type Refusal, refuse } from '../refusal';
import type { PointFault } from './refusals';
import type { Quantity } from '../response';
import { CELSIUS_ZERO_KELVIN, quantityOfUnit, unitChange } from '../units';

/** One measured point of a sender: the true value in the sender's unit and the resistance found there. */
export type SenderPoint = {
  readonly value: number;
  readonly resistanceOhm: number;
  /** Standard uncertainty of `value`, in its unit (a span, so 9 degF is 5 K). */
  readonly valueUncertainty?: number | undefined;
  /** Standard uncertainty of `resistanceOhm`. */
  readonly resistanceUncertaintyOhm?: number | undefined;
};

/** A point as the laws want it: degrees Celsius for temperature, 0 for an uncertainty that was not given. */
export type LawPoint = {
  /** As given, in the person's unit. */
  readonly value: number;
  readonly argument: number;
  readonly ohm: number;
  readonly argumentUncertainty: number;
  readonly ohmUncertainty: number;
};

export type PreparedPoints = {
  readonly kind: 'prepared';
  readonly quantity: Quantity;
  readonly points: readonly LawPoint[];
  readonly isUncertaintyGiven: boolean;
};

/**
 * Where the uncertainty comes from: `given` with the points; `residuals` of an over-determined fit; `assumed`, what is
 * usually achieved, because the points say nothing.
 */
export type UncertaintyBasis = 'given' | 'residuals' | 'assumed';

/** More points than any bath session yields; a longer list is a wrong file. Source: common practice, no source. */
const MOST_SENDER_POINTS = 10_000;
/** Values and uncertainties beyond this are typing errors whatever the unit. */
const LARGEST_VALUE = 1e6;
/** Below and above these a sender is a short or an open circuit. */
const LOWEST_SENDER_OHM = 1e-4;
const HIGHEST_SENDER_OHM = 1e9;
/** Values closer than this are one value: no thermometer tells them apart, and a slope between them would be noise. */
const VALUE_RESOLUTION = 1e-6;

/** What a careful person with a kitchen thermometer, a workshop gauge or a can of fuel achieves. Common practice, no source. */
const assumedUncertainty: Readonly<Record<Quantity, (span: number) => number>> = {
  temperature: () => 0.5,
  pressure: (span) => 0.01 * span,
  fuel: (span) => 0.01 * span,
  other: (span) => 0.01 * span,
};
/** Multimeter and leads, after subtracting the leads: relative part and absolute part. Common practice, no source. */
const ASSUMED_OHM_FRACTION = 0.005;
const ASSUMED_OHM = 0.1;

/**
 * Checks points and brings them to the law's scale, sorted by value.
 * Source: derived here. Refuses: SENDER_TOO_FEW_POINTS, SENDER_TOO_MANY_POINTS, SENDER_POINT (a number that cannot be,
 * with the point named).
 */
export function preparePoints(points: readonly SenderPoint[], unit: string): PreparedPoints | Refusal {
  const quantity = quantityOfUnit(unit);
  if (points.length > MOST_SENDER_POINTS) {
    return refuse('SENDER_TOO_MANY_POINTS', { pointCount: points.length, most: MOST_SENDER_POINTS });
  }
  const change = unitChange(unit, quantity === 'temperature' ? 'degC' : unit);
  if (change.kind === 'refused') return change;
  const prepared: LawPoint[] = [];
  for (const [index, point] of points.entries()) {
    const fault = senderPointFault(point, unit);
    if (fault !== undefined) return refuse('SENDER_POINT', { pointNumber: index + 1, unit, fault });
    prepared.push({
      value: point.value,
      argument: change.factor * point.value + change.offset,
      ohm: point.resistanceOhm,
      argumentUncertainty: change.factor * (point.valueUncertainty ?? 0),
      ohmUncertainty: point.resistanceUncertaintyOhm ?? 0,
    });
  }
  const sorted = inOrder(prepared);
  const distinct = distinctCount(sorted);
  if (distinct < 2) {
    return refuse('SENDER_TOO_FEW_POINTS', { valueCount: distinct, fewest: 2 });
  }
  const isUncertaintyGiven = sorted.some((point) => point.argumentUncertainty + point.ohmUncertainty > 0);
  const complete = isUncertaintyGiven ? withMissingFilled(sorted) : sorted;
  return { kind: 'prepared', quantity, points: complete, isUncertaintyGiven };
}

/** Points whose missing uncertainties are replaced by what is usually achieved. Source: common practice, no source. */
export function withAssumedUncertainty(points: readonly LawPoint[], quantity: Quantity): readonly LawPoint[] {
  const span = points.at(-1)!.argument - points[0]!.argument;
  return points.map((point) => ({
    ...point,
    argumentUncertainty: assumedUncertainty[quantity](span),
    ohmUncertainty: ASSUMED_OHM + ASSUMED_OHM_FRACTION * point.ohm,
  }));
}

/** How many different values a sorted list of points holds. Source: definition. */
export const distinctCount = (points: readonly LawPoint[]): number =>
  new Set(points.map((point) => point.argument)).size;

/** Sorted by value, values that nothing tells apart made equal. */
function inOrder(points: readonly LawPoint[]): LawPoint[] {
  const sorted = [...points].sort((one, other) => one.argument - other.argument);
  const done: LawPoint[] = [];
  for (const point of sorted) {
    const before = done.at(-1);
    const isSame = before !== undefined && point.argument - before.argument < VALUE_RESOLUTION;
    done.push(isSame ? { ...point, argument: before.argument, value: before.value } : point);
  }
  return done;
}

/**
 * The number of a point that no sender can have, undefined when all of them can be. Source: absolute zero; the limits
 * above, which only tell typing errors.
 */
export function senderPointFault(point: SenderPoint, unit: string): PointFault | undefined {
  const { value, resistanceOhm, valueUncertainty = 0, resistanceUncertaintyOhm = 0 } = point;
  if (!(Math.abs(value) <= LARGEST_VALUE))
    return { of: 'value', wrong: 'size', given: value, most: LARGEST_VALUE };
  const isTemperature = quantityOfUnit(unit) === 'temperature';
  if (isTemperature && !isAboveAbsoluteZero(value, unit))
    return { of: 'value', wrong: 'below-absolute-zero', given: value };
  if (isTemperature && resistanceOhm === 0) return { of: 'resistance', wrong: 'short' };
  if (!(resistanceOhm === 0 || (resistanceOhm >= LOWEST_SENDER_OHM && resistanceOhm <= HIGHEST_SENDER_OHM)))
    return {
      ...{ of: 'resistance', wrong: 'size', given: resistanceOhm },
      ...{ least: LOWEST_SENDER_OHM, most: HIGHEST_SENDER_OHM },
    };
  if (!(valueUncertainty >= 0 && valueUncertainty <= LARGEST_VALUE))
    return { of: 'valueUncertainty', wrong: 'size', given: valueUncertainty, most: LARGEST_VALUE };
  return resistanceUncertaintyOhm >= 0 && resistanceUncertaintyOhm <= HIGHEST_SENDER_OHM
    ? undefined
    : {
        of: 'resistanceUncertainty',
        wrong: 'size',
        given: resistanceUncertaintyOhm,
        most: HIGHEST_SENDER_OHM,
      };
}

function isAboveAbsoluteZero(value: number, unit: string): boolean {
  const change = unitChange(unit, 'degC');
  return change.kind === 'refused' || change.factor * value + change.offset > -CELSIUS_ZERO_KELVIN;
}

// A point without any uncertainty among points that have one would get infinite weight: it is given the largest of them.
function withMissingFilled(points: readonly LawPoint[]): readonly LawPoint[] {
  const largestArgument = Math.max(...points.map((point) => point.argumentUncertainty));
  const largestShare = Math.max(...points.map((point) => point.ohmUncertainty / (point.ohm || 1)));
  return points.map((point) =>
    point.argumentUncertainty + point.ohmUncertainty > 0
      ? point
      : { ...point, argumentUncertainty: largestArgument, ohmUncertainty: largestShare * (point.ohm || 1) },
  );
}
