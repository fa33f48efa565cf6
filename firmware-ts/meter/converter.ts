import { converter } from '../board/reference-design';
import type { MeterChannel } from '../board/reference-design';
import type { Device } from '../device';
import type { I2C } from '../ecma419';
import { RESULT_BYTES, openBus, signed24 } from './converter-bus';

const MUX_REGISTER = 0;
const MODE_REGISTER = 1;
const STATUS_REGISTER = 2;
const { commands } = converter;

/** First bytes on the bus, for whoever stands between firmware and chip. */
export const busWords = {
  askStatus: commands.readRegister | (STATUS_REGISTER << 2),
  readyBit: converter.readyBit,
  askResult: commands.readData,
  /** Some chips are asked who they are; this one cannot tell. */
  askIdentity: NaN,
  identity: 0,
  isStart: (bytes: Uint8Array): boolean => bytes[0] === commands.start,
};

/** One ADS122C04 on the I2C bus, one conversion at a time. */
export class Converter {
  readonly #bus: I2C;
  readonly #mux: readonly ArrayBuffer[];
  readonly #start = Uint8Array.of(commands.start).buffer;
  readonly #readData = Uint8Array.of(busWords.askResult).buffer;
  readonly #readStatus = Uint8Array.of(busWords.askStatus).buffer;

  constructor(device: Device, address: number) {
    this.#bus = openBus(device, address);
    this.#mux = converter.inputSelect.map(
      (select) => Uint8Array.of(commands.writeRegister | (MUX_REGISTER << 2), select).buffer,
    );
  }

  /** Puts the chip into its known state, before its first conversion and after it has fallen silent. */
  configure(): void {
    const { reset, writeRegister } = commands;
    this.#bus.write(Uint8Array.of(reset).buffer);
    this.#bus.write(Uint8Array.of(writeRegister | (MODE_REGISTER << 2), converter.register1).buffer);
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
