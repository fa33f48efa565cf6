import { describe, expect, it } from 'vitest';
import { pins } from '../../../firmware-ts/board/reference-design';
import { Channel } from '../../../firmware-ts/box/channel';
import { Parts } from '../../../firmware-ts/box/parts';
import type { Device } from '../../../firmware-ts/device';
import type { DigitalOptions } from '../../../firmware-ts/ecma419';
import { MeterRig } from '../meter/rig';

/** A board whose pins can be looked at. */
function watched(): { readonly device: Device; readonly levels: Map<number, number> } {
  const { device } = new MeterRig();
  const levels = new Map<number, number>();
  class Digital extends device.io.Digital {
    static override readonly Input = device.io.Digital.Input;
    static override readonly InputPullUp = device.io.Digital.InputPullUp;
    static override readonly Output = device.io.Digital.Output;
    readonly #pin: number;
    constructor(options: DigitalOptions) {
      super(options);
      this.#pin = options.pin;
    }
    override write(value: number): void {
      levels.set(this.#pin, value);
      super.write(value);
    }
  }
  return { device: { ...device, io: { ...device.io, Digital } }, levels };
}

const silent = { reply: () => undefined, announce: () => undefined };
const SOURCE_PINS = [pins.ohmmeterLow, pins.ohmmeterHigh];

describe('a channel', () => {
  it.each(['low', 'high'] as const)(
    'switches the %s current source off whenever it opens the output',
    (range) => {
      const { device, levels } = watched();
      const parts = new Parts(device);
      const channel = new Channel(parts, silent, 0);
      const isOn = (): boolean => SOURCE_PINS.some((pin) => levels.get(pin) === 1);
      parts.source.on(range);
      expect(isOn()).toBe(true);
      channel.open(0);
      expect(isOn()).toBe(false);
      parts.source.on(range);
      channel.trip({ fault: 'INTERNAL', measured: 1, limit: 0 }, 0);
      expect(isOn()).toBe(false);
    },
  );

  it('gives no pulse while the meter has nothing fresh, though it wants its coils', () => {
    const { device, levels } = watched();
    const deaf: Device = {
      ...device,
      io: {
        ...device.io,
        I2C: class extends device.io.I2C {
          override write(): void {
            throw new Error('no answer');
          }
        },
      },
    };
    const channel = new Channel(new Parts(deaf), silent, 0);
    const task = { wantsCoils: true, isGuarded: false, tick: () => undefined, end: () => undefined };
    channel.begin(task, 1);
    for (let nowMs = 200; nowMs < 600; nowMs += 8) {
      channel.tick(nowMs);
      expect(levels.get(pins.deadManPulse), `${nowMs} ms`).toBe(0);
    }
  });
});
