import { ARC_UNIT } from '../../core/catalogue/arc-scale';
import { typedIn } from '../../core/text/number';
import type { CatalogueAsk } from '../../job/wire/catalogue-messages';

/** One reading as it is being given: what was typed, and where the needle was put. */
export type Row = {
  readonly ohm: string;
  /** Of a gauge. */
  readonly place: number | undefined;
  /** Of a sender: its value as typed. */
  readonly value: string;
};

/** What is being looked for, as far as it was said. */
export type Draft = Pick<CatalogueAsk, 'kind' | 'words' | 'quantity' | 'withSimulated'> & {
  /** Of a sender's values. */
  readonly unit: string;
  readonly rows: readonly Row[];
};

export const EMPTY_ROW: Row = { ohm: '', place: undefined, value: '' };

export const FIRST_DRAFT: Draft = {
  kind: 'gauge',
  unit: 'degC',
  rows: [EMPTY_ROW, EMPTY_ROW],
  words: '',
  withSimulated: false,
};

/** What is wrong with a typed number; undefined while it is empty or right. */
export function problemOf(text: string, unit: string): string | undefined {
  if (text.trim() === '') return undefined;
  const typed = typedIn(text, unit);
  return typed.kind === 'refused' ? typed.message : undefined;
}

const numberOf = (text: string, unit: string): number | undefined => {
  const typed = text.trim() === '' ? undefined : typedIn(text, unit);
  return typed === undefined || typed.kind === 'refused' ? undefined : typed.value;
};

/** The rows that say both what was put on and what was seen. */
export function askOf({ rows, kind, unit, words, quantity, withSimulated }: Draft): CatalogueAsk {
  const points = rows.flatMap((row) => {
    const resistanceOhm = numberOf(row.ohm, 'ohm');
    const value = kind === 'gauge' ? row.place : numberOf(row.value, unit);
    return resistanceOhm === undefined || resistanceOhm < 0 || value === undefined
      ? []
      : [{ resistanceOhm, value }];
  });
  const about = { kind, unit: kind === 'gauge' ? ARC_UNIT : unit, points, words, withSimulated };
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

/** A row of which one half is given; of a gauge the ohms. */
export const begunRow = ({ rows, kind }: Draft): Row | undefined =>
  rows.find(({ ohm, place, value }) =>
    kind === 'gauge'
      ? ohm.trim() !== '' && place === undefined
      : (ohm.trim() === '') !== (value.trim() === ''),
  );
