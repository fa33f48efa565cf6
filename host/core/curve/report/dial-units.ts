import { placeOf, readingOf, scaleEnds } from '../../dial';
import type { Dial } from '../../dial';
import type {
  CurvePoint,
  GaugeReading,
  Hysteresis,
  LawCandidate,
  NamedParameter,
  PlateauReport,
  Repeatability,
} from '../types';

/** Dial units in a whole arc where the dial is known: what turns one number for the whole scale into dial units. Source: definition. */
export function typicalStretch(dial: Dial | undefined): number {
  if (dial === undefined) return 1;
  const { lowest, highest } = scaleEnds(dial);
  return (highest - lowest) / (placeOf(dial, highest) - placeOf(dial, lowest));
}

/** Stops and plateaus with their readings in dial units. Source: `readingOf`. */
export const shownAt = <Item extends { readonly reading: number }>(
  dial: Dial | undefined,
  items: readonly Item[],
): Item[] => items.map((item) => ({ ...item, reading: readingOf(dial, item.reading) }));

/** Plateaus in dial units, their rounding too. Source: `readingOf`, `typicalStretch`. */
export const shownPlateaus = (
  dial: Dial | undefined,
  plateaus: readonly PlateauReport[],
): readonly PlateauReport[] =>
  shownAt(dial, plateaus).map((one) => ({
    ...one,
    roundingUncertainty: (one.roundingUncertainty ?? 0) * typicalStretch(dial),
  }));

/** Points in dial units, the readings as they were given. Source: `readingOf`. */
export const shownPoints = (
  dial: Dial | undefined,
  readings: readonly GaugeReading[],
  points: readonly CurvePoint[],
): readonly CurvePoint[] => {
  if (dial === undefined) return points;
  return points.map((point, i) => {
    const fitted = readingOf(dial, point.fitted);
    const residual = readingOf(dial, point.fitted + point.residual) - fitted;
    return { ...point, ...readings[i]!, fitted, residual };
  });
};

/** Difference of the legs in dial units, where it was largest and as one number. Source: `readingOf`, `typicalStretch`. */
export function shownHysteresis(dial: Dial | undefined, found: Hysteresis): Hysteresis {
  const stretch = typicalStretch(dial);
  if (found.kind === 'unknown') return { ...found, assumedHalf: found.assumedHalf * stretch };
  const shown = (difference: number, at: number): number =>
    Math.abs(readingOf(dial, at + difference / 2) - readingOf(dial, at - difference / 2));
  const { singleCycle: cycle } = found;
  return {
    ...found,
    largest: shown(found.largest, found.atReading),
    ...(cycle && {
      singleCycle: {
        ...cycle,
        difference: shown(cycle.difference, cycle.atReading),
        atReading: readingOf(dial, cycle.atReading),
      },
    }),
    atReading: readingOf(dial, found.atReading),
    half: found.half * stretch,
    halfUncertainty: found.halfUncertainty * stretch,
  };
}

/** Scatter in dial units. Source: `typicalStretch`. */
export const shownRepeatability = (dial: Dial | undefined, found: Repeatability): Repeatability => ({
  ...found,
  standardDeviation: found.standardDeviation * typicalStretch(dial),
});

/** Parameters of a law of the arc say so in their units. Source: definition. */
export const shownParameters = (
  dial: Dial | undefined,
  parameters: readonly NamedParameter[],
): readonly NamedParameter[] =>
  dial === undefined
    ? parameters
    : parameters.map((one) => ({ ...one, unit: one.unit.replace('reading', 'arc') }));

/** Every law that was tried, its residuals in dial units. Source: `typicalStretch`. */
export const shownCandidates = (dial: Dial | undefined, report: readonly LawCandidate[]): LawCandidate[] =>
  report.map((one) =>
    one.kind === 'refused'
      ? one
      : {
          ...one,
          parameters: shownParameters(dial, one.parameters),
          residualStandardDeviation: one.residualStandardDeviation * typicalStretch(dial),
        },
  );
