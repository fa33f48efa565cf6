import type { Random } from './random';
import type { Alarm, Clock } from './rp2040';

/** Bytes of the part (parts list, "Which converter fits"). */
const RESET = 0x06;
const START = 0x08;
const READ_RESULT = 0x10;
const READ_REGISTER = 0x20;
const WRITE_REGISTER = 0x40;
const REGISTER_SHIFT = 2;
const STATUS_REGISTER = 2;
const READY_BIT = 0x80;
const SETUP_REGISTER = 1;
/** Single shot at the rate the box uses, with the reference from outside; another setting is no reading of this box. */
const SETUP = 0x62;
/** Input selected against input 3, by the high half of register 0. */
const INPUTS: Readonly<Record<number, number>> = { 0x2: 0, 0x5: 1, 0x6: 2 };

const FULL_SCALE_VOLT = 2.5;
const CODES = 2 ** 23;
const NOISE_VOLT = 6e-6;
/** The modulator takes the mean of its input over the conversion; this many looks make it. */
const LOOKS = 12;

export type ConverterOptions = {
  /** 1 / 175 s and a little, times the error of the part's own oscillator (2 %). */
  readonly conversionMs: number;
  /** Volt at an input against input 3, at a time in ms. */
  readonly volt: (input: number, atMs: number) => number;
  /** The ready line, low while a result waits. */
  readonly ready: (isWaiting: boolean) => void;
  readonly random: Random;
};

/** One 24-bit converter on the bus. */
export class ConverterPart {
  /** When a result of an input was last read, for the age of the meter. */
  onRead: (input: number) => void = () => undefined;
  readonly #clock: Clock;
  readonly #options: ConverterOptions;
  readonly #alarm: Alarm;
  readonly #registers = [0, 0, 0, 0];
  #command: number[] = [];
  #answer: number[] = [];
  #sum = 0;
  #looks = 0;
  #code = 0;
  #isWaiting = false;

  constructor(clock: Clock, options: ConverterOptions) {
    this.#clock = clock;
    this.#options = options;
    this.#alarm = clock.createAlarm(() => this.#look());
  }

  /** The bus addresses this part. */
  begin(): void {
    this.#command = [];
  }

  write(byte: number): void {
    this.#command.push(byte);
    const [command = 0, value] = this.#command;
    const register = (command & 0x0c) >> REGISTER_SHIFT;
    if (command === RESET) this.#reset();
    if (command === START) this.#start();
    if (command === READ_RESULT) this.#answer = [this.#code >> 16, this.#code >> 8, this.#code];
    if ((command & 0xf0) === READ_REGISTER) this.#answer = [this.#register(register)];
    if ((command & 0xf0) === WRITE_REGISTER && value !== undefined) this.#registers[register] = value;
  }

  read(): number {
    const byte = this.#answer.shift() ?? 0xff;
    if (this.#command[0] === READ_RESULT && this.#answer.length === 0) this.#taken();
    return byte & 0xff;
  }

  #register(index: number): number {
    return index === STATUS_REGISTER && this.#isWaiting ? READY_BIT : (this.#registers[index] ?? 0);
  }

  #reset(): void {
    this.#registers.fill(0);
    this.#alarm.cancel();
    this.#wait(false);
  }

  #start(): void {
    this.#sum = 0;
    this.#looks = 0;
    this.#wait(false);
    this.#alarm.schedule((this.#options.conversionMs / LOOKS) * 1e6);
  }

  #look(): void {
    const input = INPUTS[this.#registers[0]! >> 4];
    const isAsked = input !== undefined && this.#registers[SETUP_REGISTER] === SETUP;
    this.#sum += isAsked ? this.#options.volt(input, this.#clock.nanos / 1e6) : 0;
    this.#looks += 1;
    if (this.#looks < LOOKS) return this.#alarm.schedule((this.#options.conversionMs / LOOKS) * 1e6);
    const volt = this.#sum / LOOKS + NOISE_VOLT * this.#options.random.normal();
    const code = Math.round((volt / FULL_SCALE_VOLT) * CODES);
    this.#code = Math.max(-CODES, Math.min(CODES - 1, code)) & 0xff_ffff;
    this.#wait(true);
  }

  #taken(): void {
    this.#wait(false);
    this.onRead(INPUTS[this.#registers[0]! >> 4] ?? -1);
  }

  #wait(isWaiting: boolean): void {
    this.#isWaiting = isWaiting;
    this.#options.ready(isWaiting);
  }
}
