import { hasCapability, type Answer } from '../../../protocol';
import type { Refused } from '../../core/result';
import { passedOn, refuse } from '../../refusals';
import type { BoxLink } from '../../link';

/** Values printed on the parts of the one chain design there is, ohm. A test keeps them equal to the firmware's. */
export const PRINTED_ELEMENT_OHM = [
  1, 1.87, 3.48, 6.34, 11.8, 21.5, 40.2, 73.2, 137, 255, 464, 866, 1580, 2940,
] as const;
export const PRINTED_LIMITER_OHM = 47;

export const LIMITER_ROW = PRINTED_ELEMENT_OHM.length;
export const RESIDUAL_ROW = LIMITER_ROW + 1;

/**
 * The rows of a box with so many elements. A row has one number here whatever the box: elements from 0, then LIMITER_ROW and
 * RESIDUAL_ROW; a box of fewer elements counts its last two from where its elements end.
 */
type ChainRows = {
  readonly rows: readonly number[];
  readonly boxIndex: (row: number) => number;
};

/** Undefined for a count that no chain of this design has: it is the first so many of the printed elements. */
function chainRowsOf(elementCount: number): ChainRows | undefined {
  const isKnown =
    Number.isInteger(elementCount) && elementCount > 0 && elementCount <= PRINTED_ELEMENT_OHM.length;
  if (!isKnown) return undefined;
  const elements = Array.from({ length: elementCount }, (_, row) => row);
  return {
    rows: [...elements, LIMITER_ROW, RESIDUAL_ROW],
    boxIndex: (row) => (row < LIMITER_ROW ? row : row - LIMITER_ROW + elementCount),
  };
}

/** One row of the element table in the words of the parts list. */
export type TableRow = {
  readonly index: number;
  /** R1 to R14, R15 (the limiter), or residual: what is left with everything shorted. */
  readonly name: string;
  readonly ohm: number;
  readonly uncertaintyOhm: number;
};

/** The table a box works with, and which calibration it comes from. */
export type ElementTable = {
  readonly kind: 'table';
  readonly boxSerial: number;
  readonly firmware: string;
  readonly isSimulated: boolean;
  /** Undefined when no copy is good: the rows are then the printed values. */
  readonly calibration: CalibrationStamp | undefined;
  readonly rows: readonly TableRow[];
  readonly chain: ChainRows;
};

export type CalibrationStamp = {
  readonly calibrationId: number;
  /** ISO dates of the day it was made and of the last day it is valid. */
  readonly madeOn: string;
  readonly validUntil: string;
};

const DAY_MS = 86_400_000;

/** ISO date of a day counted from 1970-01-01. */
const isoDay = (calendarDay: number): string => new Date(calendarDay * DAY_MS).toISOString().slice(0, 10);

/** Name of a row's part, as the drawings have it. */
export const rowName = (index: number): string => (index === RESIDUAL_ROW ? 'residual' : `R${index + 1}`);

/** Value printed on a row's part, ohm; the residual is no part. */
export const printedOhm = (index: number): number | undefined =>
  index === LIMITER_ROW ? PRINTED_LIMITER_OHM : PRINTED_ELEMENT_OHM[index];

/**
 * Reads the element table and its stamp from a live box. Refuses: no greeting, a box that cannot calibrate itself or
 * has another chain (CALIBRATION_OTHER_BOX), and what the box or the link refuses.
 */
export async function readElementTable(link: BoxLink): Promise<ElementTable | Refused> {
  const { greeting } = link;
  if (greeting === undefined) return refuse('BOX_NOT_LIVE', {});
  const chain = chainRowsOf(greeting.elementCount);
  if (chain === undefined || !hasCapability(greeting.capabilities, 'selfCalibration')) {
    return refuse('CALIBRATION_OTHER_BOX', {
      elementCount: greeting.elementCount,
      knownCount: PRINTED_ELEMENT_OHM.length,
    });
  }
  const rows: TableRow[] = [];
  for (const index of chain.rows) {
    const row = await link.request('element', { index: chain.boxIndex(index) });
    if (row.kind !== 'answer') return passedOn(row);
    rows.push(rowOf(index, row.fields));
  }
  const firmware = `${greeting.firmwareMajor}.${greeting.firmwareMinor}.${greeting.firmwarePatch}`;
  return {
    kind: 'table',
    boxSerial: greeting.boxSerial,
    firmware,
    isSimulated: hasCapability(greeting.capabilities, 'simulated'),
    calibration: stampOf(greeting),
    rows,
    chain,
  };
}

/** A row as any of the box's answers gives it. */
export const rowOf = (
  index: number,
  { milliohm, uncertaintyMilliohm }: Pick<Answer<'calibrateElement'>, 'milliohm' | 'uncertaintyMilliohm'>,
): TableRow => ({
  index,
  name: rowName(index),
  ohm: milliohm / 1000,
  uncertaintyOhm: uncertaintyMilliohm / 1000,
});

/** Undefined for a box without a good copy. */
function stampOf({
  calibrationId,
  calibrationDay,
  calibrationEndDay,
}: Answer<'hello'>): CalibrationStamp | undefined {
  if (calibrationId === 0) return undefined;
  return { calibrationId, madeOn: isoDay(calibrationDay), validUntil: isoDay(calibrationEndDay) };
}
