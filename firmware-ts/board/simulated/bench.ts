import { Box } from '../../main';
import { storeCalibration } from '../../calibration/store';
import { bitOfRow, residualRow, rowCount } from '../../ladder/table';
import { contactBits, meterChannels } from '../reference-design';
import type { BootCause, Device } from '../../device';
import { SimulatedBoard } from './board';
import { SimulatedFlash } from './flash';
import { World } from './world';
import type { WorldOptions } from './world';

export type SimulatedBoxOptions = WorldOptions & {
  readonly sent: (bytes: Uint8Array) => void;
  /** Day on which the box was calibrated, days since 1970-01-01; without it the box comes uncalibrated. */
  readonly calibrationDay?: number;
  /** The box has no power until `powerOn`. */
  readonly isPoweredOff?: boolean;
  /** Makes the boot nonces of two runs differ though their seed, and so their world, is the same. */
  readonly bootSalt?: number;
  /** What the box calls itself; several on one bench are told apart by it. */
  readonly boxSerial?: number;
  /** Starts another firmware than the sources beside this: the bundle of the microcontroller, in whatever engine. */
  readonly firmware?: StartFirmware;
};

/** A firmware that runs, as far as a test may reach into it. */
export type RunningFirmware = {
  /** A bit of the element table in memory flips. */
  readonly spoilTable: () => void;
};

export type StartFirmware = (device: Device, world: World) => RunningFirmware;

const ownFirmware: StartFirmware = (device) => {
  const { parts } = new Box(device);
  return {
    spoilTable: () => {
      parts.table.milliohm[3] = parts.table.milliohm[3]! + 1;
    },
  };
};

const VALID_DAYS = 365;
const GAIN_TEST_AMP = 0.01;

/** By how much more than it shows really flows, as a part: what a self-calibration finds of the current channel. */
function currentGainError({ chain, frontEnd }: World): number {
  const shownAmp =
    (frontEnd.currentVolt(GAIN_TEST_AMP * chain.shuntOhm) - frontEnd.currentVolt(0)) *
    meterChannels.current.scale;
  return GAIN_TEST_AMP / shownAmp - 1;
}

/** Firmware and world together, in virtual time. */
export class SimulatedBox {
  readonly world: World;
  readonly flash = new SimulatedFlash();
  readonly #sent: (bytes: Uint8Array) => void;
  readonly #bootSalt: number;
  readonly #boxSerial: number | undefined;
  readonly #firmware: StartFirmware;
  #board: SimulatedBoard | undefined;
  #running: RunningFirmware | undefined;
  #restartCount = 0;

  constructor(options: SimulatedBoxOptions) {
    this.world = new World(options);
    this.#sent = options.sent;
    this.#bootSalt = options.bootSalt ?? 0;
    this.#boxSerial = options.boxSerial;
    this.#firmware = options.firmware ?? ownFirmware;
    if (options.calibrationDay !== undefined) this.calibrateByTruth(options.calibrationDay);
    if (options.isPoweredOff !== true) this.powerOn();
  }

  /** The firmware boots. */
  powerOn(): void {
    this.#board = this.board('power');
    this.#running = this.#firmware(this.#board.device, this.world);
  }

  get nowMs(): number {
    return this.world.clock.nowMs;
  }

  advance(byMs: number): void {
    this.world.clock.advanceTo(this.world.clock.nowMs + byMs);
  }

  /** Bytes from the host. */
  receive(bytes: Uint8Array): void {
    this.#board?.receive(bytes);
  }

  /** The chip resets and starts anew. */
  restart(cause: BootCause): void {
    this.flash.powerOn();
    this.#board?.stop();
    this.#restartCount = cause === 'power' ? 0 : this.#restartCount + 1;
    this.#board = this.board(cause);
    this.#running = this.#firmware(this.#board.device, this.world);
  }

  /** The program hangs: nothing of it runs any more, and its outputs stay as they are. */
  hang(): void {
    this.world.clock.clearTimers();
  }

  /** A bit of the element table in memory flips. */
  spoilTable(): void {
    this.#running?.spoilTable();
  }

  /** Puts a table into storage as a careful self-calibration would have left it: the truth, off by a little. */
  calibrateByTruth(calibrationDay: number): void {
    const { chain, frontEnd, random } = this.world;
    const all = contactBits.allMask;
    const residualOhm = this.world.settledOhm(all);
    const reference = 1 + random.between(-0.001, 0.001);
    const rows = Array.from({ length: rowCount }, (_, row) => {
      if (row === residualRow) return residualOhm;
      const mask = all & ~(1 << bitOfRow(row));
      return chain.settledOhm(mask) - chain.settledOhm(all);
    });
    storeCalibration(this.flash.sectors, {
      counter: 1,
      calibrationId: 1 + Math.floor(random.unit() * 1e6),
      calibrationDay,
      calibrationEndDay: calibrationDay + VALID_DAYS,
      currentGainPartsPerMillion: currentGainError(this.world) * 1e6,
      currentOffsetNanoamp: frontEnd.currentZeroMicroamp * 1000,
      terminalZeroMicrovolt: frontEnd.shownMicrovolt('terminal', 0),
      groundSenseZeroMicrovolt: frontEnd.shownMicrovolt('groundSense', 0),
      groundOffsetZeroMicrovolt: frontEnd.shownMicrovolt('groundOffset', 0),
      milliohm: rows.map((ohm) => ohm * 1000 * reference),
      uncertaintyMilliohm: rows.map((ohm) => ohm * 0.65 + 4),
    });
  }

  /** A board for this world, before any firmware is on it. */
  board(cause: BootCause): SimulatedBoard {
    return new SimulatedBoard({
      world: this.world,
      calibrationSectors: this.flash.sectors,
      bootNonce: (Math.floor(this.world.random.unit() * 2 ** 32) ^ this.#bootSalt) >>> 0,
      cause,
      restartCount: this.#restartCount,
      boxSerial: this.#boxSerial,
      sent: this.#sent,
    });
  }
}
