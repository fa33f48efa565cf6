import type { GaugeReading } from '../core/curve';
import type { Quantity } from '../core/response';
import type { SenderPoint } from '../core/sender';
import type { LinePoint } from '../job/findings';
import { isByRatio } from './curve-question';
import { evenScale, type Scale } from './dial-strip';
import type { OhmDot, OhmLine, OhmsQuestion } from './ohms-scene';
import { roundValues } from './value-axis';

/** Marks of a scale that nobody described: round figures, so many at most. */
const MOST_MARKS = 9;
/** From standard to expanded uncertainty. Source: JCGM 100:2008, 6.2.1, k = 2. */
const COVERAGE = 2;

/** A dial of round figures around what was read, where its own marks are not known. */
export function scaleAround(values: readonly number[], unit: string): Scale {
  const [lowest, highest] = [Math.min(...values), Math.max(...values)];
  const room = highest > lowest ? 0 : Math.max(1, Math.abs(lowest) / 10);
  const within = roundValues(lowest - room, highest + room, MOST_MARKS);
  const [first = lowest, second = highest] = within;
  const last = within.at(-1) ?? highest;
  const step = second - first;
  const rounded = (value: number): number => Number(value.toPrecision(12));
  return evenScale(
    [
      ...(first > lowest - room ? [rounded(first - step)] : []),
      ...within,
      ...(last < highest + room ? [rounded(last + step)] : []),
    ],
    unit,
  );
}

const twice = (standard: number | undefined): number | undefined =>
  standard === undefined ? undefined : COVERAGE * standard;

/** Readings of a gauge as dots, with bars where their uncertainty is known. */
const readingDots = (readings: readonly GaugeReading[]): readonly OhmDot[] =>
  readings.map((one, index) => ({
    id: String(index),
    value: one.reading,
    ohm: one.resistanceOhm,
    kind: one.leg ?? 'up',
    halfOhm: twice(one.resistanceUncertaintyOhm),
    halfValue: twice(one.readingUncertainty),
  }));

const pointDots = (points: readonly SenderPoint[]): readonly OhmDot[] =>
  points.map((one, index) => ({
    id: String(index),
    value: one.value,
    ohm: one.resistanceOhm,
    kind: 'up',
    halfOhm: twice(one.resistanceUncertaintyOhm),
    halfValue: twice(one.valueUncertainty),
  }));

/** The curve of a gauge, x in ohm, and the line of a sender, y in ohm; each left out where there is none. */
export type GivenGauge = {
  readonly scale: Scale;
  readonly quantity: Quantity;
  readonly readings: readonly GaugeReading[];
  readonly line: readonly LinePoint[];
  readonly sender?: readonly LinePoint[];
};

const senderLineOf = (line: readonly LinePoint[]): OhmLine => ({
  id: 'sender',
  name: 'what the sender gives',
  look: 'sender',
  points: line.map(({ x, y }) => ({ value: x, ohm: y })),
});

/** Ohms that a gauge wants over its dial, with what was read, and what a sender gives. */
export function gaugeQuestion({ scale, quantity, readings, line, sender }: GivenGauge): OhmsQuestion {
  const wants: OhmLine = {
    id: 'curve',
    name: 'what the gauge wants',
    look: 'curve',
    points: line.map(({ x, y }) => ({ ohm: x, value: y })),
  };
  return {
    scale,
    isRatio: isByRatio({ quantity }),
    lines: [
      ...(line.length === 0 ? [] : [wants]),
      ...(sender === undefined ? [] : [{ ...senderLineOf(sender), isAside: true }]),
    ],
    ...(line.length === 0 ? {} : { band: line.map(({ x, low, high }) => ({ ohm: x, low, high })) }),
    dots: readingDots(readings),
    naming: 'lines',
  };
}

export type GivenSender = {
  readonly scale: Scale;
  readonly quantity: Quantity;
  readonly points: readonly SenderPoint[];
  readonly line: readonly LinePoint[];
};

/** Ohms that a sender gives over what it measures, with the points and the band of its fit. */
export const senderQuestion = ({ scale, quantity, points, line }: GivenSender): OhmsQuestion => ({
  scale,
  isRatio: isByRatio({ quantity }),
  lines: line.length === 0 ? [] : [{ ...senderLineOf(line), look: 'curve' }],
  ...(line.length === 0
    ? {}
    : { ohmBand: line.map(({ x, low, high }) => ({ value: x, lowOhm: low, highOhm: high })) }),
  dots: pointDots(points),
  naming: 'lines',
});
