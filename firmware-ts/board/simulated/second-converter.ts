import { Conversion, type ConverterWorld, type Truth } from './conversion';

/**
 * The ADS122C14 as its register map says: sixteen registers, no commands. Source: the maker's public example code. A conversion
 * of 1024 samples takes 2.2 ms here (512 kHz, from memory); woken up it converts without end, against its own reference.
 */
const CONVERSION_MS = 2.2;
const REGISTER_COUNT = 16;
const defaults: Readonly<Record<number, number>> = {
  0x00: 0x0b,
  0x07: 0x01,
  0x08: 0x01,
};

/** One such chip. `identity`: what it says it is. */
export class SimulatedConverter {
  isHung = false;
  identity = 0x0b;
  readonly #conversion: Conversion;
  #registers = defaultRegisters();
  #asked = 0;

  constructor(index: 0 | 1, truth: Truth, world: ConverterWorld) {
    this.#conversion = new Conversion(index, truth, world);
  }

  /** True when a result waits. The ready line tells it only when GPIO3 was made to. */
  get hasResult(): boolean {
    const isLineSet = this.#registers[0x0b] === 0xc0 && this.#registers[0x0c] === 0x80;
    return isLineSet && this.#conversion.hasResult;
  }

  write(bytes: Uint8Array): void {
    if (this.isHung) throw new Error('I2C: no acknowledge');
    const word = bytes[0]!;
    this.#asked = word;
    if ((word & 0xc0) !== 0x80) return;
    const register = word & 0x0f;
    const value = bytes[1]!;
    if (register === 0x04) this.#control(value);
    else this.#registers[register] = value;
  }

  read(byteLength: number): ArrayBuffer {
    if (this.isHung) throw new Error('I2C: no acknowledge');
    if (this.#asked === 0x00) return this.#conversion.take(byteLength);
    const bytes = new Uint8Array(byteLength);
    const register = this.#asked & 0x0f;
    if (register === 0x00) bytes[0] = this.identity;
    else if (register === 0x02) bytes[0] = 0xfe | (this.#conversion.hasResult ? 1 : 0);
    else bytes[0] = this.#registers[register]!;
    return bytes.buffer;
  }

  /** A dip of its own supply: the chip forgets its setting and answers as if nothing had been. */
  dip(): void {
    this.#registers = defaultRegisters();
    this.#conversion.abort();
  }

  #control(value: number): void {
    if (value === 0x58) return this.dip();
    if ((value & 0x01) !== 0) this.#conversion.abort();
    if ((value & 0x02) === 0) return;
    // Without its settings it measures something else, in its own time.
    const isSet = (this.#registers[0x05]! & 0x04) !== 0 && this.#registers[0x09] === 0x01;
    const [plus, minus] = [this.#registers[0x07]! >> 4, this.#registers[0x07]! & 0x0f];
    const input = isSet && minus === 3 ? plus : NaN;
    this.#conversion.start(input, CONVERSION_MS, () => !this.isHung);
  }
}

function defaultRegisters(): number[] {
  return Array.from({ length: REGISTER_COUNT }, (_, index) => defaults[index] ?? 0);
}
