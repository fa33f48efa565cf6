import { ARC_UNIT } from '../../core/catalogue/arc-scale';
import { fractionIn } from '../../core/text/fraction';
import { typedIn } from '../../core/text/number';
import { unitFromText } from '../../core/units';
import type { CatalogueAsk } from '../../job/wire/catalogue-messages';

/** One reading as it is being given: what was typed, and where the needle was put. */
export type Row = {
  readonly ohm: string;
  /** Of a gauge. */
  readonly place: number | undefined;
  /** Of a sender, or of a gauge that is read by its figures: as typed. */
  readonly value: string;
};

/** What is being looked for, as far as it was said. */
export type Draft = Pick<CatalogueAsk, 'kind' | 'words' | 'quantity' | 'withSimulated'> & {
  /** Of a sender's values. */
  readonly unit: string;
  /** By what a gauge is read: `ARC_UNIT`, or the unit that is printed on it. */
  readonly readIn: string;
  readonly rows: readonly Row[];
};

export const EMPTY_ROW: Row = { ohm: '', place: undefined, value: '' };

export const FIRST_DRAFT: Draft = {
  kind: 'gauge',
  unit: 'degC',
  readIn: ARC_UNIT,
  rows: [EMPTY_ROW, EMPTY_ROW],
  words: '',
  withSimulated: false,
};

/** The unit in which values are typed; undefined where the needle is put on a strip. */
export const typedUnit = ({
  kind,
  unit,
  readIn,
}: Pick<Draft, 'kind' | 'unit' | 'readIn'>): string | undefined =>
  kind === 'sender' ? unit : readIn === ARC_UNIT ? undefined : readIn;

/** A quarter of a tank, as it is printed: percent. */
function percentOfFraction(text: string, unit: string): number | undefined {
  const part =
    unit === '%' ? fractionIn(text.trim(), { stem: 'reading', unit: unitFromText('fraction') }) : undefined;
  return part === undefined ? undefined : 100 * part;
}

/** What is wrong with a typed number; undefined while it is empty or right. */
export function problemOf(text: string, unit: string): string | undefined {
  if (text.trim() === '' || percentOfFraction(text, unit) !== undefined) return undefined;
  const typed = typedIn(text, unit);
  return typed.kind === 'refused' ? typed.message : undefined;
}

const numberOf = (text: string, unit: string): number | undefined => {
  const part = percentOfFraction(text, unit);
  if (part !== undefined) return part;
  const typed = text.trim() === '' ? undefined : typedIn(text, unit);
  return typed === undefined || typed.kind === 'refused' ? undefined : typed.value;
};

/** The rows that say both what was put on and what was seen. */
export function askOf(draft: Draft): CatalogueAsk {
  const { rows, kind, words, quantity, withSimulated } = draft;
  const unit = typedUnit(draft);
  const points = rows.flatMap((row) => {
    const resistanceOhm = numberOf(row.ohm, 'ohm');
    const value = unit === undefined ? row.place : numberOf(row.value, unit);
    return resistanceOhm === undefined || resistanceOhm < 0 || value === undefined
      ? []
      : [{ resistanceOhm, value }];
  });
  const about = { kind, unit: unit ?? ARC_UNIT, points, words, withSimulated };
  return quantity === undefined ? about : { ...about, quantity };
}

/** A row for the reading that would tell most: the first one that is still empty takes it. */
export function withNext({ rows, ...draft }: Draft, at: number): Draft {
  const told = String(Number(at.toPrecision(3)));
  const row = draft.kind === 'gauge' ? { ...EMPTY_ROW, ohm: told } : { ...EMPTY_ROW, value: told };
  const isFree = ({ ohm, place, value }: Row): boolean => ohm === '' && place === undefined && value === '';
  const free = rows.findIndex(isFree);
  return {
    ...draft,
    rows: free < 0 ? [...rows, row] : rows.map((each, index) => (index === free ? row : each)),
  };
}

/** A row of which one half is given; where the needle is put on a strip, the ohms. */
export const begunRow = (draft: Draft): Row | undefined =>
  draft.rows.find(({ ohm, place, value }) =>
    typedUnit(draft) === undefined
      ? ohm.trim() !== '' && place === undefined
      : (ohm.trim() === '') !== (value.trim() === ''),
  );
