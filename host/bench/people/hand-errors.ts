import type { RandomSource } from '../../core/numeric/random';

/** How hand and meter err. Common practice, no source, for all of it. */
export type HandErrors = {
  /** The meter: one scale error for the whole job, and what is left of its leads; standard deviations. */
  readonly meterScalePart: number;
  readonly meterOffsetOhm: number;
  /** Counts of its display: 2000 show 148.2 as 148.2 and 214.6 as 215. */
  readonly meterCounts: number;
  /** Chance that one digit of what it shows is written down wrong. */
  readonly wrongDigit: number;
  /** Chance that "it is on" is said first, and it is put on when most of the wait is over. */
  readonly forgottenWait: number;
  /** Steps of a potentiometer over its whole track: a wire-wound one goes from turn to turn. */
  readonly trackSteps: number;
  /** Parts are off what is printed on them: a share, standard deviation. */
  readonly partTolerance: number;
};

export const ordinaryHand: HandErrors = {
  meterScalePart: 0.004,
  meterOffsetOhm: 0.1,
  meterCounts: 2_000,
  wrongDigit: 0.01,
  forgottenWait: 0.01,
  trackSteps: 400,
  partTolerance: 0.02,
};

/** The meter of one job: what it shows of a resistance, its leads counted in. */
export function handMeter(
  errors: HandErrors,
  random: RandomSource,
  leadsOhm: number,
): (trueOhm: number) => number {
  const scale = 1 + errors.meterScalePart * random.normal();
  const offsetOhm = leadsOhm + errors.meterOffsetOhm * random.normal();
  return (trueOhm) => {
    const seen = trueOhm * scale + offsetOhm;
    // Its range is the next power of ten; it shows that in so many counts.
    const decade = 10 ** Math.ceil(Math.log10(Math.max(1, seen) / errors.meterCounts));
    const shown = Math.max(0, Number((Math.round(seen / decade) * decade).toPrecision(6)));
    return random.uniform() < errors.wrongDigit ? miswritten(shown, random) : shown;
  };
}

/** One digit becomes another one. */
function miswritten(shown: number, random: RandomSource): number {
  const digits = [...String(shown)];
  const places = digits.flatMap((each, at) => (/\d/.test(each) ? [at] : []));
  const at = places[Math.floor(random.uniform() * places.length)] ?? 0;
  digits[at] = String((Number(digits[at]) + 1 + Math.floor(9 * random.uniform())) % 10);
  return Number(digits.join(''));
}

/** The place nearest to a wanted resistance at which a potentiometer can stand, its fixed resistor counted in, in ohm. */
export function onTrack(
  { trackSteps }: HandErrors,
  { wholeOhm, seriesOhm }: { readonly wholeOhm: number; readonly seriesOhm: number },
  wantedOhm: number,
): number {
  const step = Math.round(((wantedOhm - seriesOhm) / wholeOhm) * trackSteps);
  return seriesOhm + (Math.min(trackSteps, Math.max(0, step)) / trackSteps) * wholeOhm;
}
