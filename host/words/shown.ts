import { offScale } from '../core/dial/off-dial';
import { offScaleWords } from './network';
import { printed } from './notation';
import { scaleOf } from '../job/schema/scale';
import { typedNumber } from '../core/text/number';
import { unitSymbol } from '../core/units';
import type { Gauge } from '../job/schema/gauge';

/** A reading is written to about a five-hundredth of the scale: finer than an eye, coarser than noise. */
const SCALE_PARTS = 500;

export const shownUnit = unitSymbol;

function readingDecimals(gauge: Pick<Gauge, 'marks'>): number {
  const { span } = scaleOf(gauge.marks);
  return Math.min(4, Math.max(0, Math.ceil(-Math.log10(span / SCALE_PARTS))));
}

export const shownReading = (value: number, gauge: Pick<Gauge, 'marks' | 'unit'>): string =>
  `${plain(value.toFixed(readingDecimals(gauge)))} ${shownUnit(gauge.unit)}`;

/** A place of the needle: a reading, or where it stands off its scale. */
export const shownPlace = (value: number, gauge: Pick<Gauge, 'marks' | 'unit'>): string => {
  const off = offScale(gauge.marks, value);
  return off === undefined ? shownReading(value, gauge) : offScaleWords(off, gauge.unit, printed);
};

/** A signed difference in dial units, "+2.5 %". */
export const shownError = (value: number, gauge: Pick<Gauge, 'marks' | 'unit'>): string => {
  const written = plain(value.toFixed(readingDecimals(gauge)));
  return `${value > 0 && Number(written) !== 0 ? '+' : ''}${written} ${shownUnit(gauge.unit)}`;
};

const SIGNIFICANT = 4;

/** Ohms as a bench meter would show them: four figures, no exponent. */
export function shownOhm(resistanceOhm: number): string {
  const decimals = Math.min(
    3,
    Math.max(0, SIGNIFICANT - 1 - Math.floor(Math.log10(Math.max(resistanceOhm, 0.01)))),
  );
  return `${plain(resistanceOhm.toFixed(decimals))} \u03a9`;
}

/**
 * Ohms beside how sure they are: the uncertainty to two figures, the value to the same place.
 * Source: JCGM 100:2008 (GUM) 7.2.6, two significant digits at most.
 */
export function sureOhm(
  resistanceOhm: number,
  uncertaintyOhm: number,
): readonly [value: string, sure: string] {
  const place = 1 - Math.floor(Math.log10(Math.max(uncertaintyOhm, 0.01)));
  const step = 10 ** -place;
  const rounded = (ohm: number): string =>
    `${plain((step * Math.round(ohm / step)).toFixed(Math.max(0, place)))} \u03a9`;
  return [rounded(resistanceOhm), `\u00b1${rounded(uncertaintyOhm)}`];
}

/** A letter is what the eye finds on the dial; a number speaks for itself: "\u201cE\u201d (0.0 %)". */
export function markWords(reading: number, gauge: Pick<Gauge, 'marks' | 'unit'>): string {
  const label = gauge.marks.find((mark) => mark.reading === reading)?.label;
  const isPlain = label === undefined || typedNumber(label).kind === 'number';
  return isPlain ? shownReading(reading, gauge) : `\u201c${label}\u201d (${shownReading(reading, gauge)})`;
}

/** A real minus sign, and no "-0". */
const plain = (written: string): string =>
  Number(written) === 0 ? written.replace('-', '') : written.replace('-', '\u2212');

export const MECHANISM_WORDS: Readonly<Record<Gauge['mechanism'], string>> = {
  unknown: 'not known yet',
  thermal: 'thermal (slow, hot wire)',
  'two-coil': 'two-coil moving iron',
  'cross-coil': 'cross-coil',
  'moving-coil': 'moving coil',
  electronic: 'electronic',
};

export const QUANTITY_WORDS: Readonly<Record<Gauge['quantity'], string>> = {
  temperature: 'Temperature',
  fuel: 'Fuel',
  pressure: 'Pressure',
  other: 'Other',
};

const OHM_PER_KILOHM = 1000;

/** A part as it is written on its bag: "18 \u03a9", "9.1 k\u03a9". */
export const shownPart = (resistanceOhm: number): string =>
  resistanceOhm >= OHM_PER_KILOHM
    ? `${Number((resistanceOhm / OHM_PER_KILOHM).toPrecision(SIGNIFICANT))} k\u03a9`
    : `${Number(resistanceOhm.toPrecision(SIGNIFICANT))} \u03a9`;

/** A size of error, without a sign: "\u00b13.8 %". */
export const shownSpread = (size: number, gauge: Pick<Gauge, 'marks' | 'unit'>): string =>
  `\u00b1${shownError(Math.abs(size), gauge).replace('+', '')}`;
