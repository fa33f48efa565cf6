import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  converter,
  meterChannels,
  microvoltFromCode,
  quantityFromReading,
  readingFromQuantity,
} from '../../../firmware-ts/board/reference-design';
import type { MeterChannelName } from '../../../firmware-ts/board/reference-design';
import type { I2COptions } from '../../../firmware-ts/ecma419';
import { Converter } from '../../../firmware-ts/meter/converter';
import { signed24 } from '../../../firmware-ts/meter/converter-bus';
import { MeterRig } from './rig';

const [ADDRESS] = converter.addresses;

/** A converter on a bus that writes down what it is told and answers what it is given. */
function onBus(answer: readonly number[]): { readonly chip: Converter; readonly told: number[][] } {
  const told: number[][] = [];
  const { device } = new MeterRig();
  const I2C = class {
    constructor({ address }: I2COptions) {
      told.push([address]);
    }
    read(): ArrayBuffer {
      return Uint8Array.from(answer).buffer;
    }
    write(bytes: ArrayBuffer): void {
      told.push([...new Uint8Array(bytes)]);
    }
    close(): void {
      // Nothing to release.
    }
  };
  return { chip: new Converter({ ...device, io: { ...device.io, I2C } }, ADDRESS), told };
}

describe('24-bit codes', () => {
  it.each([
    [0x00_0000, 0],
    [0x00_0001, 1],
    [0x7f_ffff, 8_388_607],
    [0x80_0000, -8_388_608],
    [0xff_ffff, -1],
  ])('%i is %i', (raw, code) => {
    expect(signed24(raw)).toBe(code);
  });

  it.each([
    [[0x40, 0x00, 0x00], 1_250_000],
    [[0xc0, 0x00, 0x00], -1_250_000],
    [[0x00, 0x00, 0x00], 0],
    [[0x80, 0x00, 0x00], -2_500_000],
  ])('bytes %j are %i microvolt against bias at a reference of 2.5 V', (bytes, microvolt) => {
    expect(microvoltFromCode(onBus(bytes).chip.readCode())).toBe(microvolt);
  });

  it('that end too early are no number', () => {
    expect(onBus([0x40, 0x00]).chip.readCode()).toBeNaN();
  });
});

describe('the converter chip', () => {
  it('is reset and set up before anything is asked of it', () => {
    const { chip, told } = onBus([]);
    // Not by the constructor: a chip that is not there must not keep the box from booting.
    expect(told).toEqual([[ADDRESS]]);
    chip.configure();
    expect(told.slice(1)).toEqual([[0x06], [0x44, 0x62]]);
  });

  it.each([
    [0, 0x20],
    [1, 0x50],
    [2, 0x60],
  ] as const)('converts input %i against input 3', (input, select) => {
    const { chip, told } = onBus([]);
    told.length = 0;
    chip.start(input);
    expect(told).toEqual([[0x40, select], [0x08]]);
  });
});

describe('what a reading means', () => {
  const names = Object.keys(meterChannels).filter((name): name is MeterChannelName => name in meterChannels);

  it('is the same there and back for every channel', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...names),
        fc.double({ min: -2.5e6, max: 2.5e6, noNaN: true }),
        (name, microvolt) => {
          const back = readingFromQuantity(name, quantityFromReading(name, microvolt));
          expect(Math.abs(back - microvolt)).toBeLessThan(1e-6);
        },
      ),
    );
  });

  // By hand from the resistors: 10 Mohm over 1 Mohm to 2.5 V, 1 over 1 Mohm to 2.5 V, 0.5 ohm times 10.
  it.each([
    ['terminal', 0, 2_500_000],
    ['terminal', 1_000_000, 13_500_000],
    ['groundSense', -1_250_000, 0],
    ['current', 1_500_000, 1_500_000 / 2.01],
    ['current', -500_000, -500_000 / 2.01],
  ] as const)('of %s at %i microvolt is %i', (name, microvolt, quantity) => {
    expect(quantityFromReading(name, microvolt)).toBeCloseTo(quantity, 6);
  });
});
