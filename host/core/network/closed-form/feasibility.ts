import type { Refused } from '../../result';
import { refuse } from '../../result';
import type { Pair } from './pair';
import { figure } from '../../figure';

/** Which law of passive resistors a demand breaks. */
export type Theorem = 'SENSE' | 'SPAN_OHM' | 'SPAN_SIEMENS' | 'RATIO';

/** Rounding of what is compared, relative to the ohms themselves: a span of nearly equal ohms is all rounding. */
const ROUNDING = 8 * Number.EPSILON;

/** Span at the sender and span wanted, in ohms and in siemens scaled by all four resistances (no division by zero). */
export type Spans = {
  readonly senderOhm: number;
  readonly wantedOhm: number;
  /** d * R1 * R2 and D * r1 * r2: siemens spans times r1 r2 R1 R2. */
  readonly senderScaledSiemens: number;
  readonly wantedScaledSiemens: number;
};

export const spansOf = (high: Pair, low: Pair): Spans => {
  const senderOhm = high.senderOhm - low.senderOhm;
  const wantedOhm = high.wantedOhm - low.wantedOhm;
  return {
    senderOhm,
    wantedOhm,
    senderScaledSiemens: senderOhm * high.wantedOhm * low.wantedOhm,
    wantedScaledSiemens: wantedOhm * high.senderOhm * low.senderOhm,
  };
};

const siemens = (first: number, second: number): string =>
  second > 0 ? `${figure((1000 * (first - second)) / (first * second))} mS` : 'an endless span';

const between = (high: Pair, low: Pair): string =>
  `sender ${figure(high.senderOhm)} and ${figure(low.senderOhm)} ohm, wanted ${figure(high.wantedOhm)} and ${figure(low.wantedOhm)} ohm`;

const message = (theorem: Theorem, high: Pair, low: Pair): string => {
  const spans = spansOf(high, low);
  const ohms = `${figure(spans.wantedOhm)} ohm wanted, ${figure(spans.senderOhm)} ohm there`;
  switch (theorem) {
    case 'SENSE':
      return `${between(high, low)}: the demand runs the other way from the sender, and no resistors can reverse a sender; a sender of the opposite sense or an active converter can`;
    case 'SPAN_OHM':
      return `${between(high, low)}: resistors around the sender can only shrink its span in ohms (${ohms}); a resistor across a two-terminal gauge, another sender or an active converter can widen it`;
    case 'SPAN_SIEMENS':
      return `${between(high, low)}: resistors around the sender can only shrink its span in siemens (${siemens(high.wantedOhm, low.wantedOhm)} wanted, ${siemens(high.senderOhm, low.senderOhm)} there); a sender of lower resistance or an active converter can widen it`;
    case 'RATIO':
      return `${between(high, low)}: resistors can only lower the ratio between the ends of a sender (${ohms}, and the siemens span is too small as well); a sender with a steeper curve or an active converter can raise it`;
  }
};

const isAbove = (wanted: number, there: number, scale: number): boolean => wanted - there > ROUNDING * scale;

/**
 * Which theorem forbids that any network of resistors around the sender turns `high` and `low` into what is wanted, or
 * undefined when one can. `high` has the higher sender resistance.
 * Source: 0 <= dR/dr <= 1 and 0 <= dG/dg <= 1 for every network of positive resistors; both spans exceeded implies the
 * ratio exceeded (derived, checked in feasibility.test.ts).
 */
export const forbiddenBy = (high: Pair, low: Pair): Theorem | undefined => {
  const spans = spansOf(high, low);
  if (spans.wantedOhm < 0) return 'SENSE';
  const ohm = isAbove(spans.wantedOhm, spans.senderOhm, Math.max(high.wantedOhm, high.senderOhm));
  const scale = high.wantedOhm * high.senderOhm * Math.max(low.senderOhm, low.wantedOhm);
  const scaled = isAbove(spans.wantedScaledSiemens, spans.senderScaledSiemens, scale);
  if (ohm && scaled) return 'RATIO';
  if (ohm) return 'SPAN_OHM';
  return scaled ? 'SPAN_SIEMENS' : undefined;
};

/** The refusal for two pairs, with the figures and what else would do; undefined when the demand is possible. */
export const refuseTwoPoints = (high: Pair, low: Pair): Refused<Theorem> | undefined => {
  const theorem = forbiddenBy(high, low);
  return theorem && refuse(theorem, message(theorem, high, low));
};
