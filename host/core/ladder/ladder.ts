import { refuse } from '../refusal';
import type { Refusal } from '../refusal';

/** One resistor of the chain with a contact across it, as measured by the box. */
export type LadderElement = {
  /** Bit of the contact mask that shorts it. */
  readonly contactBit: number;
  /** What it adds to the chain when not shorted. */
  readonly milliohm: number;
};

/** Sums of one half of the elements, ascending, each with the mask that leaves exactly those in the path. */
export type HalfSums = readonly { readonly milliohm: number; readonly insertedMask: number }[];

/** The chain of one box, with what a search needs prepared. Plain data. */
export type Ladder = {
  readonly elements: readonly LadderElement[];
  /** What is there with every element shorted: contacts, shunt, fuse, leads. */
  readonly residualMilliohm: number;
  /** Bits set in every setting: limiter bypassed, output closed. */
  readonly alwaysMask: number;
  readonly elementsMask: number;
  readonly lowHalf: HalfSums;
  readonly highHalf: HalfSums;
};

/** One row of the box's element table, in the words of the wire. */
export type LadderRow = {
  /** 0 element, 1 limiter, 2 residual. */
  readonly kind: number;
  readonly contactBit: number;
  readonly milliohm: number;
  readonly uncertaintyMilliohm: number;
};

const MAX_ELEMENTS = 15;
const OUTPUT_BIT = 15;
const KIND = { element: 0, limiter: 1, residual: 2 } as const;

const compareSums = (a: { milliohm: number }, b: { milliohm: number }): number => a.milliohm - b.milliohm;

function sumsOf(elements: readonly LadderElement[]): HalfSums {
  const sums: { milliohm: number; insertedMask: number }[] = [{ milliohm: 0, insertedMask: 0 }];
  for (const { milliohm, contactBit } of elements) {
    const soFar = sums.length;
    for (let index = 0; index < soFar; index += 1) {
      const sum = sums[index]!;
      const insertedMask = sum.insertedMask | (1 << contactBit);
      sums.push({ milliohm: sum.milliohm + milliohm, insertedMask });
    }
  }
  return sums.sort(compareSums);
}

function badRow(row: LadderRow, index: number): Refusal<'LADDER_ROW'> | undefined {
  const isBitBad = row.kind !== KIND.residual && !(row.contactBit >= 0 && row.contactBit < OUTPUT_BIT);
  const isValueBad = !(Number.isFinite(row.milliohm) && row.milliohm >= 0);
  const isUncertaintyBad = !(Number.isFinite(row.uncertaintyMilliohm) && row.uncertaintyMilliohm >= 0);
  if (!isBitBad && !isValueBad && !isUncertaintyBad) return undefined;
  const { contactBit, milliohm, uncertaintyMilliohm } = row;
  return refuse('LADDER_ROW', { rowIndex: index, contactBit, milliohm, uncertaintyMilliohm });
}

/**
 * The chain from the rows of the box's element table.
 * Refuses: a row that is no resistor (LADDER_ROW), a table without elements or residual, with more than 15 elements,
 * or with one contact bit used twice (LADDER_TABLE).
 */
export function ladderFromRows(rows: readonly LadderRow[]): { kind: 'ladder'; ladder: Ladder } | Refusal {
  for (const [index, row] of rows.entries()) {
    const refused = badRow(row, index);
    if (refused !== undefined) return refused;
  }
  const elements = rows.filter(({ kind }) => kind === KIND.element);
  const limiter = rows.find(({ kind }) => kind === KIND.limiter);
  const residual = rows.find(({ kind }) => kind === KIND.residual);
  const bits = [...elements, ...(limiter === undefined ? [] : [limiter])].map(({ contactBit }) => contactBit);
  if (elements.length === 0 || elements.length > MAX_ELEMENTS || residual === undefined) {
    return refuse('LADDER_TABLE', { elementCount: elements.length });
  }
  if (new Set(bits).size !== bits.length) {
    return refuse('LADDER_TABLE', { isContactTwice: true });
  }
  const ascending = [...elements].sort(compareSums);
  const half = Math.ceil(ascending.length / 2);
  const ladder: Ladder = {
    elements: ascending,
    residualMilliohm: residual.milliohm,
    alwaysMask: (1 << OUTPUT_BIT) | (limiter === undefined ? 0 : 1 << limiter.contactBit),
    elementsMask: ascending.reduce((mask, { contactBit }) => mask | (1 << contactBit), 0),
    lowHalf: sumsOf(ascending.slice(0, half)),
    highHalf: sumsOf(ascending.slice(half)),
  };
  return { kind: 'ladder', ladder };
}
