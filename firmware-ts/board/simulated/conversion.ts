import { converter, meterChannels } from '../reference-design';
import type { MeterChannelName } from '../reference-design';
import type { VirtualClock } from './clock';
import type { Random } from './random';

/** What a channel carries at an instant, microvolt against bias. */
export type Truth = (name: MeterChannelName) => number;

export type ConverterWorld = {
  readonly clock: VirtualClock;
  readonly random: Random;
};

const HIGHEST_CODE = 2 ** (converter.bits - 1) - 1;
const CODE_SPAN = 2 ** converter.bits;
const RESULT_BYTES = 3;

/** What any delta-sigma chip does between start and result: it averages its input, takes its time, and adds noise. */
export class Conversion {
  /** True when a result waits. */
  hasResult = false;
  readonly #world: ConverterWorld;
  readonly #channels: readonly (MeterChannelName | undefined)[];
  readonly #truth: Truth;
  #code = 0;
  #number = 0;

  constructor(index: 0 | 1, truth: Truth, world: ConverterWorld) {
    this.#world = world;
    this.#truth = truth;
    const names: (MeterChannelName | undefined)[] = [undefined, undefined, undefined];
    for (const [name, channel] of Object.entries(meterChannels)) {
      if (channel.converter === index && isChannelName(name)) names[channel.input] = name;
    }
    this.#channels = names;
  }

  /** What ran is forgotten. */
  abort(): void {
    this.#number += 1;
    this.hasResult = false;
  }

  /** The input is averaged over the conversion: three looks stand in for that. */
  start(input: number, tookMs: number, isAnswering: () => boolean): void {
    this.abort();
    const { clock } = this.#world;
    const number = this.#number;
    const channel = this.#channels[input];
    const looks: number[] = [];
    for (const part of [1 / 6, 3 / 6, 5 / 6]) {
      clock.at(clock.nowMs + part * Math.min(tookMs, converter.conversionMs), () => {
        if (channel !== undefined) looks.push(this.#truth(channel));
      });
    }
    clock.at(clock.nowMs + tookMs, () => {
      if (number === this.#number && isAnswering()) this.#finish(looks);
    });
  }

  /** The result's bytes, highest first; it is taken with that. */
  take(byteLength: number): ArrayBuffer {
    this.hasResult = false;
    const bytes = new Uint8Array(byteLength);
    const raw = (this.#code + CODE_SPAN) % CODE_SPAN;
    for (let index = 0; index < RESULT_BYTES; index += 1)
      bytes[index] = (raw >>> (8 * (RESULT_BYTES - 1 - index))) & 0xff;
    return bytes.buffer;
  }

  #finish(looks: readonly number[]): void {
    const mean = looks.reduce((sum, look) => sum + look, 0) / Math.max(1, looks.length);
    const microvolt = mean + this.#world.random.normal() * converter.noiseMicrovoltRms;
    const code = Math.round((microvolt / converter.fullScaleMicrovolt) * (HIGHEST_CODE + 1));
    this.#code = Math.max(-HIGHEST_CODE - 1, Math.min(HIGHEST_CODE, code));
    this.hasResult = true;
  }
}

const isChannelName = (name: string): name is MeterChannelName => name in meterChannels;
