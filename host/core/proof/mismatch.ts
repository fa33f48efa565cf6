import { chiSquaredTail } from '../numeric/chi-squared-tail';
import { choleskyFactor, forwardSubstitute } from '../numeric/cholesky';
import { NO_DIFFERENCE, type Chain, type ChainModel, type Difference } from './circuit-model';

/** What may part a vehicle from its curves. */
export const mismatchCauses = ['series', 'leak', 'volts', 'ground', 'family', 'pointer'] as const;
export type MismatchCause = (typeof mismatchCauses)[number];

/** The reading that tells a cause from the others, cheapest first. */
export const partingReadings = [
  'rest-mark',
  'open-volts',
  'sender-ohms',
  'lights',
  'wire-ohms',
  'leak-ohms',
] as const;
export type PartingReading = (typeof partingReadings)[number];

export type RankedCause = {
  /** One cause, or two at once. */
  readonly causes: readonly MismatchCause[];
  /** What each would be: ohms in series, ohms of the leak, parts of the volts, V, parts of the ohms, dial units. */
  readonly sizes: readonly number[];
  /** Share of the belief, 0 to 1; for ranking only. */
  readonly share: number;
  /** Causes that look exactly alike by any such pairs. */
  readonly alike: readonly MismatchCause[];
};

export type Mismatch = {
  readonly ranked: readonly RankedCause[];
  /** What to read next, to part the first two; undefined where there is one. */
  readonly tellsApart: PartingReading | undefined;
};

/** One pair as the ranking sees it: standard uncertainties in dial units. */
export type WeighedPair = {
  readonly value: number;
  readonly indicated: number;
  readonly own: number;
  readonly shared: number;
  readonly curves: number;
};

/**
 * Size that is usual of each, as a multiple of which it is looked for; ohms as parts of the sender's in the middle.
 * Assumed; no figures are published.
 */
const USUAL = { series: 0.3, leak: 0.1, logVolt: 0.08, groundVolt: 0.5, logOhm: 0.15, pointerPart: 0.04 };
const ONE_WAY: readonly MismatchCause[] = ['series', 'leak'];
/** Cosine of two effects from which on no pairs tell them apart. */
const ALIKE = 0.98;
/** A single cause that fits worse than this calls for two. */
const FITS = 0.05;
const FEWEST_FOR_TWO = 3;
const STEPS = 12;
const NUDGE = 1e-3;

const PARTS: Readonly<Record<MismatchCause, PartingReading>> = {
  series: 'wire-ohms',
  leak: 'leak-ohms',
  volts: 'open-volts',
  ground: 'lights',
  family: 'sender-ohms',
  pointer: 'rest-mark',
};

type Sizer = (size: number) => Partial<Difference>;

const sizersOf = ({ gauge }: Chain, { middleOhm }: ChainModel): Readonly<Record<MismatchCause, Sizer>> => ({
  series: (size) => ({ seriesOhm: size * USUAL.series * middleOhm }),
  leak: (size) => ({ leakSiemens: (size * USUAL.leak) / middleOhm }),
  volts: (size) => ({ logVolt: size * USUAL.logVolt }),
  ground: (size) => ({ groundVolt: size * USUAL.groundVolt }),
  family: (size) => ({ logOhm: size * USUAL.logOhm }),
  pointer: (size) => ({ pointer: size * USUAL.pointerPart * (gauge.highestReading - gauge.lowestReading) }),
});

/** As it is told: ohms of a leak instead of siemens, parts instead of logarithms. */
const toldSize = (difference: Partial<Difference>): number => {
  if (difference.leakSiemens !== undefined) return 1 / difference.leakSiemens;
  if (difference.logVolt !== undefined) return Math.exp(difference.logVolt) - 1;
  if (difference.logOhm !== undefined) return Math.exp(difference.logOhm) - 1;
  return difference.seriesOhm ?? difference.groundVolt ?? difference.pointer ?? 0;
};

type Problem = {
  /** Whitened misfit at these sizes. */
  readonly misfit: (causes: readonly MismatchCause[], sizes: readonly number[]) => number[];
  readonly difference: (cause: MismatchCause, size: number) => Partial<Difference>;
};

const problemOf = (chain: Chain, model: ChainModel, pairs: readonly WeighedPair[]): Problem | undefined => {
  const sizers = sizersOf(chain, model);
  const factor = choleskyFactor(
    pairs.map((one, i) =>
      pairs.map((other, j) => one.shared * other.shared + (i === j ? one.own ** 2 + one.curves ** 2 : 0)),
    ),
  );
  if (factor === undefined) return undefined;
  return {
    difference: (cause, size) => sizers[cause](size),
    misfit: (causes, sizes) => {
      const parts = causes.map((cause, k) => sizers[cause](sizes[k] ?? 0));
      const difference = parts.reduce<Difference>((all, part) => ({ ...all, ...part }), NO_DIFFERENCE);
      return forwardSubstitute(
        factor,
        pairs.map(({ value, indicated }) => indicated - model.reading(value, difference)),
      );
    },
  };
};

type Fitted = { readonly sizes: number[]; readonly misfit: number; readonly logEvidence: number };

const dot = (one: readonly number[], other: readonly number[]): number =>
  one.reduce((sum, each, i) => sum + each * other[i]!, 0);

const slopesOf = (problem: Problem, causes: readonly MismatchCause[], sizes: readonly number[]): number[][] =>
  causes.map((_, k) => {
    const moved = (by: number): number[] =>
      problem.misfit(
        causes,
        sizes.map((size, i) => (i === k ? size + by : size)),
      );
    const [up, down] = [moved(NUDGE), moved(-NUDGE)];
    return up.map((each, i) => (each - down[i]!) / (2 * NUDGE));
  });

/** (J'J + 1)^-1 J'e for one or two sizes, and ln of the determinant of J'J + 1. */
const stepOf = (
  slopes: readonly (readonly number[])[],
  misfit: readonly number[],
  sizes: readonly number[],
): { readonly step: number[]; readonly logDeterminant: number } => {
  const normal = slopes.map((one, i) => slopes.map((other, j) => dot(one, other) + (i === j ? 1 : 0)));
  const right = slopes.map((slope, i) => -dot(slope, misfit) - sizes[i]!);
  const [[a = 1, b = 0] = [], [, d = 1] = []] = normal;
  if (slopes.length === 1) return { step: [right[0]! / a], logDeterminant: Math.log(a) };
  const determinant = a * d - b * b;
  return {
    step: [(d * right[0]! - b * right[1]!) / determinant, (a * right[1]! - b * right[0]!) / determinant],
    logDeterminant: Math.log(determinant),
  };
};

/** Most probable sizes under a standard normal prior, by Gauss-Newton; evidence after Laplace. */
const fitOf = (problem: Problem, causes: readonly MismatchCause[]): Fitted => {
  let sizes = causes.map(() => 0);
  let logDeterminant = 0;
  for (let step = 0; step < STEPS; step += 1) {
    const found = stepOf(slopesOf(problem, causes, sizes), problem.misfit(causes, sizes), sizes);
    logDeterminant = found.logDeterminant;
    sizes = sizes.map((size, k) => {
      const next = size + Math.max(-1, Math.min(1, found.step[k]!));
      return ONE_WAY.includes(causes[k]!) ? Math.max(0, next) : next;
    });
  }
  const misfit = dot(problem.misfit(causes, sizes), problem.misfit(causes, sizes));
  return { sizes, misfit, logEvidence: -(misfit + dot(sizes, sizes) + logDeterminant) / 2 };
};

const effectOf = (problem: Problem, cause: MismatchCause): number[] => slopesOf(problem, [cause], [0])[0]!;

const cosine = (one: readonly number[], other: readonly number[]): number =>
  Math.abs(dot(one, other)) / Math.sqrt(Math.max(dot(one, one) * dot(other, other), Number.MIN_VALUE));

/** Causes that can move this needle at all by what is known. */
const candidatesOf = (chain: Chain, problem: Problem): readonly MismatchCause[] =>
  mismatchCauses
    .filter((cause) => cause !== 'volts' || chain.gauge.readingAtFeed !== undefined)
    .filter((cause) => effectOf(problem, cause).some((each) => Math.abs(each) > 1e-6));

const pairsOf = (causes: readonly MismatchCause[]): MismatchCause[][] =>
  causes.flatMap((one, i) => causes.slice(i + 1).map((other) => [one, other]));

/** Told once of causes that look alike: the reading to take is that of the cheaper one. */
const partingOf = (ranked: readonly RankedCause[]): PartingReading | undefined => {
  const [first, second] = ranked;
  if (first === undefined) return undefined;
  const causes = [...first.causes, ...first.alike, ...(second?.causes ?? [])];
  return partingReadings.find((reading) => causes.some((cause) => PARTS[cause] === reading));
};

const MOST_RANKED = 4;

/**
 * What would explain pairs that do not agree with their chain, likeliest first: one cause, two only where no single one
 * fits. It ranks and proves nothing; some causes are alike for any number of pairs.
 * Source: linear Gaussian model about the most probable size, evidence after Laplace; derived here.
 */
export const rankMismatch = (chain: Chain, model: ChainModel, pairs: readonly WeighedPair[]): Mismatch => {
  const problem = problemOf(chain, model, pairs);
  if (problem === undefined) return { ranked: [], tellsApart: undefined };
  const candidates = candidatesOf(chain, problem);
  const effects = new Map(candidates.map((cause) => [cause, effectOf(problem, cause)]));
  const singles = candidates.map((cause) => ({ causes: [cause], fit: fitOf(problem, [cause]) }));
  const isFitted = singles.some(({ fit }) => chiSquaredTail(fit.misfit, pairs.length) >= FITS);
  const twos =
    isFitted || pairs.length < FEWEST_FOR_TWO
      ? []
      : pairsOf(candidates).map((causes) => ({ causes, fit: fitOf(problem, causes) }));
  const all = [...singles, ...twos].sort((one, other) => other.fit.logEvidence - one.fit.logEvidence);
  const best = all[0]?.fit.logEvidence ?? 0;
  const total = all.reduce((sum, { fit }) => sum + Math.exp(fit.logEvidence - best), 0);
  const ranked = all.slice(0, MOST_RANKED).map(({ causes, fit }) => ({
    causes,
    sizes: causes.map((cause, k) => toldSize(problem.difference(cause, fit.sizes[k] ?? 0))),
    share: Math.exp(fit.logEvidence - best) / total,
    alike: candidates.filter(
      (other) =>
        causes.length === 1 &&
        !causes.includes(other) &&
        cosine(effects.get(causes[0]!) ?? [], effects.get(other) ?? []) > ALIKE,
    ),
  }));
  const told = ranked.filter(({ sizes }) => sizes.every((size) => Number.isFinite(size) && size !== 0));
  return { ranked: told, tellsApart: partingOf(told) };
};
