import { converter, meterChannels } from '../reference-design';
import type { MeterChannelName } from '../reference-design';
import type { VirtualClock } from './clock';
import type { Random } from './random';

/** What a channel carries at an instant, microvolt against bias. */
export type Truth = (name: MeterChannelName) => number;

const RESULT_BYTES = 3;
/** Twenty a second is what such a chip wakes up with: from memory. */
const UNSET_CONVERSION_MS = 50;
const CODE_SPAN = 2 ** converter.bits;
const HIGHEST_CODE = 2 ** (converter.bits - 1) - 1;

/** One 24-bit converter: commands in, conversions that take their time, noise. It may hang. */
export class SimulatedConverter {
  isHung = false;
  /** True when a result waits. */
  hasResult = false;
  readonly #clock: VirtualClock;
  readonly #random: Random;
  readonly #channels: readonly (MeterChannelName | undefined)[];
  readonly #truth: Truth;
  #input = 0;
  #code = 0;
  #conversion = 0;
  #register1 = 0;
  #asked: 'result' | 'status' | undefined;

  constructor(index: 0 | 1, truth: Truth, world: { readonly clock: VirtualClock; readonly random: Random }) {
    this.#clock = world.clock;
    this.#random = world.random;
    this.#truth = truth;
    const names: (MeterChannelName | undefined)[] = [undefined, undefined, undefined];
    const entries = Object.entries(meterChannels);
    for (const [name, channel] of entries) {
      if (channel.converter === index && isChannelName(name)) names[channel.input] = name;
    }
    this.#channels = names;
  }

  write(bytes: Uint8Array): void {
    if (this.isHung) throw new Error('I2C: no acknowledge');
    const { reset, start, readData, readRegister, writeRegister } = converter.commands;
    const command = bytes[0]!;
    if (command === reset) this.#reset();
    else if (command === start) this.#start();
    else if (command === readData) this.#asked = 'result';
    else if (command === (readRegister | (2 << 2))) this.#asked = 'status';
    else if (command === writeRegister) this.#select(bytes[1]!);
    else if (command === (writeRegister | (1 << 2))) this.#register1 = bytes[1]!;
  }

  read(byteLength: number): ArrayBuffer {
    if (this.isHung) throw new Error('I2C: no acknowledge');
    const bytes = new Uint8Array(byteLength);
    const asked = this.#asked;
    this.#asked = undefined;
    if (asked === 'status') bytes[0] = this.hasResult ? converter.readyBit : 0;
    if (asked !== 'result') return bytes.buffer;
    this.hasResult = false;
    const raw = (this.#code + CODE_SPAN) % CODE_SPAN;
    for (let index = 0; index < RESULT_BYTES; index += 1)
      bytes[index] = (raw >>> (8 * (RESULT_BYTES - 1 - index))) & 0xff;
    return bytes.buffer;
  }

  /** A dip of its own supply: the chip forgets its setting and answers as if nothing had been. */
  dip(): void {
    this.#reset();
  }

  #reset(): void {
    this.#register1 = 0;
    this.#conversion += 1;
    this.hasResult = false;
  }

  #select(value: number): void {
    this.#input = Math.max(
      0,
      converter.inputSelect.findIndex((select) => select === value),
    );
  }

  /** The input is averaged over the conversion: three looks stand in for that. */
  #start(): void {
    this.#conversion += 1;
    this.hasResult = false;
    const conversion = this.#conversion;
    const channel = this.#channels[this.#input];
    const looks: number[] = [];
    for (const part of [1 / 6, 3 / 6, 5 / 6]) {
      this.#clock.at(this.#clock.nowMs + part * converter.conversionMs, () => {
        if (channel !== undefined) looks.push(this.#truth(channel));
      });
    }
    const tookMs = this.#register1 === converter.register1 ? converter.conversionMs : UNSET_CONVERSION_MS;
    this.#clock.at(this.#clock.nowMs + tookMs, () => {
      if (conversion === this.#conversion && !this.isHung) this.#finish(looks);
    });
  }

  #finish(looks: readonly number[]): void {
    const mean = looks.reduce((sum, look) => sum + look, 0) / Math.max(1, looks.length);
    const microvolt = mean + this.#random.normal() * converter.noiseMicrovoltRms;
    const code = Math.round((microvolt / converter.fullScaleMicrovolt) * (HIGHEST_CODE + 1));
    this.#code = Math.max(-HIGHEST_CODE - 1, Math.min(HIGHEST_CODE, code));
    this.hasResult = true;
  }
}

const isChannelName = (name: string): name is MeterChannelName => name in meterChannels;
