import { converter, meterChannels, readingFromQuantity } from '../reference-design';
import type { MeterChannelName } from '../reference-design';
import type { VirtualClock } from './clock';
import type { Random } from './random';

/** What a channel really carries at an instant, in its quantity's unit. */
export type Truth = (name: MeterChannelName) => number;

const RESULT_BYTES = 3;
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
  #isResultAsked = false;

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
    const { reset, start, readData, writeRegister } = converter.commands;
    const command = bytes[0]!;
    if (command === reset) this.#reset();
    else if (command === start) this.#start();
    else if (command === readData) this.#isResultAsked = true;
    else if (command === writeRegister) this.#select(bytes[1]!);
  }

  read(byteLength: number): ArrayBuffer {
    if (this.isHung) throw new Error('I2C: no acknowledge');
    const bytes = new Uint8Array(byteLength);
    if (!this.#isResultAsked) return bytes.buffer;
    this.#isResultAsked = false;
    this.hasResult = false;
    const raw = (this.#code + CODE_SPAN) % CODE_SPAN;
    for (let index = 0; index < RESULT_BYTES; index += 1)
      bytes[index] = (raw >>> (8 * (RESULT_BYTES - 1 - index))) & 0xff;
    return bytes.buffer;
  }

  #reset(): void {
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
        if (channel !== undefined) looks.push(readingFromQuantity(channel, this.#truth(channel)));
      });
    }
    this.#clock.at(this.#clock.nowMs + converter.conversionMs, () => {
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
