import { describe, expect, it } from 'vitest';
import { ConverterPart } from '../../../firmware-ts/board/pico/emulator/converter-part';
import { FlashCache } from '../../../firmware-ts/board/pico/emulator/flash-cache';
import { FlashPart } from '../../../firmware-ts/board/pico/emulator/flash-part';
import { FlashPort } from '../../../firmware-ts/board/pico/emulator/flash-port';
import { Random } from '../../../firmware-ts/board/pico/emulator/random';
import { solve } from '../../../firmware-ts/board/pico/emulator/world';
import { LentClock } from './clock';

/** The models behind the emulated chip are the yardstick of the image, so they are held to data sheets by themselves. */

const WRITE_ENABLE = 0x06;
const SECTOR_ERASE = 0x20;
const PAGE_PROGRAM = 0x02;
const READ_STATUS = 0x05;

function flash() {
  const clock = new LentClock();
  const memory = new Uint8Array(8192).fill(0x5a);
  const part = new FlashPart(memory, clock, { eraseMs: 45, programMs: 0.4 });
  const send = (...bytes: number[]): number => {
    part.select();
    let last = 0;
    for (const byte of bytes) last = part.transfer(byte);
    part.deselect();
    return last;
  };
  return { clock, memory, part, send };
}

// Source: JEDEC-compatible serial NOR flash, data sheet W25Q16JV: 06h, 05h, 20h, 02h; erased is FFh; programming only clears.
describe('the flash part', () => {
  it('erases a whole sector, and only after write enable', () => {
    const { memory, send } = flash();
    send(SECTOR_ERASE, 0, 0x10, 0x00);
    expect(memory[0x1000]).toBe(0x5a);
    send(WRITE_ENABLE);
    send(SECTOR_ERASE, 0, 0x12, 0x34);
    expect([memory[0xfff], memory[0x1000], memory[0x1fff]]).toEqual([0x5a, 0xff, 0xff]);
  });

  it('is busy for as long as the data sheet says', () => {
    const { clock, send } = flash();
    send(WRITE_ENABLE);
    send(SECTOR_ERASE, 0, 0, 0);
    clock.tick(44.9e6);
    expect(send(READ_STATUS, 0) & 1).toBe(1);
    clock.tick(0.2e6);
    expect(send(READ_STATUS, 0) & 1).toBe(0);
  });

  it('can only clear bits, and wraps inside a page of 256 bytes', () => {
    const { memory, send } = flash();
    send(WRITE_ENABLE);
    send(PAGE_PROGRAM, 0, 0, 0xff, 0xf0, 0x0f);
    expect([memory[0xff], memory[0x00]]).toEqual([0x5a & 0xf0, 0x5a & 0x0f]);
  });

  it('tells what a power cut in the middle would leave: between what was and what was to be', () => {
    const { memory, part, send } = flash();
    const left: Uint8Array[] = [];
    part.onOperation = (cut) => left.push(cut.memory);
    send(WRITE_ENABLE);
    send(SECTOR_ERASE, 0, 0, 0);
    const [half] = left;
    expect(half?.subarray(0, 4096).every((byte) => (byte & 0x5a) === 0x5a)).toBe(true);
    expect(half?.subarray(0, 4096).some((byte) => byte !== 0xff)).toBe(true);
    expect(memory.subarray(0, 4096).every((byte) => byte === 0xff)).toBe(true);
  });
});

// Source: RP2040 data sheet 4.10.13 and 2.19.6: data register 60h, status 28h, chip select overridden by bits 9..8.
describe('the port to the flash', () => {
  it('gives back one byte for each that is sent, while the chip select is forced low', () => {
    const { part, clock } = flash();
    const port = new FlashPort(part);
    port.pins.writeUint32(0x0c, 2 << 8);
    for (const byte of [0x03, 0, 0, 0, 0]) port.writeUint32Atomic(0x60, byte, 0);
    expect(port.readUint32(0x24)).toBe(5);
    const answers = [1, 2, 3, 4, 5].map(() => port.readUint32(0x60));
    expect(answers.at(-1)).toBe(0x5a);
    expect(clock.nanos).toBe(0);
  });
});

// Source: RP2040 data sheet 2.6.3: 16 KB, two ways, lines of 8 bytes.
describe('the flash cache', () => {
  const missesOf = (addresses: readonly number[]): number => {
    const cache = new FlashCache();
    for (const address of addresses) cache.read(address);
    return cache.misses;
  };

  it('reads a line of 8 bytes once', () => {
    expect(missesOf([0x1000_0000, 0x1000_0002, 0x1000_0007, 0x1000_0008])).toBe(2);
  });

  it('keeps two lines 8 KB apart, and not three', () => {
    const [one, two, three] = [0x1000_0000, 0x1000_2000, 0x1000_4000];
    expect(missesOf([one, two, one, two])).toBe(2);
    expect(missesOf([one, two, three, one, two, three])).toBe(6);
  });

  it('does not see RAM', () => {
    expect(missesOf([0x2000_0000, 0x2000_1000])).toBe(0);
  });
});

describe('the converter part', () => {
  function converter(volt: number) {
    const clock = new LentClock();
    const isReady: boolean[] = [];
    const part = new ConverterPart(clock, {
      conversionMs: 5.8,
      volt: () => volt,
      ready: (isWaiting) => isReady.push(isWaiting),
      random: new Random(1),
    });
    const say = (...bytes: number[]): void => {
      part.begin();
      for (const byte of bytes) part.write(byte);
    };
    say(0x06);
    say(0x44, 0x62);
    say(0x40, 0x20);
    say(0x08);
    return { clock, part, say, isReady };
  }

  const read = ({ part, say }: ReturnType<typeof converter>): number => {
    say(0x10);
    const raw = part.read() * 0x1_0000 + part.read() * 0x100 + part.read();
    return raw >= 0x80_0000 ? raw - 0x100_0000 : raw;
  };

  // Source: two's complement of 24 bits, full scale 2.5 V at 2^23.
  it.each([
    [1.25, 2 ** 22],
    [-1.25, -(2 ** 22)],
    [3, 2 ** 23 - 1],
    [-3, -(2 ** 23)],
  ])('codes %d V as %d, at most full scale', (volt, code) => {
    const it = converter(volt);
    it.clock.tick(6e6);
    // 6 uV of noise are 20 codes.
    expect(Math.abs(read(it) - code)).toBeLessThan(120);
  });

  it('says when a result waits, not before its time, and no more once it is read', () => {
    const it = converter(1);
    it.clock.tick(5.7e6);
    expect(it.isReady.at(-1)).toBe(false);
    it.clock.tick(0.2e6);
    expect(it.isReady.at(-1)).toBe(true);
    read(it);
    expect(it.isReady.at(-1)).toBe(false);
  });
});

// Source: Ohm and Kirchhoff, worked by hand beside each.
describe('the electric world', () => {
  const open = { pathOhm: Infinity, source: 'off' } as const;

  // 2.5 V less 40 nA through 11.01 Mohm.
  it('lets a clip in the air float to the bias of its divider, less what leaks', () => {
    expect(solve({ kind: 'air' }, open, 0).terminalVolt).toBeCloseTo(2.5 - 0.4404, 6);
  });

  it('divides 5 V between 12.2 and 87.8 ohm', () => {
    const gauge = { kind: 'gauge', feedVolt: 5, seriesOhm: 12.2 } as const;
    const { amp, terminalVolt } = solve(gauge, { pathOhm: 87.8, source: 'off' }, 0);
    expect(amp).toBeCloseTo(0.05, 5);
    expect(terminalVolt).toBeCloseTo(4.39, 4);
  });

  it('drives half a milliamp into a sender, and stops at 3.6 V', () => {
    const low = { pathOhm: Infinity, source: 'low' } as const;
    expect(solve({ kind: 'sender', ohm: 470 }, low, 0).terminalVolt).toBeCloseTo(0.235, 3);
    expect(solve({ kind: 'sender', ohm: 20_000 }, low, 0).terminalVolt).toBeCloseTo(3.6, 6);
  });

  it('gives whole pulses of the battery', () => {
    const gauge = {
      kind: 'gauge',
      feedVolt: 12,
      seriesOhm: 10,
      pulse: { periodMs: 1000, duty: 0.25 },
    } as const;
    const volts = [0, 249, 251, 999, 1001].map((atMs) => solve(gauge, open, atMs).feedVolt);
    expect(volts).toEqual([12, 12, 0, 0, 12]);
  });
});
