/** Steps that people read a scale to: 1, 2, 2.5 or 5 times a power of ten. */
const NICE = [5, 2.5, 2, 1] as const;
/** Below this part of the span a step is the display of a computer, not the eye of a person. */
const FINEST_PART = 1e-4;

/**
 * The step to which readings were rounded: the largest nice number of which all are whole multiples; 0 when none is.
 * Source: derived here.
 */
export function readingStepOf(readings: readonly number[]): number {
  const span = Math.max(...readings) - Math.min(...readings);
  if (!(span > 0)) return 0;
  for (let power = Math.floor(Math.log10(span)); 10 ** power > FINEST_PART * span; power -= 1)
    for (const nice of NICE) {
      const step = nice * 10 ** power;
      if (step <= span && readings.every((reading) => isMultiple(reading, step))) return step;
    }
  return 0;
}

/** Terms of the series; the sum of those left out is under 3 % of step^2 / 12. */
const ROUNDING_TERMS = 25;

const isMultiple = (reading: number, step: number): boolean => {
  const count = reading / step;
  return Math.abs(count - Math.round(count)) < 1e-6;
};

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
