/** What a person saw at one resistance while walking the needle onto a mark. */
export type SeekAnswer = { readonly resistanceOhm: number; readonly needle: 'below' | 'above' | 'on' };

export type SeekRange = {
  readonly lowestOhm: number;
  readonly highestOhm: number;
  /** True when more resistance moves the needle upscale. */
  readonly risesWithResistance: boolean;
  /** Where the mark is thought to be. */
  readonly startOhm: number;
  /** Relative size of the first step, for example 0.2. */
  readonly firstStepFraction: number;
  /** The needle cannot be told apart from the mark over a smaller relative change than this. */
  readonly resolvedFraction: number;
};

export type SeekMove =
  | { readonly kind: 'try'; readonly resistanceOhm: number }
  /** `onMark`: the person saw it there; otherwise the bracket has closed to what can be told apart. */
  | {
      readonly kind: 'found';
      readonly resistanceOhm: number;
      readonly relativeUncertainty: number;
      readonly onMark: boolean;
    }
  /** The needle stays on one side of the mark over the whole range. */
  | { readonly kind: 'unreachable'; readonly needle: 'below' | 'above'; readonly resistanceOhm: number };

/**
 * Bracket in z = ln R, signed so that the needle rises with z. `sinceLow` counts the answers since the low edge moved:
 * an edge that everything else runs up against was probably a slip of the finger.
 */
type Bracket = {
  readonly low: number | undefined;
  readonly high: number | undefined;
  readonly sinceLow: number;
  readonly sinceHigh: number;
  /** Steps walked with only one edge known; each is twice as long as the one before. */
  readonly gallop: number;
  /** An edge was forgotten: the mark is near, so the walk starts small. */
  readonly isReopened: boolean;
};

const EMPTY: Bracket = {
  low: undefined,
  high: undefined,
  sinceLow: 0,
  sinceHigh: 0,
  gallop: 0,
  isReopened: false,
};

/** So many answers in a row against one edge, with the bracket closed, and the edge is tested again. */
const SUSPECT_AFTER = 3;
/** A person gives up before a search does; then the bracket as it is is the answer. */
const MOST_ANSWERS = 40;

/** The far edge after an answer at `z`: kept and counted, or forgotten when the answer contradicts it. */
const farEdge = (edge: number | undefined, isContradicted: boolean, since: number) =>
  edge === undefined || isContradicted ? { edge: undefined, since: 0 } : { edge, since: since + 1 };

const answered = (bracket: Bracket, z: number, needle: 'below' | 'above'): Bracket => {
  const far = needle === 'below' ? bracket.high : bracket.low;
  const isContradicted = far !== undefined && (needle === 'below' ? z >= far : z <= far);
  const since = needle === 'below' ? bracket.sinceHigh : bracket.sinceLow;
  const kept = farEdge(far, isContradicted, since);
  const next = {
    gallop: kept.edge === undefined ? (isContradicted ? 1 : bracket.gallop + 1) : 0,
    isReopened: kept.edge === undefined && (bracket.isReopened || isContradicted),
  };
  return needle === 'below'
    ? { low: z, high: kept.edge, sinceLow: 0, sinceHigh: kept.since, ...next }
    : { low: kept.edge, high: z, sinceLow: kept.since, sinceHigh: 0, ...next };
};

/** Closed on one edge by answers that all point at it: forget the edge and walk on past it. */
const doubt = (bracket: Bracket, resolved: number): Bracket => {
  const { low, high } = bracket;
  if (low === undefined || high === undefined || high - low > resolved) return bracket;
  const reopened = { gallop: 1, isReopened: true, sinceLow: 0, sinceHigh: 0 };
  if (bracket.sinceHigh >= SUSPECT_AFTER) return { ...reopened, low, high: undefined };
  if (bracket.sinceLow >= SUSPECT_AFTER) return { ...reopened, low: undefined, high };
  return bracket;
};

type Scale = {
  readonly zOf: (ohm: number) => number;
  readonly ohmOf: (z: number) => number;
  readonly minZ: number;
  readonly maxZ: number;
};

const scaleOf = (range: SeekRange): Scale => {
  const sign = range.risesWithResistance ? 1 : -1;
  const zOf = (ohm: number): number => sign * Math.log(ohm);
  const ends = [zOf(range.lowestOhm), zOf(range.highestOhm)];
  const ohmOf = (z: number): number =>
    Math.min(range.highestOhm, Math.max(range.lowestOhm, Math.exp(sign * z)));
  return { zOf, ohmOf, minZ: Math.min(...ends), maxZ: Math.max(...ends) };
};

/** One step past the only known edge, each twice as long as the one before, within the range. */
const walk = (bracket: Bracket, scale: Scale, step: number): number | undefined => {
  const length = step * 2 ** Math.max(0, bracket.gallop - 1);
  if (bracket.low !== undefined)
    return bracket.low >= scale.maxZ ? undefined : Math.min(scale.maxZ, bracket.low + length);
  if (bracket.high !== undefined)
    return bracket.high <= scale.minZ ? undefined : Math.max(scale.minZ, bracket.high - length);
  return undefined;
};

/** Shortest step worth making after an edge was doubted: well past what can be told apart. */
const REOPEN_STEPS = 2;

const nextTry = (bracket: Bracket, scale: Scale, range: SeekRange): SeekMove => {
  const { low, high } = bracket;
  if (low !== undefined && high !== undefined) {
    const half = (high - low) / 2;
    const resistanceOhm = scale.ohmOf(low + half);
    if (high - low > range.resolvedFraction) return { kind: 'try', resistanceOhm };
    return { kind: 'found', resistanceOhm, relativeUncertainty: half / Math.sqrt(3), onMark: false };
  }
  const step = bracket.isReopened ? REOPEN_STEPS * range.resolvedFraction : range.firstStepFraction;
  const z = walk(bracket, scale, step);
  if (z !== undefined) return { kind: 'try', resistanceOhm: scale.ohmOf(z) };
  return low !== undefined
    ? { kind: 'unreachable', needle: 'below', resistanceOhm: scale.ohmOf(low) }
    : { kind: 'unreachable', needle: 'above', resistanceOhm: scale.ohmOf(high ?? scale.minZ) };
};

/** Equal but for the rounding of logarithms. */
const isSame = (oneOhm: number, otherOhm: number): boolean => Math.abs(oneOhm / otherOhm - 1) < 1e-6;

/** The end of the range is believed when it was seen twice: one answer there may be a slip. */
const askAgain = (move: SeekMove, answers: readonly SeekAnswer[]): SeekMove => {
  if (move.kind !== 'unreachable') return move;
  const seenThere = answers.slice(-2).filter(({ resistanceOhm, needle }) => {
    return isSame(resistanceOhm, move.resistanceOhm) && needle === move.needle;
  });
  return seenThere.length === 2 ? move : { kind: 'try', resistanceOhm: move.resistanceOhm };
};

/**
 * A bracket that closed although nobody said "on" has an edge that may be a slip: the one that has stood longest is asked
 * about once more. What it says then stands, or re-opens the bracket.
 */
const doubleChecked = (
  move: SeekMove,
  { low, high, sinceLow, sinceHigh }: Bracket,
  { ohmOf }: Scale,
  answers: readonly SeekAnswer[],
): SeekMove => {
  if (move.kind !== 'found' || low === undefined || high === undefined) return move;
  const resistanceOhm = ohmOf(sinceLow > sinceHigh ? low : high);
  const asked = answers.filter((answer) => isSame(answer.resistanceOhm, resistanceOhm)).length;
  return asked > 1 ? move : { kind: 'try', resistanceOhm };
};

/**
 * The next resistance on the way to a mark, from everything answered so far (so that a crash loses nothing): walk until
 * the mark is between two answers, then halve in ln R. An answer that contradicts the bracket, or an edge that every
 * later answer runs up against, re-opens it: people slip.
 * Resistances in ohm; fractions are relative. Source: bisection; derived here, see tests/core/plan/seek.test.ts.
 */
export const seekMove = (answers: readonly SeekAnswer[], range: SeekRange): SeekMove => {
  const scale = scaleOf(range);
  const last = answers.at(-1);
  if (last === undefined) {
    const z = Math.min(scale.maxZ, Math.max(scale.minZ, scale.zOf(range.startOhm)));
    return { kind: 'try', resistanceOhm: scale.ohmOf(z) };
  }
  if (last.needle === 'on') {
    const relativeUncertainty = range.resolvedFraction / (2 * Math.sqrt(3));
    return { kind: 'found', resistanceOhm: last.resistanceOhm, relativeUncertainty, onMark: true };
  }
  const bracket = answers.reduce<Bracket>((so, answer) => {
    if (answer.needle === 'on') return so;
    return doubt(answered(so, scale.zOf(answer.resistanceOhm), answer.needle), range.resolvedFraction);
  }, EMPTY);
  const move = doubleChecked(askAgain(nextTry(bracket, scale, range), answers), bracket, scale, answers);
  if (move.kind !== 'try' || answers.length < MOST_ANSWERS) return move;
  if (bracket.low === undefined || bracket.high === undefined) {
    return { kind: 'unreachable', needle: last.needle, resistanceOhm: last.resistanceOhm };
  }
  const relativeUncertainty = Math.max(range.firstStepFraction, range.resolvedFraction);
  return { kind: 'found', resistanceOhm: move.resistanceOhm, relativeUncertainty, onMark: false };
};
