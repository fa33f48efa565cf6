import { describe, expect, it, vi } from 'vitest';
import { SimulatedConverter } from '../../firmware-ts/board/simulated/second-converter';
import { refusals } from '../../protocol';
import { Bench } from '../engine/bench';
import { scenarios } from '../engine/scenarios';

// The box with two ADS122C14 in place of its converters: their driver in the firmware, their model on the board.
vi.mock('../../firmware-ts/meter/converter', () => import('../../firmware-ts/meter/second-converter'));
vi.mock(
  '../../firmware-ts/board/simulated/converter',
  () => import('../../firmware-ts/board/simulated/second-converter'),
);

describe.each(scenarios)('the box with the second converter, in Node: %s', (_part, rules) => {
  it.each(rules.map((one) => [one.title, one] as const))('%s', (_title, one) => {
    expect(one.run).not.toThrow();
  });
});

describe('the box with the second converter', () => {
  it('runs on the other chip, not on the usual one by mistake', () => {
    for (const chip of new Bench().box.world.converters) expect(chip).toBeInstanceOf(SimulatedConverter);
  });

  it('does not arm on the 16-bit chip of the same package: the self-test names the step that reads the meter', () => {
    const bench = new Bench();
    bench.hello();
    for (const chip of bench.box.world.converters)
      if (chip instanceof SimulatedConverter) chip.identity = 0x0a;
    for (const chip of bench.box.world.converters) chip.dip();
    bench.box.advance(500);
    const { refused, detail } = bench.arm();
    expect([refused, detail]).toEqual(['SELF_TEST', 3]);
    expect(refusals.SELF_TEST.number).toBeGreaterThan(0);
    expect(bench.isOutputOpen).toBe(true);
  });
});
