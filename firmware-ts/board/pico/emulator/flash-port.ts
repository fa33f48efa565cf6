import type { FlashPart } from './flash-part';
import type { Peripheral } from './rp2040';

/** A peripheral as plain memory, with the atomic writes of the chip; what matters is overridden. */
abstract class Registers implements Peripheral {
  readonly #values = new Map<number, number>();

  readUint32(offset: number): number {
    return this.#values.get(offset) ?? 0;
  }

  writeUint32(offset: number, value: number): void {
    this.#values.set(offset, value);
  }

  writeUint32Atomic(offset: number, value: number, atomicType: number): void {
    // A plain write must not read first: reading takes a byte out of the queue.
    if (atomicType === 0) return this.writeUint32(offset, value);
    const before = this.readUint32(offset);
    const after = [value, before ^ value, before | value, before & ~value][atomicType] ?? value;
    this.writeUint32(offset, after);
  }
}

/** RP2040 data sheet 2.19.6.2: function and overrides of the chip-select pin; 2 drives it low, 3 high. */
const SELECT_CONTROL = 0x0c;
const OUTPUT_OVERRIDE_SHIFT = 8;

/** RP2040 data sheet 4.10.13. */
const ssi = { enable: 0x08, receiveLevel: 0x24, status: 0x28, data: 0x60 } as const;
const STATUS_TRANSMIT_READY = 0x06;
const STATUS_RECEIVED = 0x08;

/** The chip's serial port to the flash, when it is not reading code: commands of the boot ROM and of the unique id. */
export class FlashPort extends Registers {
  readonly #part: FlashPart;
  #received: number[] = [];
  #isForced = false;
  #isSelected = false;
  /** The pins of the flash: only the chip select is of interest. */
  readonly pins: Peripheral;

  constructor(part: FlashPart) {
    super();
    this.#part = part;
    this.pins = new SelectPin((override) => this.#force(override));
  }

  override readUint32(offset: number): number {
    if (offset === ssi.data) return this.#received.shift() ?? 0;
    if (offset === ssi.receiveLevel) return this.#received.length;
    if (offset !== ssi.status) return super.readUint32(offset);
    // Without a forced chip select the port itself ends the transfer when it has nothing more to send.
    if (!this.#isForced) this.#end();
    return STATUS_TRANSMIT_READY | (this.#received.length > 0 ? STATUS_RECEIVED : 0);
  }

  override writeUint32(offset: number, value: number): void {
    super.writeUint32(offset, value);
    if (offset === ssi.enable && value === 0) {
      this.#received = [];
      if (!this.#isForced) this.#end();
    }
    if (offset === ssi.data) this.#send(value & 0xff);
  }

  #send(byte: number): void {
    if (!this.#isSelected && !this.#isForced) this.#start();
    this.#received.push(this.#isSelected ? this.#part.transfer(byte) : 0xff);
  }

  #force(override: number): void {
    this.#isForced = override >= 2;
    if (override === 2 && !this.#isSelected) this.#start();
    if (override !== 2) this.#end();
  }

  #start(): void {
    this.#isSelected = true;
    this.#part.select();
  }

  #end(): void {
    if (this.#isSelected) this.#part.deselect();
    this.#isSelected = false;
  }
}

class SelectPin extends Registers {
  readonly #force: (override: number) => void;

  constructor(force: (override: number) => void) {
    super();
    this.#force = force;
  }

  override writeUint32(offset: number, value: number): void {
    super.writeUint32(offset, value);
    if (offset === SELECT_CONTROL) this.#force((value >>> OUTPUT_OVERRIDE_SHIFT) & 3);
  }
}
