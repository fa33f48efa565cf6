import { describe, expect, it } from 'vitest';
import { converter, meterChannels } from '../../../firmware-ts/board/reference-design';
import type { MeterChannel, MeterChannelName } from '../../../firmware-ts/board/reference-design';
import { VirtualClock } from '../../../firmware-ts/board/simulated/clock';
import { SimulatedConverter as FirstChip } from '../../../firmware-ts/board/simulated/converter';
import { Random } from '../../../firmware-ts/board/simulated/random';
import { SimulatedConverter as SecondChip } from '../../../firmware-ts/board/simulated/second-converter';
import { Converter as FirstDriver } from '../../../firmware-ts/meter/converter';
import { Converter as SecondDriver } from '../../../firmware-ts/meter/second-converter';
import { MeterRig } from './rig';

/** What the meter asks of a converter, whichever chip it is: the same for every driver, each on the model of its chip. */

const kinds = [
  ['ADS122C04', FirstDriver, FirstChip],
  ['ADS122C14', SecondDriver, SecondChip],
] as const;

/** Microvolt against bias on each channel of the first converter. */
const truths: Readonly<Partial<Record<MeterChannelName, number>>> = {
  terminal: 1_250_000,
  supply: -2_000_000,
  groundSense: 40,
};
/** Six standard deviations of one conversion's noise. */
const NOISE_MICROVOLT = 6 * converter.noiseMicrovoltRms;

function onChip(
  Driver: typeof FirstDriver | typeof SecondDriver,
  Chip: typeof FirstChip | typeof SecondChip,
) {
  const random = new Random(9);
  const clock = new VirtualClock(random);
  const chip = new Chip(0, (name) => truths[name] ?? 0, { clock, random });
  const told: number[][] = [];
  const { device } = new MeterRig();
  const I2C = class {
    read(byteLength: number): ArrayBuffer {
      return chip.read(byteLength);
    }
    write(bytes: ArrayBuffer): void {
      told.push([...new Uint8Array(bytes)]);
      chip.write(new Uint8Array(bytes));
    }
    close(): void {
      // Nothing to release.
    }
  };
  const driver = new Driver({ ...device, io: { ...device.io, I2C } }, converter.addresses[0]);
  const wait = (ms: number): void => clock.advanceTo(clock.nowMs + ms);
  const convert = (input: MeterChannel['input']): number => {
    driver.start(input);
    wait(converter.conversionMs);
    return (driver.readCode() * converter.fullScaleMicrovolt) / 2 ** 23;
  };
  return { driver, chip, told, wait, convert };
}

describe.each(kinds)('%s, by the contract of a converter', (_name, Driver, Chip) => {
  it('says nothing on the bus before it is set up: a chip that is not there must not keep the box from booting', () => {
    expect(onChip(Driver, Chip).told).toEqual([]);
  });

  it.each(['terminal', 'supply', 'groundSense'] as const)(
    'converts %s against bias, of either sign',
    (name) => {
      const { driver, convert } = onChip(Driver, Chip);
      driver.configure();
      expect(Math.abs(convert(meterChannels[name].input) - (truths[name] ?? NaN))).toBeLessThan(
        NOISE_MICROVOLT,
      );
    },
  );

  it('has a result when the conversion has ended, within the time the meter gives it, and not before', () => {
    const { driver, chip, wait } = onChip(Driver, Chip);
    driver.configure();
    driver.start(0);
    expect(driver.hasResult()).toBe(false);
    wait(1);
    expect(driver.hasResult()).toBe(false);
    wait(converter.conversionMs - 1);
    expect(driver.hasResult()).toBe(true);
    // The ready line is how the meter learns of it.
    expect(chip.hasResult).toBe(true);
  });

  it('has none once it was read, nor after a new start', () => {
    const { driver, convert, wait } = onChip(Driver, Chip);
    driver.configure();
    convert(0);
    expect(driver.hasResult()).toBe(false);
    driver.start(1);
    wait(converter.conversionMs);
    driver.start(0);
    expect(driver.hasResult()).toBe(false);
  });

  it('has no result in time when it forgot its setting: that is how the meter learns of it', () => {
    const { driver, chip, wait } = onChip(Driver, Chip);
    driver.configure();
    chip.dip();
    driver.start(0);
    wait(converter.conversionMs);
    expect(chip.hasResult).toBe(false);
  });

  it('is set up anew by the same call', () => {
    const { driver, chip, convert } = onChip(Driver, Chip);
    driver.configure();
    chip.dip();
    driver.configure();
    expect(Math.abs(convert(0) - 1_250_000)).toBeLessThan(NOISE_MICROVOLT);
  });

  it('throws while the chip does not answer', () => {
    const { driver, chip } = onChip(Driver, Chip);
    driver.configure();
    chip.isHung = true;
    expect(() => driver.start(0)).toThrow(/acknowledge/);
    expect(() => driver.hasResult()).toThrow(/acknowledge/);
    expect(() => driver.readCode()).toThrow(/acknowledge/);
    expect(() => driver.configure()).toThrow(/acknowledge/);
  });

  it('gives no number for an answer that ends too early', () => {
    const { device } = new MeterRig();
    const I2C = class {
      read(): ArrayBuffer {
        return Uint8Array.of(0x0b, 0x40).buffer;
      }
      write(): void {
        // Takes everything.
      }
      close(): void {
        // Nothing to release.
      }
    };
    const driver = new Driver({ ...device, io: { ...device.io, I2C } }, converter.addresses[0]);
    expect(driver.readCode()).toBeNaN();
  });

  it('says the same in the same order every time', () => {
    const [one, two] = [onChip(Driver, Chip), onChip(Driver, Chip)];
    for (const { driver, convert } of [one, two]) {
      driver.configure();
      convert(0);
      convert(2);
    }
    expect(one.told).toEqual(two.told);
  });
});

describe('the ADS122C14 alone', () => {
  it('is told by its registers, byte by byte', () => {
    const { driver, told } = onChip(SecondDriver, SecondChip);
    driver.configure();
    // Source: register map in the maker's public example code. Identity, stop, single shot at speed 2, OSR 1024, gain 1, external
    // reference, plain data, GPIO3 as open-drain "data ready".
    expect(told).toEqual([
      [0x40],
      [0x84, 0x01],
      [0x85, 0x06],
      [0x86, 0x05],
      [0x88, 0x01],
      [0x89, 0x01],
      [0x8a, 0x00],
      [0x8c, 0x80],
      [0x8b, 0xc0],
    ]);
    told.length = 0;
    driver.start(2);
    expect(told).toEqual([
      [0x87, 0x23],
      [0x84, 0x02],
    ]);
  });

  it.each([
    ['its 16-bit sister', 0x0a],
    ['a chip of the other kind', 0x00],
    ['an empty bus', 0xff],
  ])('refuses %s by what it says it is', (_what, identity) => {
    const { driver, chip, told } = onChip(SecondDriver, SecondChip);
    if (chip instanceof SecondChip) chip.identity = identity;
    expect(() => driver.configure()).toThrow(new RegExp(`no ADS122C14: it says ${identity}`));
    // Nothing is written to a chip that is not known.
    expect(told).toEqual([[0x40]]);
  });
});
