import { describe, expect, it } from 'vitest';
import {
  faultName,
  faults,
  faultSentence,
  limits,
  refusalName,
  refusals,
  refusalSentence,
} from '../../protocol';
import {
  capabilities,
  hasCapability,
  hasMeterFlag,
  jobKindName,
  jobKinds,
  meterFlags,
  stateName,
  states,
} from '../../protocol';

const numbersOf = (catalogue: Record<string, { number: number }>) =>
  Object.values(catalogue).map(({ number }) => number);
const distinct = (numbers: number[]) => expect(new Set(numbers).size).toBe(numbers.length);

describe('the catalogues', () => {
  it('give every fault and refusal a number of its own, from 1', () => {
    for (const numbers of [numbersOf(faults), numbersOf(refusals)]) {
      distinct(numbers);
      expect(Math.min(...numbers)).toBe(1);
      expect(Math.max(...numbers)).toBeLessThanOrEqual(255);
    }
  });

  it('find a name by its number and know nothing of 0 and of numbers not yet given', () => {
    for (const [name, { number }] of Object.entries(faults)) expect(faultName(number)).toBe(name);
    for (const [name, { number }] of Object.entries(refusals)) expect(refusalName(number)).toBe(name);
    expect([faultName(0), faultName(250), refusalName(0)]).toEqual([undefined, undefined, undefined]);
  });

  it('say what was measured, the limit and what to do', () => {
    expect(faultSentence(faults.CURRENT_HIGH.number, 412, 300)).toBe(
      'output opened: 412 mA measured, limit 300 mA; look for a short to supply on the sender wire before arming again',
    );
    expect(faultSentence(251, 1, 2)).toContain('update the host');
    expect(refusalSentence(refusals.SUM_DISAGREES.number, 90_100)).toContain('90100 milliohm');
    expect(refusalSentence(251, 1)).toContain('update the host');
  });

  it('give every fault a sentence that shows its measured value, and a remedy', () => {
    for (const [name, { number, remedy }] of Object.entries(faults)) {
      const sentence = faultSentence(number, 12_345, 678);
      expect(sentence, name).toContain('12345');
      expect(sentence, name).toContain(remedy);
      expect(remedy.length, name).toBeGreaterThan(20);
    }
  });

  it('keep the initial value of every limit inside its range, with a reason', () => {
    for (const [name, { initial, min, max, why }] of Object.entries(limits)) {
      expect(initial >= min && initial <= max, name).toBe(true);
      expect(why.length, name).toBeGreaterThan(20);
    }
  });
});

describe('the words', () => {
  it('turn numbers into names and back', () => {
    for (const [name, value] of Object.entries(states)) expect(stateName(value)).toBe(name);
    for (const [name, value] of Object.entries(jobKinds)) expect(jobKindName(value)).toBe(name);
    expect([stateName(9), jobKindName(9)]).toEqual([undefined, undefined]);
  });

  it('give every capability and meter flag one bit of its own', () => {
    for (const bits of [Object.values(capabilities), Object.values(meterFlags)]) {
      distinct(bits);
      for (const bit of bits) expect(Math.log2(bit) % 1).toBe(0);
    }
    expect(hasCapability(capabilities.simulated | capabilities.ripple, 'simulated')).toBe(true);
    expect(hasCapability(capabilities.ripple, 'simulated')).toBe(false);
    expect(hasMeterFlag(meterFlags.settled, 'settled')).toBe(true);
    expect(hasMeterFlag(meterFlags.settled, 'pulsing')).toBe(false);
  });
});
