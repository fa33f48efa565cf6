import type { MeterChannel } from '../board/reference-design';
import type { Device } from '../device';
import type { I2C } from '../ecma419';
import { RESULT_BYTES, openBus, signed24 } from './converter-bus';

/**
 * The ADS122C14, a 24-bit converter of another generation, in place of the ADS122C04: another register map, no commands.
 * Source: register map, reading and writing in the maker's public example code for this part (its data sheet, SBASAW5, was not
 * read as a whole). Not read: modulator frequency of the speed modes, so how long a conversion takes; the meter waits for the
 * ready line whatever it is. That its addresses are those of the ADS122C04: from memory. Its analogue supply ends at 3.6 V: the drawn
 * board, with 5 V there and on the inputs, is not for it.
 */
const READ = 0x40;
const WRITE = 0x80;
const registers = {
  deviceId: 0x00,
  statusMsb: 0x02,
  conversionControl: 0x04,
  deviceConfiguration: 0x05,
  dataRate: 0x06,
  multiplexer: 0x07,
  gain: 0x08,
  reference: 0x09,
  digital: 0x0a,
  gpioConfiguration: 0x0b,
  gpioOutput: 0x0c,
} as const;

/** The 24-bit part; the 16-bit one of the same package says 0x0a. */
const IDENTITY_24_BIT = 0x0b;
const START = 0x02;
const STOP = 0x01;
/** Inputs 0 to 2 against input 3. */
const inputSelect = [0x03, 0x13, 0x23] as const;

/**
 * Everything that a measurement hangs on. There is no reset: the chip would be deaf for half a millisecond after it, and what a
 * dip of its supply forgot is written anew here.
 */
const settings: readonly (readonly [register: number, value: number])[] = [
  [registers.conversionControl, STOP],
  // Single shot, speed mode 2.
  [registers.deviceConfiguration, 0x04 | 0x02],
  // Oversampling 1024, no delay, no chopping.
  [registers.dataRate, 0x05],
  // Gain 1, inputs as they are.
  [registers.gain, 0x01],
  // External reference, both its buffers off.
  [registers.reference, 0x01],
  // No status word, no check sum, two's complement.
  [registers.digital, 0x00],
  // Pin GPIO3 tells "data ready", open drain.
  [registers.gpioOutput, 0x80],
  [registers.gpioConfiguration, 0xc0],
];

/** First bytes on the bus, for whoever stands between firmware and chip. */
export const busWords = {
  askStatus: READ | registers.statusMsb,
  readyBit: 0x01,
  askResult: 0x00,
  askIdentity: READ | registers.deviceId,
  identity: IDENTITY_24_BIT,
  isStart: (bytes: Uint8Array): boolean =>
    bytes[0] === (WRITE | registers.conversionControl) && (bytes[1]! & START) !== 0,
};

/** One ADS122C14 on the I2C bus, one conversion at a time. */
export class Converter {
  readonly #bus: I2C;
  readonly #settings = settings.map(([register, value]) => Uint8Array.of(WRITE | register, value).buffer);
  readonly #mux = inputSelect.map((select) => Uint8Array.of(WRITE | registers.multiplexer, select).buffer);
  readonly #start = Uint8Array.of(WRITE | registers.conversionControl, START).buffer;
  readonly #readData = Uint8Array.of(busWords.askResult).buffer;
  readonly #readStatus = Uint8Array.of(busWords.askStatus).buffer;
  readonly #readIdentity = Uint8Array.of(busWords.askIdentity).buffer;

  constructor(device: Device, address: number) {
    this.#bus = openBus(device, address);
  }

  /**
   * Puts the chip into its known state, before its first conversion and after it has fallen silent. Throws for a chip that does
   * not say it is the 24-bit part: the meter then stays silent, and the box does not arm.
   */
  configure(): void {
    this.#bus.write(this.#readIdentity);
    const identity = new Uint8Array(this.#bus.read(1))[0];
    if (identity !== IDENTITY_24_BIT) throw new Error(`no ADS122C14: it says ${identity}`);
    for (const setting of this.#settings) this.#bus.write(setting);
  }

  /** Starts one conversion of an input against bias. */
  start(input: MeterChannel['input']): void {
    this.#bus.write(this.#mux[input]!);
    this.#bus.write(this.#start);
  }

  /** True when the conversion begun last has ended; before that the chip would give the one before once more. */
  hasResult(): boolean {
    this.#bus.write(this.#readStatus);
    return (new Uint8Array(this.#bus.read(1))[0]! & busWords.readyBit) !== 0;
  }

  /** Result of the last conversion: its code, to be turned into a quantity by its channel. */
  readCode(): number {
    this.#bus.write(this.#readData);
    const bytes = new Uint8Array(this.#bus.read(RESULT_BYTES));
    // A short answer leaves undefined bytes, hence NaN, which every comparison of the guard refuses.
    return signed24(bytes[0]! * 0x1_0000 + bytes[1]! * 0x100 + bytes[2]!);
  }
}
