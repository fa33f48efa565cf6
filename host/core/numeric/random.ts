/** A stream of pseudo-random numbers that its seed fixes completely: the same seed gives the same stream everywhere. */
export type RandomSource = {
  /** Uniform in the open interval (0, 1): never 0 and never 1, so logarithms and quantiles are safe. */
  readonly uniform: () => number;
  /** Standard normal: mean 0, standard deviation 1. */
  readonly normal: () => number;
  /** Gamma with the given shape (> 0) and scale 1. */
  readonly gamma: (shape: number) => number;
  /** Student t with the given degrees of freedom (> 0; infinite means normal), scale 1. */
  readonly studentT: (degreesOfFreedom: number) => number;
};

const TWO_TO_32 = 4_294_967_296;
const TWO_TO_26 = 67_108_864;

/**
 * Generator seeded by one number; seeds differing in any of their 32 low bits give unrelated streams.
 * Source: xoshiro128** 1.1, Blackman and Vigna, Scrambled linear pseudorandom number generators, ACM TOMS 47 (2021)
 * 36; its state is filled by the splitmix finaliser of Steele, Lea and Flood (2014), 32-bit form.
 */
export function randomSource(seed: number): RandomSource {
  const nextWord = xoshiro128(seed);
  // 52 random bits and half a step, so that 0 and 1 cannot occur.
  const uniform = (): number => {
    const high = nextWord() >>> 6;
    const low = nextWord() >>> 6;
    return (high * TWO_TO_26 + low + 0.5) / (TWO_TO_26 * TWO_TO_26);
  };
  const normal = polarNormal(uniform);
  const gamma = (shape: number): number => marsagliaGamma(shape, { uniform, normal });
  const studentT = (degreesOfFreedom: number): number =>
    Number.isFinite(degreesOfFreedom)
      ? normal() / Math.sqrt((2 * gamma(degreesOfFreedom / 2)) / degreesOfFreedom)
      : normal();
  return { uniform, normal, gamma, studentT };
}

function xoshiro128(seed: number): () => number {
  const state = seedWords(seed);
  return () => {
    const s1 = state[1]!;
    const result = Math.imul(rotateLeft(Math.imul(s1, 5), 7), 9) >>> 0;
    state[2]! ^= state[0]!;
    state[3]! ^= s1;
    state[1]! ^= state[2]!;
    state[0]! ^= state[3]!;
    state[2]! ^= s1 << 9;
    state[3] = rotateLeft(state[3]!, 11);
    return result;
  };
}

function seedWords(seed: number): Uint32Array {
  const words = new Uint32Array(4);
  // Both halves of a seed beyond 32 bits count.
  let mixed = (Math.trunc(seed) >>> 0) ^ Math.trunc(seed / TWO_TO_32);
  for (let index = 0; index < words.length; index += 1) {
    mixed = (mixed + 0x9e3779b9) >>> 0;
    let word = mixed;
    word = Math.imul(word ^ (word >>> 16), 0x21f0aaad);
    word = Math.imul(word ^ (word >>> 15), 0x735a2d97);
    words[index] = word ^ (word >>> 15);
  }
  return words;
}

const rotateLeft = (word: number, bits: number): number => (word << bits) | (word >>> (32 - bits));

// Source: Marsaglia and Bray, A convenient method for generating normal variables, SIAM Review 6 (1964) 260-264.
function polarNormal(uniform: () => number): () => number {
  let spare: number | undefined;
  return () => {
    if (spare !== undefined) {
      const kept = spare;
      spare = undefined;
      return kept;
    }
    for (;;) {
      const x = 2 * uniform() - 1;
      const y = 2 * uniform() - 1;
      const radius2 = x * x + y * y;
      if (radius2 >= 1 || radius2 === 0) continue;
      const factor = Math.sqrt((-2 * Math.log(radius2)) / radius2);
      spare = y * factor;
      return x * factor;
    }
  };
}

// Source: Marsaglia and Tsang, A simple method for generating gamma variables, ACM TOMS 26 (2000) 363-372; shapes
// below 1 by their own boost, gamma(a) = gamma(a + 1) U^(1/a).
function marsagliaGamma(shape: number, source: Pick<RandomSource, 'uniform' | 'normal'>): number {
  if (shape < 1) return marsagliaGamma(shape + 1, source) * source.uniform() ** (1 / shape);
  const d = shape - 1 / 3;
  const c = 1 / Math.sqrt(9 * d);
  for (;;) {
    const x = source.normal();
    const v = (1 + c * x) ** 3;
    if (v <= 0) continue;
    if (Math.log(source.uniform()) < 0.5 * x * x + d - d * v + d * Math.log(v)) return d * v;
  }
}
