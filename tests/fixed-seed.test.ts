import fc from 'fast-check';
import { expect, it } from 'vitest';

it('gives every property of this suite the same inputs in every run', () => {
  expect(fc.readConfigureGlobal()?.seed).toBe(20_261_129);
  const inputs = (): number[] => fc.sample(fc.nat(), 20);
  expect(inputs()).toEqual(inputs());
});
