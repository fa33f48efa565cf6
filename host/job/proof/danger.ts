import type { Gauge } from '../schema/gauge';
import { scaleOf } from '../schema/scale';

type Dial = Pick<Gauge, 'quantity' | 'marks' | 'zones' | 'unit'>;

/** The end of the scale where a needle that lies hurts somebody: hot, empty, no oil pressure. */
const DANGER_END: Readonly<Record<Gauge['quantity'], 'low' | 'high' | 'either'>> = {
  temperature: 'high',
  fuel: 'low',
  pressure: 'low',
  other: 'either',
};

/** A quarter of the scale is its dangerous end, or what the dial itself marks as danger. Common practice, no source. */
const END_PART = 0.25;
const EITHER_MIDDLE_PART = 0.5;

type Edges = { readonly low: number; readonly high: number };

/** Where the dial's own danger zones begin, seen from the middle; the scale's ends where it has none. */
const dangerEdges = ({ marks, zones = [] }: Dial): Edges => {
  const { lowest, highest, span } = scaleOf(marks);
  const middle = lowest + EITHER_MIDDLE_PART * span;
  const dangers = zones.filter((zone) => zone.meaning === 'danger');
  const tops = dangers.map((zone) => zone.toReading).filter((reading) => reading < middle);
  const feet = dangers.map((zone) => zone.fromReading).filter((reading) => reading > middle);
  return { low: Math.max(lowest, ...tops), high: Math.min(highest, ...feet) };
};

/** The reading at which the dangerous end is proved: where the danger zone begins, or the scale's own end. */
export const dangerReading = (dial: Dial): number => {
  const edges = dangerEdges(dial);
  return DANGER_END[dial.quantity] === 'low' ? edges.low : edges.high;
};

/** Whether a place proves the dangerous end. */
export const isAtDangerousEnd = (dial: Dial, reading: number): boolean => {
  const { lowest, highest, span } = scaleOf(dial.marks);
  const edges = dangerEdges(dial);
  const isLow = reading <= Math.max(edges.low, lowest + END_PART * span);
  const isHigh = reading >= Math.min(edges.high, highest - END_PART * span);
  const end = DANGER_END[dial.quantity];
  return end === 'low' ? isLow : end === 'high' ? isHigh : isLow || isHigh;
};

/** Where the needle stands in ordinary running: the dial's normal zones, or the middle half of the scale. */
export const normalRange = ({ marks, zones = [] }: Dial): { readonly from: number; readonly to: number } => {
  const normal = zones.filter((zone) => zone.meaning === 'normal');
  if (normal.length > 0)
    return {
      from: Math.min(...normal.map((zone) => zone.fromReading)),
      to: Math.max(...normal.map((zone) => zone.toReading)),
    };
  const { lowest, highest, span } = scaleOf(marks);
  return { from: lowest + END_PART * span, to: highest - END_PART * span };
};

export const DANGER_WORDS: Readonly<Record<Gauge['quantity'], string>> = {
  temperature: 'the hot end',
  fuel: 'the empty end',
  pressure: 'the low-pressure end',
  other: 'one end of the scale',
};

/** What nobody is ever asked to do for a point. */
export const NEVER_WORDS: Readonly<Record<Gauge['quantity'], string>> = {
  temperature: 'nobody overheats an engine for it',
  fuel: 'nobody runs a tank dry for it',
  pressure: 'nobody lowers an oil pressure for it',
  other: 'nothing is driven to its limit for it',
};
