import { SimulatedBoard } from '../../../firmware-ts/board/simulated/board';
import { SimulatedFlash } from '../../../firmware-ts/board/simulated/flash';
import { simulatedGauge } from '../../../firmware-ts/board/simulated/gauges/catalogue';
import { World } from '../../../firmware-ts/board/simulated/world';
import type { Device } from '../../../firmware-ts/device';
import { Contacts } from '../../../firmware-ts/ladder/contacts';
import { KelvinMeasurement } from '../../../firmware-ts/meter/kelvin';
import type { KelvinOptions, KelvinResult } from '../../../firmware-ts/meter/kelvin';
import { Meter } from '../../../firmware-ts/meter/meter';
import { CurrentSource } from '../../../firmware-ts/meter/source';

const TICK_MS = 8;

/** What a calibration finds of the meter's zeros. */
export function correctZeros(meter: Meter, { frontEnd }: World): void {
  meter.correction = {
    currentGainPartsPerMillion: 0,
    currentOffsetNanoamp: frontEnd.currentZeroMicroamp * 1000,
    terminalZeroMicrovolt: frontEnd.shownMicrovolt('terminal', 0),
    groundSenseZeroMicrovolt: frontEnd.shownMicrovolt('groundSense', 0),
    groundOffsetZeroMicrovolt: frontEnd.shownMicrovolt('groundOffset', 0),
  };
}

/** Meter, source and contacts on a simulated board, turned by hand: no box, no guard, no link. Zeros corrected, gain not. */
export class MeterRig {
  readonly world: World;
  readonly device: Device;
  readonly meter: Meter;
  readonly source: CurrentSource;
  readonly contacts: Contacts;
  #level = 0;

  constructor({ seed = 5, gauge = 'two-coil-fuel', isRaw = false } = {}) {
    const found = simulatedGauge(gauge);
    if (found === undefined) throw new Error(`no gauge ${gauge}`);
    this.world = new World({ gauge: found, seed });
    this.device = new SimulatedBoard({
      world: this.world,
      calibrationSectors: new SimulatedFlash().sectors,
      bootNonce: 1,
      cause: 'power',
      restartCount: 0,
      sent: () => undefined,
    }).device;
    this.contacts = new Contacts(this.device);
    this.source = new CurrentSource(this.device);
    this.meter = new Meter(this.device);
    if (!isRaw) correctZeros(this.meter, this.world);
  }

  get nowMs(): number {
    return Math.floor(this.world.clock.nowMs);
  }

  /** One turn of a main loop, coil rail fed; true when the meter has something fresh. */
  tick(): boolean {
    this.#level = 1 - this.#level;
    this.world.rail.drive(this.#level);
    this.world.clock.advanceTo(this.world.clock.nowMs + TICK_MS);
    this.contacts.tick(this.nowMs);
    return this.meter.tick(this.nowMs);
  }

  /** So many turns; answers how many of them brought fresh numbers. */
  live(turns: number): number {
    let fresh = 0;
    for (let turn = 0; turn < turns; turn += 1) if (this.tick()) fresh += 1;
    return fresh;
  }

  /** A whole ratio measurement. */
  measure(options: KelvinOptions): KelvinResult {
    const measurement = new KelvinMeasurement(this, options);
    for (let turn = 0; turn < 1000; turn += 1) {
      const isFresh = this.tick();
      if (measurement.tick(this.nowMs, isFresh)) {
        measurement.end();
        return measurement.result();
      }
    }
    throw new Error('the measurement did not come to an end');
  }
}
