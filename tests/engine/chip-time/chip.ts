import type { RunningFirmware } from '../../../firmware-ts/board/simulated/bench';
import type { World } from '../../../firmware-ts/board/simulated/world';
import type { Device } from '../../../firmware-ts/main';
import type { SyncEngine } from './engine';
import { calls } from './wire';
import { WorldIo } from './world-io';

/**
 * The yardstick, RP2040 at 125 MHz with its code in flash. Measured on an emulated chip with a model of its cache; never
 * on silicon. A turn takes this for each computron of the engine, and the bus on top when a conversion is taken.
 */
export const yardstick = {
  microsecondPerComputron: 1.28,
  conversionMs: 0.64,
  collectionMs: 1.5,
  collectionEveryMs: 333,
} as const;

type CallName = 'timer' | 'readable' | 'writable';

/** One callback, as it was: for the budgets. */
export type Spent = {
  readonly call: CallName | 'boot';
  readonly atMs: number;
  readonly tookMs: number;
  readonly computrons: number;
  /** Bytes taken from the serial port. */
  readonly readBytes: number;
  /** Bytes handed to the serial port. */
  readonly sentBytes: number;
  /** An edge for the hardware dead-man. */
  readonly hasPulse: boolean;
  /** A conversion's result was taken. */
  readonly isFresh: boolean;
};

/** What a test wants to know of every callback. */
export type ChipListener = (spent: Spent) => void;

/**
 * The chip: one thread, one callback at a time, each of which takes the time that its computrons cost. What comes
 * meanwhile waits. What a callback reads was true when it began; bus commands take effect after the bus, all else at the
 * end of the callback.
 */
export class Chip implements RunningFirmware {
  readonly #engine: SyncEngine;
  readonly #world: World;
  readonly #io: WorldIo;
  readonly #listener: ChipListener;
  readonly #baseComputrons: number;
  readonly #waiting: CallName[] = [];
  #busyUntilMs = 0;
  #isBusy = false;
  #collectedAtMs = 0;

  constructor(
    engine: SyncEngine,
    { device, world }: { device: Device; world: World },
    listener: ChipListener,
  ) {
    this.#engine = engine;
    this.#world = world;
    this.#listener = listener;
    this.#io = new WorldIo({ device, isBusHung: () => world.busHangMs > 0 }, (call) => this.#post(call));
    this.#baseComputrons = engine.command(this.#io.inputs(calls.nothing)).compute;
    this.#collectedAtMs = world.clock.nowMs;
    this.#run('boot', this.#io.bootInputs());
  }

  spoilTable(): void {
    this.#command(this.#io.inputs(calls.spoil));
  }

  #post(call: CallName): void {
    if (!this.#waiting.includes(call)) this.#waiting.push(call);
    this.#next();
  }

  #next(): void {
    if (this.#isBusy) return;
    const call = this.#waiting.shift();
    if (call === undefined) return;
    if (call === 'readable' && this.#io.receivedCount === 0) return this.#next();
    this.#run(call, this.#io.inputs(calls[call]));
  }

  #run(call: CallName | 'boot', inputs: Uint8Array): void {
    const { bytes, computrons } = this.#command(inputs);
    const done = this.#io.read(bytes);
    const startMs = this.#world.clock.nowMs;
    const busMs = (done.isConversionStarted ? yardstick.conversionMs : 0) + done.timedOutMs;
    const tookMs =
      busMs + (computrons * yardstick.microsecondPerComputron) / 1000 + this.#collectionMs(startMs);
    const { readBytes, sentBytes, hasPulse, isFresh } = done;
    this.#listener({ call, atMs: startMs, tookMs, computrons, readBytes, sentBytes, hasPulse, isFresh });
    this.#isBusy = true;
    this.#busyUntilMs = startMs + tookMs;
    this.#io.startTimers(done);
    this.#world.clock.wakeAt(startMs + busMs, () => this.#io.doBus(done));
    this.#world.clock.wakeAt(this.#busyUntilMs, () => {
      this.#io.doPins(done);
      this.#isBusy = false;
      // The first board's runtime tells of what is left after every read.
      if (done.readBytes > 0 && this.#io.receivedCount > 0) this.#post('readable');
      this.#next();
    });
  }

  #collectionMs(nowMs: number): number {
    if (nowMs - this.#collectedAtMs < yardstick.collectionEveryMs) return 0;
    this.#collectedAtMs = nowMs;
    return yardstick.collectionMs;
  }

  #command(inputs: Uint8Array): { readonly bytes: Uint8Array; readonly computrons: number } {
    // The engine counts anew for each command; what it takes to tell what was done is not the firmware's.
    const { compute } = this.#engine.command(inputs);
    const { bytes } = this.#engine.command(new Uint8Array(0));
    return { bytes, computrons: compute - this.#baseComputrons };
  }
}
