import { monotoneRoot } from '../numeric/monotone-root';
import { type Refusal, refuse } from '../refusal';
import type { Quantity } from '../response';
import { lawArgument, lawOhm, lawSlope, type SenderLaw } from './law';
import type { LawFit } from './law-fit';
import { exceedsChance } from '../numeric/chi-squared';
import type { LawPoint, UncertaintyBasis } from './points';
import { knotsAround } from './table';
import { type Unusable, type UsableRange, usableRange } from './usable-range';

/** A law fitted to prepared points, with where it may be used and how far it misses. */
export type Candidate = {
  readonly kind: 'candidate';
  readonly fit: LawFit;
  readonly basis: UncertaintyBasis;
  readonly points: readonly LawPoint[];
  readonly quantity: Quantity;
  readonly usable: UsableRange;
  /** Measured less fitted value of each point, in law arguments. */
  readonly residuals: readonly number[];
};

/** Worst residual that an automatic choice forgives when the points carry no uncertainty. Common practice, no source. */
const FORGIVEN_SPAN_FRACTION = 0.02;
/** A thermistor law is physics: reading errors of a kitchen bath must not turn it into a table through every error. */
const FORGIVEN_THERMISTOR_FRACTION = 0.05;
/** A law that misses by more than this is no description of the sender at all. Common practice, no source. */
const HOPELESS_SPAN_FRACTION = 0.1;

export type CandidateContext = Pick<Candidate, 'points' | 'quantity' | 'basis'>;

/** A fitted law with its range and residuals. Source: derived here. Refuses: SENDER_NOT_MONOTONE, SENDER_NEGATIVE. */
export function candidateFrom(fit: LawFit, context: CandidateContext): Candidate | Refusal {
  const { points, quantity } = context;
  const known = { from: points[0]!.argument, to: points.at(-1)!.argument };
  const usable = usableRange(fit.law, known, quantity);
  if (typeof usable === 'string') return unusable(fit.law, usable, points);
  if (points.some(({ ohm }) => !isOnBranch(fit.law, ohm))) return unusable(fit.law, 'turns-back', points);
  const residuals = points.map((point) => residualOf(fit.law, usable, point));
  return { kind: 'candidate', fit, ...context, usable, residuals };
}

/** Rounding of a cubic solved near its turning point, relative; another branch lies much further off. */
const SAME_OHM = 1e-6;

/**
 * False for a resistance that belongs to another branch of a cubic: the law gives the right temperature for it, and a
 * different resistance back.
 */
function isOnBranch(law: SenderLaw, ohm: number): boolean {
  const argument = law.name === 'steinhart-hart' ? lawArgument(law, ohm) : undefined;
  if (argument === undefined || !Number.isFinite(argument)) return true;
  return Math.abs(lawOhm(law, argument) / ohm - 1) < SAME_OHM;
}

function unusable(law: SenderLaw, fault: Unusable, points: readonly LawPoint[]): Refusal {
  const slots = { model: law.name, from: points[0]!.value, to: points.at(-1)!.value };
  return fault === 'not-a-resistance'
    ? refuse('SENDER_NEGATIVE', slots)
    : refuse('SENDER_NOT_MONOTONE', slots);
}

/** Rounding of exp(ln R), relative. */
const LAST_PLACES = 1e-12;

/**
 * Argument at which a law has a resistance, within its usable range; undefined outside.
 * Source: closed forms of the laws, otherwise bracketing (the law is monotone there).
 */
export function argumentAt(law: SenderLaw, usable: UsableRange, ohm: number): number | undefined {
  const closed = lawArgument(law, ohm);
  if (closed === undefined) {
    const within = law.name === 'table' ? knotsAround(law, usable, ohm) : usable;
    const target = law.name === 'table' ? atKnots(law, within, ohm) : ohm;
    return monotoneRoot((argument) => lawOhm(law, argument), { ...within, target });
  }
  const slack = 1e-9 * (usable.to - usable.from);
  return closed >= usable.from - slack && closed <= usable.to + slack ? closed : undefined;
}

/** exp(ln R) may miss R in its last place: between two knots their own computed ohms are the ends. */
function atKnots(law: SenderLaw, within: UsableRange, ohm: number): number {
  const ends = [lawOhm(law, within.from), lawOhm(law, within.to)] as const;
  const [low, high] = [Math.min(...ends), Math.max(...ends)];
  const held = Math.min(high, Math.max(low, ohm));
  return Math.abs(held - ohm) <= LAST_PLACES * ohm ? held : ohm;
}

function residualOf(law: SenderLaw, usable: UsableRange, point: LawPoint): number {
  const argument = argumentAt(law, usable, point.ohm);
  if (argument !== undefined) return point.argument - argument;
  // The law never takes this resistance: the tangent tells how far off it is.
  const slope = lawSlope(law, point.argument);
  return slope === 0 ? 0 : (lawOhm(law, point.argument) - point.ohm) / slope;
}

/** Largest residual, in law arguments. Source: definition. */
export const worstResidual = ({ residuals }: Candidate): number => Math.max(...residuals.map(Math.abs));

/** True when a law misses so far that it does not describe the sender. Source: the limit above. */
export const isHopeless = (candidate: Candidate): boolean =>
  worstResidual(candidate) > HOPELESS_SPAN_FRACTION * spanOf(candidate);

/**
 * True when the points speak against the law: beyond their uncertainties, or by a visible share of the span.
 * Source: `exceedsChance` where uncertainties were given; the shares above otherwise.
 */
export function isContradicted(candidate: Candidate): boolean {
  const { basis, fit, points } = candidate;
  if (fit.law.name === 'table' || basis === 'assumed') return false;
  if (basis === 'given') return exceedsChance(fit.chiSquared, points.length - fit.values.length);
  const isThermistor = fit.law.name === 'steinhart-hart' || fit.law.name === 'beta';
  const forgiven = isThermistor ? FORGIVEN_THERMISTOR_FRACTION : FORGIVEN_SPAN_FRACTION;
  return worstResidual(candidate) > forgiven * spanOf(candidate);
}

const spanOf = ({ points }: Candidate): number => points.at(-1)!.argument - points[0]!.argument;
