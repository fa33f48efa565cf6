import type { Pair } from '../../core/proof/judge';
import type { Scale } from '../../core/proof/limits';
import type { ReferenceUncertainty } from '../../core/proof/reference';
import type { Arguments, OptionTable } from '../options';
import type { PairFile, PairRow } from './pair-file';
import { referenceFrom } from './reference-options';

const COVERAGE_FACTOR = 2;
/** A dial without printed divisions is read to about a fiftieth of its span. Common practice, no source. */
const UNDIVIDED_PART = 1 / 50;

export const DIVISION_OPTION = {
  division: { kind: 'number', value: 'X', min: 0, help: 'smallest division of the dial' },
} as const satisfies OptionTable;

/**
 * The pairs of a file with their uncertainties at 95 %: of the reference as it was said or as each row says, of the eye as
 * half a division (rectangular). Throws RefusedError for a reference whose uncertainty nobody knows.
 */
export function pairsFrom(
  given: Arguments,
  file: PairFile,
  { quantity, lowest, highest, unit }: Scale & { readonly unit: string },
): readonly Pair[] {
  const isSaid = given.text('reference') !== undefined || given.number('reference-shared') !== undefined;
  const isEachOwn = file.rows.every((row) => row.valueUncertainty !== undefined);
  const reference: ReferenceUncertainty =
    !isSaid && isEachOwn
      ? { kind: 'reference-uncertainty', shared: 0, each: 0, perValue: 0 }
      : referenceFrom(given, quantity, unit);
  const division = given.number('division') ?? UNDIVIDED_PART * (highest - lowest);
  const ofEye = (COVERAGE_FACTOR * division) / (2 * Math.sqrt(3));
  return file.rows.map((row) => ({
    value: row.value,
    indicated: row.indicated,
    ...referenceOf(reference, row),
    readingUncertainty:
      row.readingUncertainty === undefined ? ofEye : COVERAGE_FACTOR * row.readingUncertainty,
    leg: row.leg,
    way: row.made ?? 'run',
    second: row.second,
  }));
}

/** What the row says of its reference stands beside what all pairs share. */
const referenceOf = (
  reference: ReferenceUncertainty,
  { value, valueUncertainty }: PairRow,
): Pick<Pair, 'sharedUncertainty' | 'eachUncertainty'> => ({
  sharedUncertainty: Math.hypot(reference.shared, reference.perValue * value),
  eachUncertainty: valueUncertainty === undefined ? reference.each : COVERAGE_FACTOR * valueUncertainty,
});
