import { ohmFromCompressed } from '../identify/compressed-ohm';
import { arcOf, type ArcScale } from './arc-scale';
import { columnAt, POSITIONS, type Axis } from './columns';
import { isKnownAt, modelCurve, type ModelCurve, type NamedColumns } from './model-curve';
import { againstOneModel, type NotOneModel } from './one-model';
import { meanAt, nextInterval, spreadOf, tauQuantile } from './spread';
import { togetherFactor } from './together';
import { toleranceInterval, type ToleranceInterval } from './tolerance-interval';

/** One line of the table of a model. Readings of a gauge are in the unit of its dial; a sender's are ohms. */
export type ModelLine = {
  readonly label: string;
  /** Ohms for a gauge, the value for a sender. */
  readonly argument: number;
  readonly specimens: number;
  readonly middle: number;
  /** Half the distance that one standard deviation between specimens makes to both sides. */
  readonly spread: number;
  /** Where the next specimen lies, by 95 %. */
  readonly next: { readonly from: number; readonly to: number };
  /** Where it lies at this and all other lines at once, by 95 %. */
  readonly together: { readonly from: number; readonly to: number };
  /** 95 % of all specimens with 95 % confidence, from ten specimens on. */
  readonly tolerance: { readonly from: number; readonly to: number } | undefined;
  /** The same said of the side on which a wrong reading hides danger; of gauges that have such a side. */
  readonly bound: ToleranceBound | undefined;
  /** Cochran's Q: shown, and decides nothing. */
  readonly misfit: number;
};

/** 95 % of all specimens read no lower, or no higher, than this. */
export type ToleranceBound = { readonly side: 'at-least' | 'at-most'; readonly reading: number };

export type ModelReport = {
  readonly curve: ModelCurve;
  readonly lines: readonly ModelLine[];
  readonly against: readonly NotOneModel[];
};

export type ModelTask = {
  readonly kind: 'gauge' | 'sender';
  readonly axis: Axis;
  /** The dial the readings are told on; of a sender its unit and range. */
  readonly scale: ArcScale;
  /** The side on which an error hides danger; of a gauge, where it has one. */
  readonly dangerous?: 'low' | 'high' | undefined;
  /** The usual spread of such parts. */
  readonly usual: number;
};

const PLACES_WITHOUT_MARKS = 5;

/** The specimens of a model compared, mark by mark. Source: `spreadOf`, `toleranceInterval`, `againstOneModel`. */
export function modelReport(specimens: readonly NamedColumns[], task: ModelTask): ModelReport {
  const curve = modelCurve(
    specimens.map(({ columns }) => columns),
    task.axis,
    task.usual,
  );
  const places = placesOf(task, curve);
  const found = places.flatMap((place) => lineAt(specimens, task, place) ?? []);
  const times = togetherFactor(
    found.map(({ next, position }) => ({
      half: (next.to - next.from) / 2,
      standing: standingOf(task, curve, position),
    })),
    curve.spread,
    0.95,
  );
  const lines = found.map(({ line, next: { from, middle, to } }) => ({
    ...line,
    together: between(task, middle - times * (middle - from), middle + times * (to - middle)),
  }));
  return { curve, lines, against: objections(specimens, task, places) };
}

type Place = { readonly label: string; readonly position: number };

/** The marks of a gauge where its mean curve reaches them; even values of a sender. */
function placesOf({ kind, axis, scale }: ModelTask, curve: ModelCurve): Place[] {
  const [low, high] = [Math.max(0, axis.index(curve.from)), Math.min(POSITIONS - 1, axis.index(curve.to))];
  const even = (count: number): number[] =>
    Array.from({ length: count }, (_, i) => low + ((high - low) * i) / (count - 1));
  if (kind === 'sender' || scale.marks.length === 0)
    return even(PLACES_WITHOUT_MARKS).map((position) => ({ label: '', position }));
  const arc = arcOf(scale);
  return scale.marks.flatMap(({ label, reading }) => {
    const position = positionOf(curve.mean, arc.place(reading, scale.unit) ?? 0, { low, high });
    return position === undefined ? [] : [{ label, position }];
  });
}

const SCAN_STEPS = 400;
/** A mark that the mean just misses at its end is taken there. Common practice, no source. */
const NEAR_PLACE = 0.02;

/** Where a mean curve is nearest to a place of the needle. */
function positionOf(
  mean: Float32Array,
  place: number,
  { low, high }: { readonly low: number; readonly high: number },
): number | undefined {
  let best: { readonly position: number; readonly off: number } | undefined;
  for (let i = 0; i <= SCAN_STEPS; i += 1) {
    const position = low + ((high - low) * i) / SCAN_STEPS;
    const off = Math.abs(columnAt(mean, position) - place);
    if (best === undefined || off < best.off) best = { position, off };
  }
  return best !== undefined && best.off < NEAR_PLACE ? best.position : undefined;
}

type LineFound = {
  readonly line: Omit<ModelLine, 'together'>;
  /** On the scale of comparison. */
  readonly next: ReturnType<typeof nextInterval>;
  readonly position: number;
};

function lineAt(
  specimens: readonly NamedColumns[],
  task: ModelTask,
  { label, position }: Place,
): LineFound | undefined {
  const values = valuesOf(specimens, task, position);
  if (values.length === 0) return undefined;
  const spread = spreadOf(values, task.usual);
  const next = nextInterval(spread, 0.95);
  const tolerance = toleranceInterval(values.map(({ value }) => value));
  const told = outward(task);
  const tau = tauQuantile(spread, 0.5);
  const line = {
    ...{ label, argument: task.axis.at(position), specimens: values.length, middle: told(next.middle) },
    spread: Math.abs(told(next.middle + tau) - told(next.middle - tau)) / 2,
    next: between(task, next.from, next.to),
    tolerance: tolerance === undefined ? undefined : between(task, tolerance.from, tolerance.to),
    bound: tolerance === undefined ? undefined : boundOf(task, tolerance),
    misfit: meanAt(values, 0).misfit,
  };
  return { line, next, position };
}

function boundOf(task: ModelTask, { atLeast, atMost }: ToleranceInterval): ToleranceBound | undefined {
  const told = outward(task);
  if (task.dangerous === 'low') return { side: 'at-least', reading: told(atLeast) };
  return task.dangerous === 'high' ? { side: 'at-most', reading: told(atMost) } : undefined;
}

/** An interval as it is told, its lower end first. */
function between(
  task: ModelTask,
  one: number,
  other: number,
): { readonly from: number; readonly to: number } {
  const told = outward(task);
  const [from, to] = [told(one), told(other)];
  return from <= to ? { from, to } : { from: to, to: from };
}

/** Where along itself a curve stands, as in `standing` of the bank. */
function standingOf({ kind, axis }: ModelTask, { mean, from, to }: ModelCurve, position: number): number {
  const part =
    kind === 'gauge'
      ? columnAt(mean, position)
      : (position - axis.index(from)) / Math.max(1, axis.index(to) - axis.index(from));
  return Math.min(Math.max(2 * part - 1, -1), 1);
}

const valuesOf = (specimens: readonly NamedColumns[], { axis }: ModelTask, position: number) =>
  specimens
    .filter(({ columns }) => isKnownAt(columns, axis, position))
    .map(({ id, columns }) => ({
      id,
      value: columnAt(columns.value, position),
      uncertainty: columnAt(columns.uncertainty, position),
    }));

/** From the scale of comparison to what a person reads. */
function outward({ kind, scale }: ModelTask): (value: number) => number {
  if (kind === 'gauge') return arcOf(scale).reading;
  return (compressed) => Math.max(0, ohmFromCompressed(compressed));
}

/** Where specimens may speak against each other: the ends and the middle say all that marks between them would. */
function objections(
  specimens: readonly NamedColumns[],
  task: ModelTask,
  places: readonly Place[],
): NotOneModel[] {
  const chosen = [places[0], places[Math.floor(places.length / 2)], places.at(-1)].filter(
    (place, i, all) => place !== undefined && all.indexOf(place) === i,
  );
  const found = chosen.flatMap((place, i) =>
    place === undefined
      ? []
      : againstOneModel(valuesOf(specimens, task, place.position), {
          ...{ scale: task.usual, places: chosen.length },
          seed: 18 + i,
        }),
  );
  const isFirst = (one: NotOneModel, i: number): boolean =>
    found.findIndex(
      (other) => other.kind === one.kind && ('id' in other ? other.id : '') === ('id' in one ? one.id : ''),
    ) === i;
  return found.filter(isFirst);
}
