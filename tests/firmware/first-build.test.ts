import { describe, expect, it, vi } from 'vitest';
import { eightElements } from '../../firmware-ts/board/first-build/eight';
import type { StartFirmware } from '../../firmware-ts/board/simulated/bench';
import type * as Design from '../../firmware-ts/board/reference-design';
import type { Device } from '../../firmware-ts/main';
import { firmwareBundle } from '../../host/firmware-bundle.mjs';
import { faults } from '../../protocol';
import { Bench, runs } from '../engine/bench';
import { scenarios } from '../engine/scenarios';

// Firmware, simulated board and rules all see the board of eight elements.
vi.mock('../../firmware-ts/board/reference-design', async (original) => {
  const full = await original<typeof Design>();
  return { ...full, ...eightElements(full) };
});

/** Rules that ask for more ohms than eight elements make; what the board does instead stands below. */
const beyond: readonly string[] = [
  'goes down in halves only with an unknown gauge, starting high',
  'takes no step down with an unknown gauge before the last one has come to rest',
  'reports a welded output contact whatever it was doing, and does not let it be cleared',
  'opens with everything in the path when more than half a milliamp flows through an open output',
  'refuses a setting that would heat one resistor too much, before it is made',
];
const isBeyond = (title: string): boolean => beyond.some((each) => title.endsWith(each));

describe.each(scenarios)('the first build, in Node: %s', (_part, rules) => {
  it.each(rules.filter(({ title }) => !isBeyond(title)).map((one) => [one.title, one] as const))(
    '%s',
    (_title, one) => {
      expect(one.run).not.toThrow();
    },
  );
});

/** R1 to R8 and the limiter, nominal. Source: hardware-notes/parts.md. */
const ALL_IN_OHM = 1 + 1.87 + 3.48 + 6.34 + 11.8 + 21.5 + 40.2 + 73.2 + 47;

describe('the first build, where it differs', () => {
  it('leaves out few rules, and each of them is one of the catalogue', () => {
    const titles = scenarios.flatMap(([, rules]) => rules.map(({ title }) => title));
    expect(titles.filter(isBeyond)).toHaveLength(beyond.length);
    expect(titles.length).toBeGreaterThan(120);
  });

  it('says in its greeting how many elements it has and where its settings end', () => {
    const hello = new Bench().hello();
    expect(hello.elementCount).toBe(8);
    expect(hello.resistanceMaxOhm).toBe(157);
  });

  it('refuses a gauge that nobody knows: it cannot begin high enough', () => {
    const bench = new Bench({ gauge: 'two-coil-fuel' });
    bench.hello();
    const table = bench.table();
    expect(bench.arm('unknown').refused).toBeUndefined();
    expect(bench.set(150, table).refused).toBe('RAMP');
    expect(bench.isOutputOpen).toBe(true);
  });

  it('tells a welded output, and then has 205 ohm in the path instead of 6.4 kohm', () => {
    const bench = Bench.driving(50);
    bench.box.world.chain.contact('output')!.weld = 'closed';
    bench.ask('open', { channel: 0 });
    bench.box.advance(800);
    expect(bench.events[0]?.faultCode).toBe(faults.OUTPUT_WELDED.number);
    expect(bench.box.world.pathOhm).toBeGreaterThan(0.97 * ALL_IN_OHM);
    expect(bench.box.world.pathOhm).toBeLessThan(1.03 * ALL_IN_OHM + 2);
  });
});

type FirmwareModule = { readonly Box: new (device: Device) => unknown };
const isFirmware = (module: unknown): module is FirmwareModule =>
  typeof module === 'object' && module !== null && 'Box' in module && typeof module.Box === 'function';

describe('the bundle of the first build', () => {
  it('is the firmware of eight elements, whatever the sources beside it are', async () => {
    const entry = new URL('../../firmware-ts/main.ts', import.meta.url).pathname;
    const { text } = await firmwareBundle(entry, { board: 'first-build' });
    const module: unknown = await import(`data:text/javascript,${encodeURIComponent(text)}`);
    if (!isFirmware(module)) throw new Error('the bundle exports no Box');
    const firmware: StartFirmware = runs((device) => void new module.Box(device));
    const bench = Bench.driving(50, { firmware });
    expect(bench.state()).toBe('driving');
    bench.box.advance(2_500);
    expect(bench.isOutputOpen).toBe(true);
    expect(new Bench({ firmware }).hello().elementCount).toBe(8);
    const usual = await firmwareBundle(entry);
    expect(usual.text).not.toBe(text);
  });
});
