import type { ConverterPart } from './converter-part';
import type { Alarm, Clock, I2cController } from './rp2040';

/** Nine clocks a byte at 400 kHz; start and stop one each. */
const BYTE_NANOS = 22_500;
const EDGE_NANOS = 2_500;
/** Direction of a transfer, as the emulator numbers it. */
const WRITE = 0;
/** IC_RAW_INTR_STAT, IC_CLR_TX_ABRT and IC_ENABLE (RP2040 data sheet 4.3.17). */
const RAW_STATUS_REGISTER = 0x34;
const CLEAR_ABORT_REGISTER = 0x54;
const ENABLE_REGISTER = 0x6c;
/** With TX_EMPTY_CTRL set, as the chip's library sets it, this says that the last byte has left, not only the queue. */
const TRANSMIT_EMPTY = 1 << 4;

/** The I2C bus of the converters, with the time its bits take. It can be held low, as a part that hangs does. */
export class Bus {
  readonly #controller: I2cController;
  readonly #parts: ReadonlyMap<number, ConverterPart>;
  readonly #alarm: Alarm;
  #part: ConverterPart | undefined;
  #next: (() => void) | undefined;
  #isHung = false;

  constructor(controller: I2cController, clock: Clock, parts: ReadonlyMap<number, ConverterPart>) {
    this.#controller = controller;
    this.#parts = parts;
    this.#alarm = clock.createAlarm(() => this.#go());
    controller.onStart = () => this.#later(EDGE_NANOS, () => controller.completeStart());
    controller.onConnect = (address, mode) => this.#later(BYTE_NANOS, () => this.#connect(address, mode));
    controller.onWriteByte = (value) => this.#later(BYTE_NANOS, () => this.#write(value));
    controller.onReadByte = () =>
      this.#later(BYTE_NANOS, () => controller.completeRead(this.#part?.read() ?? 0xff));
    controller.onStop = () => this.#later(EDGE_NANOS, () => controller.completeStop());
    this.#giveUpWhenDisabled();
    this.#emptyWhenSent();
  }

  /** A part holds the clock low, or lets it go again. */
  hang(isHung: boolean): void {
    this.#isHung = isHung;
    if (!isHung && this.#next !== undefined) this.#alarm.schedule(EDGE_NANOS);
  }

  #connect(address: number, mode: number): void {
    this.#part = this.#parts.get(address);
    // What is to be read was said in the transfer before.
    if (mode === WRITE) this.#part?.begin();
    this.#controller.completeConnect(this.#part !== undefined);
  }

  #write(value: number): void {
    this.#part?.write(value);
    this.#controller.completeWrite(this.#part !== undefined);
  }

  #later(nanos: number, next: () => void): void {
    this.#next = next;
    if (!this.#isHung) this.#alarm.schedule(nanos);
  }

  #go(): void {
    if (this.#isHung) return;
    const next = this.#next;
    this.#next = undefined;
    next?.();
  }

  /** A controller that is switched off forgets the transfer it was in; the emulator's does not by itself. */
  #giveUpWhenDisabled(): void {
    const controller = this.#controller;
    const direct = controller.writeUint32.bind(controller);
    controller.writeUint32 = (offset, value) => {
      direct(offset, value);
      if (offset !== ENABLE_REGISTER || (value & 1) !== 0 || this.#next === undefined) return;
      this.#alarm.cancel();
      this.#next = undefined;
      controller.arbitrationLost();
      controller.readUint32(CLEAR_ABORT_REGISTER);
    };
  }

  /** The emulator's says so as soon as the byte is taken out of the queue. */
  #emptyWhenSent(): void {
    const controller = this.#controller;
    const direct = controller.readUint32.bind(controller);
    controller.readUint32 = (offset) => {
      const value = direct(offset);
      return offset === RAW_STATUS_REGISTER && this.#next !== undefined ? value & ~TRANSMIT_EMPTY : value;
    };
  }
}
