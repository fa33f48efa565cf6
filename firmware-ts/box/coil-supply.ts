import { pins, railSense } from '../board/reference-design';
import type { Device } from '../device';
import type { Analog, Digital } from '../ecma419';

/**
 * The hardware dead-man as the firmware sees it: edges on the pulse pin keep the coil rail alive, from the main loop
 * only and only after its self-check. Without edges the rail falls by itself, whatever the program does.
 */
export class CoilSupply {
  readonly #pulse: Digital;
  readonly #trip: Digital;
  readonly #rail: Analog;
  readonly #millivoltPerCount: number;
  #level = 0;

  constructor({ io }: Device) {
    this.#pulse = new io.Digital({ pin: pins.deadManPulse, mode: io.Digital.Output });
    this.#trip = new io.Digital({ pin: pins.hardwareTrip, mode: io.Digital.InputPullUp });
    this.#rail = new io.Analog({ pin: pins.railSense });
    this.#millivoltPerCount =
      (railSense.fullScaleMillivolt * railSense.scale) / (2 ** this.#rail.resolution - 1);
    this.#pulse.write(0);
  }

  /** One edge. */
  pulse(): void {
    this.#level = 1 - this.#level;
    this.#pulse.write(this.#level);
  }

  railMillivolt(): number {
    return this.#rail.read() * this.#millivoltPerCount;
  }

  /** True when the comparator on the shunt has cut the rail. The line is pulled low. */
  isHardwareTripped(): boolean {
    return this.#trip.read() === 0;
  }
}
