import { isotonic } from './isotonic';
import { refuse, type Refusal } from '../refusal';

/** A filling, or a drive that took fuel out: what has gone in since honest low, and where the needle came to rest. */
export type StrapStep = {
  readonly litre: number;
  readonly needle: number;
  readonly way: 'filling' | 'driving';
  /** The needle fell away and came back: a worn track, struck from the table. */
  readonly isDropout?: boolean | undefined;
};

export type StrapQuestion = {
  /** Litres that stay in the tank whatever the pump draws. */
  readonly unusableLitre: number;
  /** Between the litres that went in and those that came out, if the tank was filled to the same mark twice. */
  readonly closingLitre?: number | undefined;
  /** Uncertainty of the needle at 95 %, dial units. */
  readonly needleUncertainty: number;
  /** Of one filling at 95 %, litres, and the part of the litres that all share. */
  readonly litreUncertainty: number;
  readonly litrePart: number;
};

/** Litres at a needle position, one row of the table; `usable` is what may be driven on. */
export type StrapRow = {
  readonly needle: number;
  readonly litre: number;
  readonly usableLitre: number;
  /** Standard, litres. */
  readonly standardUncertainty: number;
};

export type Strap = {
  readonly kind: 'strap';
  readonly filling: readonly StrapRow[];
  readonly driving: readonly StrapRow[];
  /** Largest difference of the two ways at one litre, dial units; undefined where only one way was read. */
  readonly hysteresis: number | undefined;
  readonly dropouts: readonly StrapStep[];
  readonly unusableLitre: number;
};

export type StrapRefusal = Refusal<'STRAP_TOO_FEW' | 'STRAP_STEP'>;

const FEWEST = 4;
const COVERAGE_FACTOR = 2;

const faultOf = (steps: readonly StrapStep[]): StrapRefusal | undefined => {
  for (const [index, { litre, needle }] of steps.entries())
    if (!(Number.isFinite(litre) && Number.isFinite(needle) && litre >= 0))
      return refuse('STRAP_STEP', { number: index + 1, litre, wrong: 'number' });
  for (const way of ['filling', 'driving'] as const) {
    const own = steps
      .map((step, index) => ({ ...step, number: index + 1 }))
      .filter((step) => step.way === way);
    const turned = own.find(
      (step, index) =>
        index > 0 && Math.sign(step.litre - own[index - 1]!.litre) === (way === 'filling' ? -1 : 1),
    );
    if (turned !== undefined)
      return refuse('STRAP_STEP', { number: turned.number, litre: turned.litre, wrong: 'order' });
  }
  return undefined;
};

/** What did not close is spread evenly over what went in. */
const spread = (steps: readonly StrapStep[], closingLitre: number): readonly StrapStep[] => {
  const most = Math.max(...steps.map(({ litre }) => litre));
  return most === 0 || closingLitre === 0
    ? steps
    : steps.map((step) => ({ ...step, litre: step.litre - (closingLitre * step.litre) / most }));
};

/** The needle over litres made monotone: a float cannot fall while fuel goes in. Source: pool adjacent violators. */
const rowsOf = (steps: readonly StrapStep[], question: StrapQuestion): StrapRow[] => {
  const sorted = [...steps].sort((one, other) => one.litre - other.litre);
  const needles = isotonic(sorted.map(({ needle }) => needle));
  return sorted.map(({ litre }, index) => ({
    needle: needles[index]!,
    litre,
    usableLitre: Math.max(0, litre - question.unusableLitre),
    standardUncertainty: standardAt(sorted, needles, index, question),
  }));
};

/** Of the litres at a needle: the filling's own, its share of the pump's class, and the needle's over the slope here. */
const standardAt = (
  steps: readonly StrapStep[],
  needles: readonly number[],
  index: number,
  { needleUncertainty, litreUncertainty, litrePart }: StrapQuestion,
): number => {
  const [before, after] = [Math.max(0, index - 1), Math.min(steps.length - 1, index + 1)];
  const rise = needles[after]! - needles[before]!;
  const run = steps[after]!.litre - steps[before]!.litre;
  // A flat stretch tells nothing within it: all its litres are possible.
  const ofNeedle = rise > 0 ? Math.min(run, (needleUncertainty / COVERAGE_FACTOR) * (run / rise)) : run;
  return Math.hypot(
    ofNeedle,
    litreUncertainty / COVERAGE_FACTOR,
    (litrePart * steps[index]!.litre) / COVERAGE_FACTOR,
  );
};

/** Litres at a needle by a table, straight between its rows; of a flat stretch the least. Held at the ends. */
export const litreAt = (rows: readonly StrapRow[], needle: number): StrapRow | undefined => {
  const next = rows.findIndex((row) => row.needle >= needle);
  if (next < 0) return rows.at(-1);
  const [low, high] = [rows[Math.max(0, next - 1)]!, rows[next]!];
  if (next === 0 || high.needle === low.needle) return high;
  const part = (needle - low.needle) / (high.needle - low.needle);
  const mix = (one: number, other: number): number => one + part * (other - one);
  return {
    needle,
    litre: mix(low.litre, high.litre),
    usableLitre: mix(low.usableLitre, high.usableLitre),
    standardUncertainty: Math.max(low.standardUncertainty, high.standardUncertainty),
  };
};

const hysteresisOf = (filling: readonly StrapRow[], driving: readonly StrapRow[]): number | undefined => {
  if (filling.length < 2 || driving.length < 2) return undefined;
  const differences = driving.flatMap(({ litre, needle }) => {
    const next = filling.findIndex((row) => row.litre >= litre);
    if (next < 1) return [];
    const [low, high] = [filling[next - 1]!, filling[next]!];
    const part = high.litre === low.litre ? 0 : (litre - low.litre) / (high.litre - low.litre);
    return [Math.abs(needle - (low.needle + part * (high.needle - low.needle)))];
  });
  return differences.length === 0 ? undefined : Math.max(...differences);
};

/**
 * Litres against the needle, both ways, from honest low up and down again by driving.
 * Source: pool adjacent violators (Barlow and others, Statistical Inference under Order Restrictions, 1972; from memory).
 * Refuses: fewer than four sound steps (STRAP_TOO_FEW), a step that is no number or turns back (STRAP_STEP).
 */
export const strapOf = (steps: readonly StrapStep[], question: StrapQuestion): Strap | StrapRefusal => {
  const fault = faultOf(steps);
  if (fault !== undefined) return fault;
  const closed = spread(steps, question.closingLitre ?? 0);
  const sound = closed.filter(({ isDropout }) => isDropout !== true);
  if (sound.length < FEWEST) return refuse('STRAP_TOO_FEW', { given: sound.length, fewest: FEWEST });
  const [filling, driving] = (['filling', 'driving'] as const).map((way) =>
    rowsOf(
      sound.filter((step) => step.way === way),
      question,
    ),
  );
  return {
    kind: 'strap',
    filling: filling!,
    driving: driving!,
    hysteresis: hysteresisOf(filling!, driving!),
    dropouts: closed.filter(({ isDropout }) => isDropout === true),
    unusableLitre: question.unusableLitre,
  };
};
