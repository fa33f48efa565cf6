import { beforeAll, describe, expect, it } from 'vitest';
import type { StartFirmware } from '../../firmware-ts/board/simulated/bench';
import type { BootCause, Device } from '../../firmware-ts/main';
import { firmwareBundle } from '../../host/firmware-bundle.mjs';
import { faults } from '../../protocol';
import { Bench, runs } from '../engine/bench';

type FirmwareModule = { readonly Box: new (device: Device) => unknown };

const isFirmware = (module: unknown): module is FirmwareModule =>
  typeof module === 'object' && module !== null && 'Box' in module && typeof module.Box === 'function';

describe('the bundle of the microcontroller', () => {
  let firmware: StartFirmware;

  beforeAll(async () => {
    const { text } = await firmwareBundle(new URL('../../firmware-ts/main.ts', import.meta.url).pathname);
    const module: unknown = await import(`data:text/javascript,${encodeURIComponent(text)}`);
    if (!isFirmware(module)) throw new Error('the bundle exports no Box');
    firmware = runs((device) => void new module.Box(device));
  });

  it('greets, arms, drives, and opens the output when the host falls silent', () => {
    const bench = Bench.driving(50, { firmware });
    expect(bench.state()).toBe('driving');
    expect(bench.isOutputOpen).toBe(false);
    bench.box.advance(2_500);
    expect(bench.isOutputOpen).toBe(true);
    expect(bench.events.map(({ faultCode }) => faultCode)).toEqual([faults.DEAD_MAN.number]);
  });

  it('finds the table that the sources stored', () => {
    const bench = new Bench({ firmware });
    expect(bench.hello().calibrationId).toBeGreaterThan(0);
    expect(bench.table()).toEqual(calibratedTable());
  });

  it.each([
    ['power', undefined],
    ['watchdog', faults.WATCHDOG_RESET.number],
    ['brown-out', faults.BROWN_OUT.number],
  ] as const)('knows why it was started: %s', (cause: BootCause, faultCode) => {
    const bench = new Bench({ firmware });
    bench.box.restart(cause);
    bench.hello(2);
    bench.box.advance(100);
    expect(bench.events[0]?.faultCode).toBe(faultCode);
  });
});

function calibratedTable(): number[] {
  const bench = new Bench();
  bench.hello();
  return bench.table();
}
