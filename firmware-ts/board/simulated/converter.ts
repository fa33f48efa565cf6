import { converter } from '../reference-design';
import { Conversion, type ConverterWorld, type Truth } from './conversion';

/** Twenty a second is what such a chip wakes up with: from memory. */
const UNSET_CONVERSION_MS = 50;

/** One 24-bit converter: commands in, conversions that take their time, noise. It may hang. */
export class SimulatedConverter {
  isHung = false;
  readonly #conversion: Conversion;
  #input = 0;
  #register1 = 0;
  #asked: 'result' | 'status' | undefined;

  constructor(index: 0 | 1, truth: Truth, world: ConverterWorld) {
    this.#conversion = new Conversion(index, truth, world);
  }

  /** True when a result waits. */
  get hasResult(): boolean {
    return this.#conversion.hasResult;
  }

  write(bytes: Uint8Array): void {
    if (this.isHung) throw new Error('I2C: no acknowledge');
    const { reset, start, readData, readRegister, writeRegister } = converter.commands;
    const command = bytes[0]!;
    if (command === reset) this.dip();
    else if (command === start) this.#start();
    else if (command === readData) this.#asked = 'result';
    else if (command === (readRegister | (2 << 2))) this.#asked = 'status';
    else if (command === writeRegister) this.#select(bytes[1]!);
    else if (command === (writeRegister | (1 << 2))) this.#register1 = bytes[1]!;
  }

  read(byteLength: number): ArrayBuffer {
    if (this.isHung) throw new Error('I2C: no acknowledge');
    const asked = this.#asked;
    this.#asked = undefined;
    if (asked === 'result') return this.#conversion.take(byteLength);
    const bytes = new Uint8Array(byteLength);
    if (asked === 'status') bytes[0] = this.hasResult ? converter.readyBit : 0;
    return bytes.buffer;
  }

  /** A dip of its own supply: the chip forgets its setting and answers as if nothing had been. */
  dip(): void {
    this.#register1 = 0;
    this.#conversion.abort();
  }

  #select(value: number): void {
    this.#input = Math.max(
      0,
      converter.inputSelect.findIndex((select) => select === value),
    );
  }

  #start(): void {
    const tookMs = this.#register1 === converter.register1 ? converter.conversionMs : UNSET_CONVERSION_MS;
    this.#conversion.start(this.#input, tookMs, () => !this.isHung);
  }
}
