import { person, placeOf, placeStep, scaleEnds, soughtPart } from '../../dial';
import { readingStepOf } from './reading-step';
import type { CurveOptions, GaugeReading } from '../types';

/** Readings as places of the needle, with the scatter that is expected of each before anything is measured. */
export type Placed = {
  readonly places: readonly {
    readonly one: GaugeReading;
    readonly index: number;
    readonly place: number;
    /** Standard uncertainty of the place. */
    readonly scatter: number;
  }[];
  /** Reading step where the scale is of middling width. */
  readonly step: number;
  readonly span: number;
  /** What `person` is measured in: the whole arc, or the span where the dial is not known. */
  readonly arc: number;
  readonly typicalScatter: number;
  /** The reader gave uncertainties. */
  readonly isGiven: boolean;
};

/** A step larger than this part of the span is a number of readings too small to tell, not a way of reading. */
const LARGEST_STEP_PART = 1 / 20;

/**
 * Puts readings on the arc of their dial and says how well each is known: by the reader's word, else by the reading step
 * (rectangular) and by what `person` can do. Source: GUM 4.3.7 for the step; `person`.
 */
export function placesOf(
  readings: readonly GaugeReading[],
  options: CurveOptions,
  ownScatter: readonly number[] = [],
): Placed {
  const { dial } = options;
  const free = readings.filter((one) => one.atStop === undefined);
  const { span, arc } = spanOf(free, options);
  const step = options.readingStep ?? readingStepOf(valuesRead(free));
  const given = median(free.flatMap((one) => one.readingUncertainty ?? []));
  const scatterOf = (one: GaugeReading): number => {
    const known = one.readingUncertainty ?? given;
    if (known !== undefined) return placeStep(dial, one.reading, known);
    if (one.isSought === true) return soughtPart * arc;
    const rounding = Math.min(placeStep(dial, one.reading, step), LARGEST_STEP_PART * span);
    return Math.hypot(rounding / Math.sqrt(12), person.lookPart * arc);
  };
  const places = readings.map((one, index) => ({
    one,
    index,
    place: placeOf(dial, one.reading),
    scatter: Math.hypot(scatterOf(one), ownScatter[index] ?? 0),
  }));
  const offStops = places.filter(({ one }) => one.atStop === undefined);
  const steps = offStops.map(({ one }) => (one.isSought === true ? 0 : placeStep(dial, one.reading, step)));
  return {
    places,
    step: median(steps) ?? 0,
    span,
    arc,
    typicalScatter: median(offStops.map(({ scatter }) => scatter)) ?? 1,
    isGiven: given !== undefined,
  };
}

/** What was walked onto a mark says nothing of the step to which the others were read. */
function valuesRead(free: readonly GaugeReading[]): number[] {
  const read = free.filter((one) => one.isSought !== true);
  return (read.length > 0 ? read : free).map((one) => one.reading);
}

function spanOf(
  free: readonly GaugeReading[],
  { dial, scale }: CurveOptions,
): { readonly span: number; readonly arc: number } {
  const ends = scale ?? (dial === undefined ? undefined : scaleEnds(dial));
  const values = ends === undefined ? free.map((one) => one.reading) : [ends.lowest, ends.highest];
  const places = values.map((value) => placeOf(dial, value));
  const span = places.length === 0 ? 0 : Math.max(...places) - Math.min(...places);
  return { span, arc: dial === undefined ? span : 1 };
}

/** The upper of the two middle ones; undefined of nothing. */
function median(values: readonly number[]): number | undefined {
  return [...values].sort((a, b) => a - b)[values.length >> 1];
}
