import { converter, pins } from '../board/reference-design';
import type { MeterChannel } from '../board/reference-design';
import type { Device } from '../device';
import type { I2C } from '../ecma419';

const SIGN_BIT = 0x80_0000;
const CODE_SPAN = 0x100_0000;
const RESULT_BYTES = 3;
const MUX_REGISTER = 0;
const MODE_REGISTER = 1;
const STATUS_REGISTER = 2;
const BUS_HZ = 400_000;
/**
 * A transfer takes a sixth of a millisecond. The first board's runtime waits 200 ms for a bus that hangs unless it is told
 * otherwise, and whatever waits meanwhile is neither guarded nor pulsed.
 */
const BUS_TIMEOUT_MS = 2;

/** Two's complement of 24 bits: 0x800000 is the lowest code. */
export const signed24 = (raw: number): number => (raw >= SIGN_BIT ? raw - CODE_SPAN : raw);

/** One 24-bit delta-sigma converter on the I2C bus, one conversion at a time. */
export class Converter {
  readonly #bus: I2C;
  readonly #mux: readonly ArrayBuffer[];
  readonly #start = Uint8Array.of(converter.commands.start).buffer;
  readonly #readData = Uint8Array.of(converter.commands.readData).buffer;
  readonly #readStatus = Uint8Array.of(converter.commands.readRegister | (STATUS_REGISTER << 2)).buffer;

  constructor({ io }: Device, address: number) {
    this.#bus = new io.I2C({
      data: pins.meterData,
      clock: pins.meterClock,
      hz: BUS_HZ,
      address,
      timeout: BUS_TIMEOUT_MS,
    });
    const { writeRegister } = converter.commands;
    this.#mux = converter.inputSelect.map(
      (select) => Uint8Array.of(writeRegister | (MUX_REGISTER << 2), select).buffer,
    );
  }

  /** Puts the chip into its known state, before its first conversion and after it has fallen silent. */
  configure(): void {
    const { reset, writeRegister } = converter.commands;
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
    return (new Uint8Array(this.#bus.read(1))[0]! & converter.readyBit) !== 0;
  }

  /** Result of the last conversion: its code, to be turned into a quantity by its channel. */
  readCode(): number {
    this.#bus.write(this.#readData);
    const bytes = new Uint8Array(this.#bus.read(RESULT_BYTES));
    // A short answer leaves undefined bytes, hence NaN, which every comparison of the guard refuses.
    return signed24(bytes[0]! * 0x1_0000 + bytes[1]! * 0x100 + bytes[2]!);
  }
}
