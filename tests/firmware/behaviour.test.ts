import { describe, expect, it } from 'vitest';
import { scenarios } from '../engine/scenarios';

describe.each(scenarios)('the box, in Node: %s', (_part, rules) => {
  it.each(rules.map((one) => [one.title, one] as const))('%s', (_title, one) => {
    expect(one.run).not.toThrow();
  });
});
