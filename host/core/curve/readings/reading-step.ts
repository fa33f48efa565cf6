/** Below this part of the span a step is the display of a computer, not the eye of a person. */
const FINEST_PART = 1e-4;
/** A step may be this many times smaller than the smallest difference seen, for each reading beyond two. */
const STEPS_APART = 3;
const MOST_STEPS_APART = 18;
/** Readings may have been printed with few digits: so far, in steps, may they lie from a whole number of steps. */
const PRINTING = 0.04;
/** With fewer distinct readings than this, a common step can be chance. */
const FEWEST_DISTINCT = 4;
/** One of so many may be a slip that was not rounded as the others were; among more it no longer matters. */
const FEWEST_WITH_SLIP = 7;
const MOST_WITH_SLIP = 60;
/** What people read dials to when nothing tells: half of a twentieth of the scale (common practice, no source). */
const ASSUMED_PART = 1 / 40;

/**
 * The step to which readings were rounded: the largest of which all their differences are whole multiples, or all but
 * those of one reading, which may be a slip; 0 when there is none, a usual one when the readings are too few to tell.
 * Source: derived here.
 */
export function readingStepOf(readings: readonly number[]): number {
  const distinct = [...new Set(readings)].sort((a, b) => a - b);
  const span = distinct.at(-1)! - distinct[0]!;
  if (distinct.length < FEWEST_DISTINCT) return ASSUMED_PART * span;
  const step = commonStep(distinct, span);
  if (step > 0 || distinct.length < FEWEST_WITH_SLIP || distinct.length > MOST_WITH_SLIP) return step;
  return Math.max(
    ...distinct.map((_, k) =>
      commonStep(
        distinct.filter((__, i) => i !== k),
        span,
      ),
    ),
  );
}

function commonStep(distinct: readonly number[], span: number): number {
  const gaps = distinct.slice(1).map((value, i) => value - distinct[i]!);
  const smallest = Math.min(...gaps.filter((gap) => gap > FINEST_PART * span));
  const most = Math.min(STEPS_APART * (distinct.length - 2), MOST_STEPS_APART);
  for (let parts = 1; parts <= most; parts += 1) {
    const step = smallest / parts;
    if (step > FINEST_PART * span && distinct.every((value) => isMultiple(value - distinct[0]!, step)))
      return step;
  }
  return 0;
}

const isMultiple = (difference: number, step: number): boolean => {
  const count = difference / step;
  return Math.abs(count - Math.round(count)) < PRINTING;
};

/** Terms of the series below; the sum of those left out is under 3 % of step^2 / 12. */
const ROUNDING_TERMS = 25;

/**
 * The part of the rounding error that repeats of one reading share, as a variance, when they are `apart` dial units
 * from each other and scatter by `scatter` before rounding. All of step^2 / 12 without scatter, none once the scatter
 * reaches a third of the step: it dithers the rounding away.
 * Source: Fourier series of the rounding error (a sawtooth), averaged over a normal scatter; Widrow and Kollar,
 * Quantization Noise (2008), chapter 4 (from memory), checked by simulation in the tests.
 */
export function sharedRounding(step: number, scatter: number, apart: number): number {
  if (step === 0) return 0;
  let sum = 0;
  for (let j = 1; j <= ROUNDING_TERMS; j += 1) {
    const decay = Math.exp(-(((2 * Math.PI * j * scatter) / step) ** 2));
    sum += (decay * Math.cos((2 * Math.PI * j * apart) / step)) / (2 * (Math.PI * j) ** 2);
  }
  return step * step * sum;
}

/**
 * The scatter before rounding that gives a spread `within` between rounded repeats (as a variance).
 * Source: within = scatter^2 + step^2 / 12 - shared rounding, solved by bisection.
 */
export function scatterBehind(step: number, within: number): number {
  let [low, high] = [0, Math.sqrt(Math.max(within, 0))];
  for (let count = 0; count < 40; count += 1) {
    const middle = (low + high) / 2;
    const spread = middle * middle + (step * step) / 12 - sharedRounding(step, middle, 0);
    if (spread < within) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}
