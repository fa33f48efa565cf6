import { ohmmeter, pins } from '../board/reference-design';
import type { Device } from '../device';
import type { Digital } from '../ecma419';

export type SourceRange = 'low' | 'high';

/** The ohmmeter's current source behind the CAL post. */
export class CurrentSource {
  readonly #low: Digital;
  readonly #high: Digital;

  constructor({ io }: Device) {
    this.#low = new io.Digital({ pin: pins.ohmmeterLow, mode: io.Digital.Output });
    this.#high = new io.Digital({ pin: pins.ohmmeterHigh, mode: io.Digital.Output });
    this.off();
  }

  on(range: SourceRange): void {
    this.#low.write(range === 'low' ? 1 : 0);
    this.#high.write(range === 'high' ? 1 : 0);
  }

  off(): void {
    this.#low.write(0);
    this.#high.write(0);
  }
}

/** Reference resistor of a range, milliohm. */
export const referenceMilliohm = (range: SourceRange): number => ohmmeter[range].referenceMilliohm;
