import { describe, expect, it } from 'vitest';
import { someOf } from '../support/deep';
import { faultKinds } from '../engine/fault-injection';

describe('after every fault the output is open in time, nothing unasked was driven, and the host knows the truth', () => {
  it.each(someOf(faultKinds, 2))('%s', (name, run) => {
    const attempts = run();
    const failed = attempts.filter(({ trouble }) => trouble !== undefined);
    console.log(`${name}: ${attempts.length} faults tried, ${attempts.length - failed.length} survived`);
    expect(attempts.length).toBeGreaterThan(20);
    expect(failed.slice(0, 10)).toEqual([]);
  });
});
