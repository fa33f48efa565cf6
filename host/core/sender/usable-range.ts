import type { Quantity } from '../response';
import { lawOhm, type SenderLaw } from './law';

/** Arguments between which a law is single-valued, finite and not negative, known range included. */
export type UsableRange = { readonly from: number; readonly to: number };

/** Why a law cannot serve between its own points. */
export type Unusable = 'turns-back' | 'not-a-resistance';

const SCAN_STEPS = 200;
/** Rounding moves a flat stretch of a cubic by less than this share of the whole. */
const STILL_SHARE = 1e-12;
/** No sender of this trade is asked below -60 or above 300 degC. */
const COLDEST_CELSIUS = -60;
const HOTTEST_CELSIUS = 300;
/** Furthest extrapolation of a temperature sender, kelvin; the ends of the dial always lie within. */
const FURTHEST_KELVIN = 150;

/**
 * How far a law may be followed beyond its points: as long as it keeps its sense and gives a resistance, at most one
 * span further (150 K for temperature); or what is wrong with it between the points.
 * Source: derived here.
 */
export function usableRange(law: SenderLaw, known: UsableRange, quantity: Quantity): UsableRange | Unusable {
  const direction = Math.sign(lawOhm(law, known.to) - lawOhm(law, known.from));
  const fault = faultWithin(law, known, direction);
  if (fault !== undefined) return fault;
  const reach = outerLimits(known, quantity);
  return {
    from: walk({ law, start: known.from, limit: reach.from, direction: -direction }),
    to: walk({ law, start: known.to, limit: reach.to, direction }),
  };
}

function outerLimits(known: UsableRange, quantity: Quantity): UsableRange {
  const span = known.to - known.from;
  if (quantity !== 'temperature') return { from: known.from - span, to: known.to + span };
  return {
    from: Math.min(known.from, Math.max(COLDEST_CELSIUS, known.from - FURTHEST_KELVIN)),
    to: Math.max(known.to, Math.min(HOTTEST_CELSIUS, known.to + FURTHEST_KELVIN)),
  };
}

function faultWithin(law: SenderLaw, { from, to }: UsableRange, direction: number): Unusable | undefined {
  // A table is monotone by construction and may hold still; a formula may not.
  const mayRest = law.name === 'table';
  let last = lawOhm(law, from);
  const still = STILL_SHARE * Math.abs(lawOhm(law, to) - last);
  if (!isResistance(last)) return 'not-a-resistance';
  for (let step = 1; step <= SCAN_STEPS; step += 1) {
    const ohm = lawOhm(law, from + ((to - from) * step) / SCAN_STEPS);
    const moved = mayRest && Math.abs(ohm - last) <= still ? 0 : Math.sign(ohm - last);
    if (!isResistance(ohm)) return 'not-a-resistance';
    if (!(moved === direction || (mayRest && moved === 0)) || direction === 0) return 'turns-back';
    last = ohm;
  }
  return undefined;
}

type Walk = { law: SenderLaw; start: number; limit: number; direction: number };

/** The last argument on the way to the limit at which the law still behaves. */
function walk({ law, start, limit, direction }: Walk): number {
  let reached = start;
  let last = lawOhm(law, start);
  for (let step = 1; step <= SCAN_STEPS; step += 1) {
    const argument = start + ((limit - start) * step) / SCAN_STEPS;
    const ohm = lawOhm(law, argument);
    if (!isResistance(ohm) || Math.sign(ohm - last) !== direction) return reached;
    reached = argument;
    last = ohm;
  }
  return limit;
}

/** Beyond 1 Gohm a sender is an open circuit. A fitted line may pass zero by rounding: -1e-9 ohm is zero. */
const isResistance = (ohm: number): boolean => ohm >= -1e-9 && ohm < 1e9;
