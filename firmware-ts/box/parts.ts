import type { Calibration } from '../calibration/record';
import { loadCalibration } from '../calibration/store';
import type { Device } from '../device';
import { Contacts } from '../ladder/contacts';
import { ElementTable } from '../ladder/table';
import { Meter, uncorrected } from '../meter/meter';
import { CurrentSource } from '../meter/source';
import { CoilSupply } from './coil-supply';

/** The hardware of a channel and what is known of it. */
export class Parts {
  readonly device: Device;
  readonly contacts: Contacts;
  readonly meter: Meter;
  readonly source: CurrentSource;
  readonly coils: CoilSupply;
  readonly table = new ElementTable();
  goodCopyCount = 0;
  calibration: Calibration | undefined;

  constructor(device: Device) {
    this.device = device;
    // Relays first: whatever else fails in here, the coils are dead by then.
    this.contacts = new Contacts(device);
    this.coils = new CoilSupply(device);
    this.source = new CurrentSource(device);
    this.meter = new Meter(device);
    this.loadCalibration();
  }

  /** Takes the newer good copy of the element table; without one, printed values and no arming. */
  loadCalibration(): void {
    const { goodCopyCount, calibration } = loadCalibration(this.device.calibrationSectors);
    this.goodCopyCount = goodCopyCount;
    this.calibration = calibration;
    this.applyCorrection();
    if (calibration === undefined) {
      this.table.fillNominal();
      return;
    }
    this.table.milliohm.set(calibration.milliohm);
    this.table.uncertaintyMilliohm.set(calibration.uncertaintyMilliohm);
  }

  /** Meter corrections of the calibration in use; none without one. */
  applyCorrection(): void {
    this.meter.correction = this.calibration ?? uncorrected;
  }
}
