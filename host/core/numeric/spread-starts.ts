/** Decades over which a first guess may be wrong. Four columns of zeros is where people's guesses end. */
const DECADES = 3;
const PRIMES = [2, 3, 5, 7, 11, 13, 17, 19, 23, 29] as const;

/**
 * Further starts around a first guess that may be wrong by orders of magnitude: all parameters scaled together by whole
 * decades, then each by its own power of ten, spread evenly. Signs are kept; the same guess gives the same starts.
 * Source: Halton (1960), Numerische Mathematik 2, 84-90, radical inverse in the first primes.
 */
export function spreadStarts(guess: readonly number[], count: number): number[][] {
  const together = [-1, 1, -2, 2, -3, 3].map((power) => guess.map((value) => value * 10 ** power));
  const apart = Array.from({ length: Math.max(0, count - together.length) }, (_, index) =>
    guess.map((value, j) => value * 10 ** (DECADES * (2 * radicalInverse(index + 1, primeOf(j)) - 1))),
  );
  return [...together, ...apart].slice(0, count);
}

const primeOf = (parameter: number): number => PRIMES[parameter % PRIMES.length]!;

function radicalInverse(index: number, base: number): number {
  let rest = index;
  let digit = 1 / base;
  let sum = 0;
  while (rest > 0) {
    sum += (rest % base) * digit;
    rest = Math.floor(rest / base);
    digit /= base;
  }
  return sum;
}
