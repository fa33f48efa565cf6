import { unitChange } from '../units';
import { arcOf, type ArcScale } from './arc-scale';
import type { Columns } from './columns';

/**
 * Curves of gauges on one dial: that of the first whose marks are known, else of the first. A dial that nobody described
 * ends where its own readings did, so that equal places of two such are not equal readings.
 */
export function onOneScale(specimens: readonly Columns[]): Columns[] {
  const scale = scaleOfAll(specimens);
  return scale === undefined ? [] : specimens.map((each) => onScale(each, scale));
}

/** Source: definition. Undefined for none. */
export const scaleOfAll = (specimens: readonly Columns[]): ArcScale | undefined =>
  (specimens.find(({ scale }) => scale.marks.length > 1) ?? specimens[0])?.scale;

/** The same readings as places on another dial; the curve itself where its unit measures something else. */
export function onScale(columns: Columns, scale: ArcScale): Columns {
  if (isSame(columns.scale, scale)) return columns;
  const change = unitChange(columns.scale.unit, scale.unit);
  if (change.kind === 'refused') return columns;
  const [own, meant] = [arcOf(columns.scale), arcOf(scale)];
  const moved = (place: number): number =>
    meant.place(change.factor * own.reading(place) + change.offset, scale.unit) ?? place;
  const { value, uncertainty } = columns;
  return {
    ...{ ...columns, scale },
    value: value.map(moved),
    uncertainty: uncertainty.map((u, i) => Math.abs(moved(value[i]! + u) - moved(value[i]! - u)) / 2),
  };
}

const isSame = (one: ArcScale, other: ArcScale): boolean =>
  one === other ||
  (one.unit === other.unit &&
    one.lowest === other.lowest &&
    one.highest === other.highest &&
    one.marks.length === other.marks.length &&
    one.marks.every(
      ({ reading, angleFraction }, i) =>
        reading === other.marks[i]!.reading && angleFraction === other.marks[i]!.angleFraction,
    ));
