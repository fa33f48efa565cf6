/**
 * The parts of ECMA-419 (4th edition) that the firmware uses, as structural types of our own: published typings lack
 * `close` on several classes. Clauses: Digital 10.1, DigitalBank 10.2, Analog 10.3, I2C 10.5, Serial 10.9.
 */
export type Closable = { close(): void };

export type Digital = Closable & { read(): number; write(value: number): void };
export type DigitalOptions = { readonly pin: number; readonly mode: number };

/** Bits are GPIO positions, not ordinals. */
export type DigitalBank = Closable & { write(bits: number): void };
export type DigitalBankOptions = { readonly pins: number; readonly mode: number };

export type Analog = Closable & { read(): number; readonly resolution: number };
export type AnalogOptions = { readonly pin: number };

export type I2C = Closable & {
  read(byteLength: number): ArrayBuffer;
  write(bytes: ArrayBuffer): void;
};
export type I2COptions = {
  readonly data: number;
  readonly clock: number;
  readonly hz: number;
  readonly address: number;
  /** Longest time for one transfer, ms; beyond the standard, which runtimes without it ignore. They may wait for ever then. */
  readonly timeout?: number;
};

export type Serial = Closable & {
  /**
   * Fills the buffer. Portable only with one no larger than the count that `onReadable` gave, and without a look at what
   * it answers: the standard answers a count, the first board's runtime the buffer.
   */
  read(buffer: ArrayBuffer): unknown;
  /** Portable only with a buffer of exact size that fits what `onWritable` gave. */
  write(bytes: ArrayBuffer): void;
};
export type SerialOptions = {
  readonly receive: number;
  readonly transmit: number;
  readonly baud: number;
  readonly format: 'buffer';
  readonly onReadable: (byteCount: number) => void;
  readonly onWritable: (byteCount: number) => void;
};

export type IoClasses = {
  readonly Digital: (new (options: DigitalOptions) => Digital) & DigitalModes;
  readonly DigitalBank: (new (options: DigitalBankOptions) => DigitalBank) & DigitalModes;
  readonly Analog: new (options: AnalogOptions) => Analog;
  readonly I2C: new (options: I2COptions) => I2C;
  readonly Serial: new (options: SerialOptions) => Serial;
};

export type DigitalModes = { readonly Input: number; readonly InputPullUp: number; readonly Output: number };
