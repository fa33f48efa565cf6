import { crc32 } from '../../protocol';
import type { GuardView } from '../guard/guard';
import type { ElementTable } from '../ladder/table';

/** How often the element table in memory is compared with what was loaded. */
const CHECK_MS = 1000;

/** Notices when the element table in memory is no longer what was loaded from storage. */
export class TableWatch {
  readonly #bytes: Uint8Array;
  #check = 0;
  #checkedAtMs = 0;

  constructor(table: ElementTable) {
    this.#bytes = new Uint8Array(table.milliohm.buffer);
    this.accept();
  }

  /** Takes the table as it is for good, after loading. */
  accept(): void {
    this.#check = crc32(this.#bytes);
  }

  /** False when the table has changed by itself. Looks once a second. */
  isIntact(nowMs: number): boolean {
    if (nowMs - this.#checkedAtMs < CHECK_MS) return true;
    this.#checkedAtMs = nowMs;
    return crc32(this.#bytes) === this.#check;
  }
}

/** A view with nothing in it yet; NaN because nothing was measured. */
export const emptyView = (): GuardView => ({
  elapsedMs: 0,
  isFresh: false,
  isArmed: false,
  isOutputClosed: false,
  isDriving: false,
  isSettled: false,
  isOutputAtRestOpen: false,
  isCalibrated: false,
  terminalMicrovolt: NaN,
  currentMicroamp: NaN,
  meterAgeMs: 0,
  contactMask: 0,
  madeMilliohm: 0,
  hostSilentMs: 0,
  leaseMs: 0,
  railMillivolt: 0,
  isRailWanted: false,
  isHardwareTripped: false,
});
