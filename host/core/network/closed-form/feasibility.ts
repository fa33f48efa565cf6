import type { Refusal } from '../../refusal';
import { refuse } from '../../refusal';
import type { Pair } from './pair';

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

/** The refusal for two pairs, with the figures; undefined when the demand is possible. */
export const refuseTwoPoints = (high: Pair, low: Pair): Refusal<Theorem> | undefined => {
  const theorem = forbiddenBy(high, low);
  return (
    theorem &&
    refuse(theorem, {
      highSenderOhm: high.senderOhm,
      lowSenderOhm: low.senderOhm,
      highWantedOhm: high.wantedOhm,
      lowWantedOhm: low.wantedOhm,
    })
  );
};
