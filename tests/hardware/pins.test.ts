import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import {
  contactBits,
  elements,
  fourChannelPins,
  gpioFromContacts,
  pins,
  relayGpioMask,
} from '../../firmware-ts/board/reference-design';

/**
 * GPIO numbers brought out on the usual 40-pin carrier, 25 being the light on it.
 * Functions: RP2040 datasheet, section 1.4.3 (GPIO functions), as known; the RP2350 keeps these columns.
 */
const onCarrier = new Set([...Array.from({ length: 23 }, (_, gpio) => gpio), 25, 26, 27, 28]);
const uart0Transmit = [0, 12, 16, 28];
const uart0Receive = [1, 13, 17, 29];
const i2c0Data = [0, 4, 8, 12, 16, 20, 28];
const i2c0Clock = [1, 5, 9, 13, 17, 21, 29];
const analogue = [26, 27, 28, 29];
const spi0Receive = [0, 4, 16, 20];
const spi0Clock = [2, 6, 18, 22];
const spi0Transmit = [3, 7, 19, 23];

const flat = (map: Readonly<Record<string, number | readonly number[]>>): number[] =>
  Object.values(map).flatMap((value) => value);

const document = readFileSync(
  fileURLToPath(new URL('../../hardware-notes/pins.md', import.meta.url)),
  'utf8',
);
const firstTable = document.slice(document.indexOf('<!-- table: pins -->'), document.indexOf('<!-- end -->'));
const rows = new Map(
  [...firstTable.matchAll(/^\| GP(\d+) \| (.+?) \| (.+?) \|/gm)].map((match) => [
    Number(match[1]),
    match[3] ?? '',
  ]),
);

describe.each([
  ['the one-channel board', pins],
  ['the four-channel board', fourChannelPins],
])('%s', (_, map) => {
  it('uses no pin twice', () => {
    expect(new Set(flat(map)).size).toBe(flat(map).length);
  });

  it('uses only pins that the carrier brings out', () => {
    expect(flat(map).filter((gpio) => !onCarrier.has(gpio))).toEqual([]);
  });

  it('puts the serial line and the converter bus on pins that have the function', () => {
    expect(uart0Transmit).toContain(map.serialTransmit);
    expect(uart0Receive).toContain(map.serialReceive);
    expect(i2c0Data).toContain(map.meterData);
    expect(i2c0Clock).toContain(map.meterClock);
  });
});

describe('functions only one board needs', () => {
  it('reads the coil rail on an analogue pin', () => {
    expect(analogue).toContain(pins.railSense);
  });

  it('shifts the relay registers on pins of one SPI unit', () => {
    expect(spi0Receive).toContain(fourChannelPins.spiIn);
    expect(spi0Clock).toContain(fourChannelPins.spiClock);
    expect(spi0Transmit).toContain(fourChannelPins.spiOut);
  });
});

describe('the contact mask on the bank of pins', () => {
  it('drives the pin of each contact and no other', () => {
    const relayPins = [...pins.elements, pins.limiterBypass, pins.output];
    relayPins.forEach((gpio, bit) => expect(gpioFromContacts(1 << bit)).toBe(1 << gpio));
    expect(relayGpioMask).toBe(relayPins.reduce((mask, gpio) => mask | (1 << gpio), 0));
  });

  it('drives nothing outside the relays, whatever the mask holds', () => {
    expect(gpioFromContacts(0xffff_ffff) & ~relayGpioMask).toBe(0);
    expect(gpioFromContacts(0)).toBe(0);
  });

  it('has one bit for each element, the limiter and the output', () => {
    expect(contactBits.elementsMask).toBe(2 ** elements.length - 1);
    expect(contactBits.limiterBypassMask).toBe(2 ** elements.length);
    expect(contactBits.outputMask).toBe(2 ** (elements.length + 1));
    expect(contactBits.allMask).toBe(
      contactBits.elementsMask | contactBits.limiterBypassMask | contactBits.outputMask,
    );
  });
});

describe('the pin table of the notes', () => {
  it('has exactly the pins of the data', () => {
    expect([...rows.keys()].sort((a, b) => a - b)).toEqual(flat(pins).sort((a, b) => a - b));
  });

  it('says for each relay pin which relay, bit and element it is', () => {
    expect(pins.elements).toHaveLength(elements.length);
    pins.elements.forEach((gpio, index) => {
      expect(rows.get(gpio)).toContain(`K${index + 1}, bit ${index}: high shorts ${elements[index]!.name} (`);
    });
    expect(rows.get(pins.limiterBypass)).toContain('bit 14');
    expect(rows.get(pins.output)).toContain('bit 15');
  });

  it('names the purpose of the pins that are not relays', () => {
    expect(rows.get(pins.deadManPulse)).toContain('dead-man');
    expect(rows.get(pins.hardwareTrip)).toContain('TRIP-N');
    expect(rows.get(pins.railSense)).toContain('coil supplies');
    expect(rows.get(pins.serialTransmit)).toContain('to the isolator');
    expect(rows.get(pins.meterData)).toContain('data');
    expect(rows.get(pins.ohmmeterHigh)).toContain('10 mA');
  });
});
