import { normalQuantile } from '../numeric/normal';
import { unitChange } from '../units';
import { arcOf } from './arc-scale';
import { columnAt, type Axis, type Columns } from './columns';

/** Two curves of one specimen where they differ more than both their uncertainties explain. */
export type CurvesApart = {
  /** Where that is clearest: ohms for a gauge, the value for a sender. */
  readonly argument: number;
  /** What each shows there: readings of a gauge in the unit asked for; of a sender compressed ohms. */
  readonly one: number;
  readonly other: number;
  /** So far apart their uncertainties explain, on the same scale. */
  readonly explained: number;
};

export type ApartTask = {
  readonly kind: 'gauge' | 'sender';
  readonly axis: Axis;
  /** In which the readings of a gauge are compared. */
  readonly unit: string;
};

/** So often two curves of a specimen that did not change are called different. Common practice, no source. */
const FALSE_ALARM = 0.01;
/** A curve has no more independent places than this: it bends by a handful of parameters. Derived here. */
const PLACES = 9;
const STEP = 0.5;

/**
 * Compares two curves where both were measured; undefined where they agree, never overlap, or measure different things.
 * Readings are compared, not places: a dial that nobody described has no arc.
 * Source: a difference of two independent results against its combined standard uncertainty (GUM 5.1.2), over several
 * places at once (Bonferroni).
 */
export function curvesApart(
  one: Columns,
  other: Columns,
  { kind, axis, unit }: ApartTask,
): CurvesApart | undefined {
  const [first, second] = [toldBy(one, kind, unit), toldBy(other, kind, unit)];
  if (first === undefined || second === undefined) return undefined;
  const from = axis.index(Math.max(one.from, other.from));
  const to = axis.index(Math.min(one.to, other.to));
  const most = normalQuantile(1 - FALSE_ALARM / 2 / PLACES);
  let clearest: { readonly found: CurvesApart; readonly times: number } | undefined;
  for (let position = from; position <= to; position += STEP) {
    const [a, b] = [first(position), second(position)];
    const explained = most * Math.hypot(a.uncertainty, b.uncertainty);
    const times = Math.abs(a.value - b.value) / explained;
    if (!(times > Math.max(1, clearest?.times ?? 0))) continue;
    const found = { argument: axis.at(position), one: a.value, other: b.value, explained };
    clearest = { found, times };
  }
  return clearest?.found;
}

type Told = (position: number) => { readonly value: number; readonly uncertainty: number };

/** A curve on the scale on which two are compared. */
function toldBy(
  { value, uncertainty, scale }: Columns,
  kind: ApartTask['kind'],
  unit: string,
): Told | undefined {
  const at = (position: number) => [columnAt(value, position), columnAt(uncertainty, position)] as const;
  if (kind === 'sender')
    return (position) => {
      const [compressed, u] = at(position);
      return { value: compressed, uncertainty: u };
    };
  const change = unitChange(scale.unit, unit);
  if (change.kind === 'refused') return undefined;
  const arc = arcOf(scale);
  const reading = (place: number): number => change.factor * arc.reading(place) + change.offset;
  return (position) => {
    const [place, u] = at(position);
    return { value: reading(place), uncertainty: Math.abs(reading(place + u) - reading(place - u)) / 2 };
  };
}
