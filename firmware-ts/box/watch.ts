import type { GuardView } from '../guard/guard';
import { rowCount } from '../ladder/table';
import type { ElementTable } from '../ladder/table';

/** Notices when the element table in memory is no longer what was loaded from storage: one row a turn, all in a blink. */
export class TableWatch {
  readonly #table: ElementTable;
  readonly #milliohm = new Float64Array(rowCount);
  #next = 0;

  constructor(table: ElementTable) {
    this.#table = table;
    this.accept();
  }

  /** Takes the table as it is for good, after loading. */
  accept(): void {
    this.#milliohm.set(this.#table.milliohm);
  }

  /** False when the row whose turn it is has changed by itself. */
  isIntact(): boolean {
    const row = this.#next;
    this.#next = row + 1 < rowCount ? row + 1 : 0;
    return this.#table.milliohm[row] === this.#milliohm[row];
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
  peakLimitMilliamp: 0,
  meterAgeMs: 0,
  contactMask: 0,
  madeMilliohm: 0,
  hostSilentMs: 0,
  leaseMs: 0,
  railMillivolt: 0,
  isRailWanted: false,
  isHardwareTripped: false,
});
