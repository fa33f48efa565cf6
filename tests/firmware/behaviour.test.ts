import { describe, expect, it } from 'vitest';
import { faults, refusals } from '../../protocol';
import { told } from '../engine/bench';
import { scenarios } from '../engine/scenarios';

describe.each(scenarios)('the box, in Node: %s', (_part, rules) => {
  it.each(rules.map((one) => [one.title, one] as const))('%s', (_title, one) => {
    expect(one.run).not.toThrow();
  });
});

/** Codes that no behaviour of this box can bring about, and why. */
const neverTold: Readonly<Record<string, string>> = {
  CONTACTS: 'all sixteen bits of the mask are contacts of this box; one with a shorter chain says it',
};

// Last in the file: by now every scenario has run.
describe('the catalogues', () => {
  it.each([
    ['refusals', refusals, told.refusals],
    ['faults', faults, told.faults],
  ] as const)('of %s hold nothing that no box ever says', (_name, catalogue, heard) => {
    const unheard = Object.entries(catalogue).filter(([, { number }]) => !heard.has(number));
    expect(unheard.map(([name]) => name).filter((name) => !(name in neverTold))).toEqual([]);
    for (const [name, { number }] of Object.entries(catalogue))
      expect(name in neverTold && heard.has(number), `${name} is told after all`).toBe(false);
  });
});
