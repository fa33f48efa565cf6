import { describe, expect, it } from 'vitest';
import { faults, refusals } from '../../protocol';
import { told } from '../engine/bench';
import { neverTold } from '../engine/reports';
import { scenarios } from '../engine/scenarios';

describe.each(scenarios)('the box, in Node: %s', (_part, rules) => {
  it.each(rules.map((one) => [one.title, one] as const))('%s', (_title, one) => {
    expect(one.run).not.toThrow();
  });
});

type Catalogue = Readonly<Record<string, { readonly number: number }>>;
type Row = readonly [name: string, catalogue: Catalogue, heard: ReadonlySet<number>];

const rows: readonly Row[] = [
  ['refusals', refusals, told.refusals],
  ['faults', faults, told.faults],
];

// Last in the file: by now every scenario has run.
describe('the catalogue', () => {
  it.each(rows)('of %s holds nothing that no box ever says', (_name, catalogue, heard) => {
    const unheard = Object.keys(catalogue).filter((name) => !heard.has(catalogue[name]!.number));
    expect(unheard).toEqual(Object.keys(neverTold).filter((name) => name in catalogue));
  });
});
