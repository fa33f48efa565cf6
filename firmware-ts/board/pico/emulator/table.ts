import type { Rig } from './rig';

/** The chain as the box knows it, milliohm. */
export type ElementTable = { readonly elements: readonly number[]; readonly residualMilliohm: number };

const LIMITER_AND_OUTPUT = 0xc000;

/** Asks for every row. `undefined` when one is refused: without a table the box has nothing to say. */
export function readTable({ line }: Rig): ElementTable | undefined {
  const elements: number[] = [];
  for (let index = 0; index < 64; index += 1) {
    const outcome = line.ask({ name: 'element', fields: { index } });
    if (outcome?.kind !== 'answer' || outcome.name !== 'element') return undefined;
    const { kind, milliohm } = outcome.fields;
    if (kind === 2) return { elements, residualMilliohm: milliohm };
    if (kind === 0) elements.push(milliohm);
  }
  return undefined;
}

/** What a mask makes, milliohm. */
export function madeMilliohm(table: ElementTable, mask: number): number {
  let sum = table.residualMilliohm;
  for (const [index, milliohm] of table.elements.entries()) {
    if (((mask >> index) & 1) === 0) sum += milliohm;
  }
  return sum;
}

/** The contacts that come nearest to a resistance, by trying all. */
export function maskFor(table: ElementTable, ohm: number): number {
  let best = LIMITER_AND_OUTPUT;
  for (let bits = 0; bits < 1 << table.elements.length; bits += 1) {
    const mask = bits | LIMITER_AND_OUTPUT;
    const isNearer =
      Math.abs(madeMilliohm(table, mask) - ohm * 1000) < Math.abs(madeMilliohm(table, best) - ohm * 1000);
    if (isNearer) best = mask;
  }
  return best;
}
