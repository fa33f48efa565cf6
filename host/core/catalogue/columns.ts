import {
  fitCurve,
  gaugeResponse,
  ohmAt,
  type CurveOptions,
  type GaugeCurve,
  type GaugeReading,
  type Mechanism,
} from '../curve';
import { dialFromMarks, type DialMark } from '../dial';
import { compressedOhm, compressionSlope } from '../identify/compressed-ohm';
import type { Refusal } from '../refusal';
import type { GaugeResponse, Quantity } from '../response';
import { fitSender, senderResponse, type SenderPoint } from '../sender';
import { unitChange } from '../units';
import { refuse } from '../refusal';
import { arcOf, type ArcScale } from './arc-scale';

/** Raised when the same card would give other columns, or another summary beside them. */
export const COLUMNS_VERSION = 2;
/** Positions of a curve: over three decades a straight line between two of them errs by up to 0.4 % of the arc. */
export const POSITIONS = 64;

const LOWEST_OHM = 1;
const HIGHEST_OHM = 10_000;

/** The argument of a curve at each position: ohms spaced by ratio for gauges, the sender's own unit spaced evenly. */
export type Axis = { readonly at: (index: number) => number; readonly index: (argument: number) => number };

/** 1 ohm to 10 kohm. Source: definition. */
export const ohmAxis: Axis = {
  at: (index) => LOWEST_OHM * (HIGHEST_OHM / LOWEST_OHM) ** (index / (POSITIONS - 1)),
  index: (ohm) =>
    ((POSITIONS - 1) * Math.log(Math.max(ohm, LOWEST_OHM) / LOWEST_OHM)) / Math.log(HIGHEST_OHM / LOWEST_OHM),
};

/** The usual range of senders, in the unit in which they are compared. Common practice, no source. */
const SENDER_RANGES = {
  degC: [-40, 200],
  kPa: [0, 1500],
  '%': [0, 100],
  L: [0, 200],
} as const;
export type SenderUnit = keyof typeof SENDER_RANGES;

const SENDER_UNITS: readonly SenderUnit[] = ['degC', 'kPa', '%', 'L'];

/** The unit in which senders of this unit are compared; undefined for a unit that no range is known of. */
export const senderUnitFor = (unit: string): SenderUnit | undefined =>
  SENDER_UNITS.find((each) => unitChange(unit, each).kind === 'unit-change');

/** Source: the ranges above. */
export function senderAxis(unit: SenderUnit): Axis {
  const [from, to] = SENDER_RANGES[unit];
  return {
    at: (index) => from + ((to - from) * index) / (POSITIONS - 1),
    index: (value) => ((POSITIONS - 1) * (value - from)) / (to - from),
  };
}

/** What is worked out from a card once, so that it is found quickly: a cache, never the truth. */
export type Columns = {
  readonly kind: 'columns';
  /** Where the curve was measured, in the unit of the axis. */
  readonly from: number;
  readonly to: number;
  /** Place on the arc of a gauge; compressed resistance of a sender. */
  readonly value: Float32Array;
  readonly uncertainty: Float32Array;
  readonly scale: ArcScale;
  readonly law: string;
  /** Ohms at the lowest and the highest mark, where the curve reaches them. */
  readonly lowOhm: number | undefined;
  readonly highOhm: number | undefined;
};

/** A measured gauge: counted readings only. */
export type GaugeSpecimen = {
  readonly quantity: Quantity;
  readonly unit: string;
  readonly marks: readonly DialMark[];
  readonly division?: number | undefined;
  readonly mechanism?: Mechanism | undefined;
  readonly ohmsShared?: CurveOptions['resistanceUncertainty'] | undefined;
  readonly readings: readonly GaugeReading[];
};

/** Beyond what was measured a curve is known this much worse: half of what it moved since. Derived here. */
const BEYOND_SHARE = 0.5;

/** The curve of a specimen, on the arc where its dial is known. Source: `fitCurve`. Refuses as it does. */
export const fitSpecimen = (specimen: GaugeSpecimen): GaugeCurve | Refusal =>
  fitCurve(specimen.readings, {
    ...specimenOptions(specimen),
    ...(specimen.marks.length < 2 ? {} : { marks: specimen.marks.map(({ reading }) => reading) }),
  });

/** What is known of a specimen's dial and of how it was read. */
export function specimenOptions(specimen: GaugeSpecimen): CurveOptions {
  const { quantity, unit, marks, division, mechanism, ohmsShared } = specimen;
  const dial = marks.length < 2 ? undefined : dialFromMarks(marks);
  return {
    ...{ quantity, unit },
    ...(mechanism === undefined ? {} : { mechanism }),
    ...(dial === undefined || 'code' in dial ? {} : { dial, scale: endsOf(marks) }),
    ...(division === undefined ? {} : { readingStep: division / 2 }),
    ...(ohmsShared === undefined ? {} : { resistanceUncertainty: ohmsShared }),
  };
}

/** Columns of a gauge. Source: `fitSpecimen`. Refuses as it does. */
export function gaugeColumns(specimen: GaugeSpecimen): Columns | Refusal {
  const { unit, marks } = specimen;
  const curve = fitSpecimen(specimen);
  if (curve.kind === 'refused') return curve;
  const response = gaugeResponse(curve);
  const ends = marks.length < 2 ? endsWithoutMarks(unit, response) : endsOf(marks);
  const scale: ArcScale = { unit, marks, ...ends };
  const arc = arcOf(scale);
  const placeAt = (ohm: number): number => arc.place(response.reading(ohm), unit) ?? 0;
  const [from, to] = [response.measuredFromOhm, response.measuredToOhm];
  return filled({
    ...{ axis: ohmAxis, from, to, scale, law: curve.law.name },
    lowOhm: ohmOfEnd(curve, ends.lowest),
    highOhm: ohmOfEnd(curve, ends.highest),
    value: placeAt,
    uncertainty: (ohm) => {
      const [reading, u] = [response.reading(ohm), response.readingUncertainty(ohm)];
      const up = arc.place(reading + u, unit) ?? 0;
      const down = arc.place(reading - u, unit) ?? 0;
      return Math.abs(up - down) / 2;
    },
  });
}

/** Columns of a sender. Source: `fitSender`. Refuses as it does, and a unit no range is known of (SENDER_UNIT). */
export function senderColumns(unit: string, points: readonly SenderPoint[]): Columns | Refusal {
  const common = senderUnitFor(unit);
  if (common === undefined)
    return refuse('SENDER_UNIT', { fromUnit: unit, toUnit: 'degC, kPa, % or litres' });
  const sender = fitSender(points, { unit });
  if (sender.kind === 'refused') return sender;
  const response = senderResponse(sender, { unit: common });
  if ('code' in response) return response;
  return filled({
    ...{ axis: senderAxis(common), from: response.knownFrom, to: response.knownTo },
    scale: { unit: common, marks: [], lowest: response.knownFrom, highest: response.knownTo },
    law: sender.model,
    lowOhm: response.ohm(response.knownFrom),
    highOhm: response.ohm(response.knownTo),
    value: (value) => compressedOhm(response.ohm(value)),
    uncertainty: (value) => {
      const ohm = response.ohm(value);
      return response.relativeUncertainty(value) * ohm * compressionSlope(ohm);
    },
  });
}

/** Further beyond what was measured no law is followed for a figure that people search by. Common practice, no source. */
const BEYOND_FACTOR = 1.5;

/** Ohms at an end of the scale. Undefined where the curve does not lead there. */
function ohmOfEnd(curve: GaugeCurve, reading: number): number | undefined {
  const found = ohmAt(curve, reading);
  if (found.kind === 'unreachable') return undefined;
  const ohm = found.kind === 'one' ? found.resistanceOhm : (found.fromOhm + found.toOhm) / 2;
  const { measuredFromOhm, measuredToOhm } = curve.model;
  return ohm >= measuredFromOhm / BEYOND_FACTOR && ohm <= measuredToOhm * BEYOND_FACTOR ? ohm : undefined;
}

/** A dial that nobody described: one in percent goes from 0 to 100, any other as far as it was seen. */
const endsWithoutMarks = (unit: string, { lowestReading, highestReading }: GaugeResponse) =>
  unit === '%' ? { lowest: 0, highest: 100 } : { lowest: lowestReading, highest: highestReading };

const endsOf = (marks: readonly DialMark[]): { readonly lowest: number; readonly highest: number } => {
  const readings = marks.map(({ reading }) => reading);
  return { lowest: Math.min(...readings), highest: Math.max(...readings) };
};

type Curve = Omit<Columns, 'kind' | 'value' | 'uncertainty'> & {
  readonly axis: Axis;
  readonly value: (argument: number) => number;
  readonly uncertainty: (argument: number) => number;
};

function filled({ axis, value, uncertainty, ...rest }: Curve): Columns {
  const [values, uncertainties] = [new Float32Array(POSITIONS), new Float32Array(POSITIONS)];
  for (let index = 0; index < POSITIONS; index += 1) {
    const argument = axis.at(index);
    const inside = Math.min(Math.max(argument, rest.from), rest.to);
    values[index] = value(argument);
    uncertainties[index] = Math.hypot(uncertainty(inside), BEYOND_SHARE * (value(argument) - value(inside)));
  }
  return { kind: 'columns', value: values, uncertainty: uncertainties, ...rest };
}

/** A place between two positions, found once for many columns: the lower one, and how far on the way to the next. */
export type Spot = { readonly low: number; readonly part: number };

/** Held at the ends. Source: definition. */
export function spotOf(index: number): Spot {
  const at = Math.min(Math.max(index, 0), POSITIONS - 1);
  const low = Math.min(Math.floor(at), POSITIONS - 2);
  return { low, part: at - low };
}

/** Straight between two positions. Source: definition. */
export function columnAtSpot(column: Float32Array, { low, part }: Spot, offset: number): number {
  const a = column[offset + low]!;
  return a + (column[offset + low + 1]! - a) * part;
}

/** Straight between two positions; held at the ends. Source: definition. */
export const columnAt = (column: Float32Array, index: number, offset = 0): number =>
  columnAtSpot(column, spotOf(index), offset);
