import { contactBits, elements, groundLead, ohmmeter, path } from '../board/reference-design';
import {
  contactRepeatMilliohm,
  bitOfRow,
  elementCount,
  limiterRow,
  residualRow,
  rowCount,
} from '../ladder/table';
import { Average } from '../meter/average';
import { scaleFromZero, uncorrected } from '../meter/meter';
import type { KelvinResult } from '../meter/kelvin';
import type { SourceRange } from '../meter/source';
import type { Calibration } from './record';

/** A part further than this from its printed value is the wrong part, or a contact is stuck. */
const PART_FRACTION = 0.03;
const LIMITER_FRACTION = 0.08;
/** What the contact across it takes off. */
const CONTACT_OHM = 0.1;
/** More than this with everything shorted: a contact does not close, or the fuse is gone. */
const RESIDUAL_MAX_OHM = 5;

/** Shunt 1 %, gain of its amplifier 0.3 %: further off the shunt is not what the comparators were laid out for. */
const GAIN_FRACTION = 0.05;
/** Resistors of 0.1 % before the amplifier leave 4 mA of zero. */
const SHUNT_ZERO_MICROAMP = 5_000;

/** Every resistor shorted, output closed. */
export const ALL_SHORTED = contactBits.allMask;

/** During calibration the current does not pass the GROUND lead; in a vehicle it does. */
const GROUND_LEAD_OHM = groundLead.milliohm / 1000;
const GROUND_LEAD_UNCERTAINTY_OHM = (groundLead.maxMilliohm - groundLead.milliohm) / 1000 / Math.sqrt(3);

const CONTACT_REPEAT_OHM = contactRepeatMilliohm / 1000;

const nominalOhm = (row: number): number =>
  (row < elementCount ? elements[row]!.nominalMilliohm : path.limiter.milliohm) / 1000;

/** The rows measured since the box started, until they are stored. */
export class CalibrationSession {
  readonly #ohm = new Float64Array(rowCount).fill(NaN);
  readonly #uncertaintyOhm = new Float64Array(rowCount).fill(NaN);
  readonly #residual = new Average();
  #correction = uncorrected;

  /** Contacts to insert a row's resistor, everything else shorted; nothing to insert for the residual. */
  insertedMask(row: number): number | undefined {
    if (row === residualRow) return undefined;
    return ALL_SHORTED & ~(1 << bitOfRow(row));
  }

  /** The larger current as long as the source can still drive it. */
  rangeOf(row: number): SourceRange {
    return row === residualRow || nominalOhm(row) * 1000 < ohmmeter.high.maxMilliohm ? 'high' : 'low';
  }

  /** True when a row can be measured: the residual comes first, because with it come the meter's corrections. */
  isReadyFor(row: number): boolean {
    return row === residualRow || Number.isFinite(this.#ohm[residualRow]!);
  }

  /** Takes a measurement of the uncorrected meter in; false when it cannot be that part. */
  take(row: number, result: KelvinResult): boolean {
    if (row === residualRow) return this.#takeResidual(result);
    const ohm = result.addedOhm / scaleFromZero(this.#correction.terminalZeroMicrovolt);
    const fraction = row === limiterRow ? LIMITER_FRACTION : PART_FRACTION;
    const allowedOhm = nominalOhm(row) * fraction + CONTACT_OHM;
    if (!(Math.abs(ohm - nominalOhm(row)) <= allowedOhm)) return false;
    this.#ohm[row] = ohm;
    this.#uncertaintyOhm[row] = result.addedUncertaintyOhm;
    return true;
  }

  ohm(row: number): number {
    return this.#ohm[row]!;
  }

  uncertaintyOhm(row: number): number {
    return this.#uncertaintyOhm[row]!;
  }

  /** First row not measured yet, or -1. */
  missingRow(): number {
    return this.#ohm.findIndex((ohm) => !Number.isFinite(ohm));
  }

  /** What is to be stored. */
  calibration(
    options: Pick<Calibration, 'counter' | 'calibrationId' | 'calibrationDay' | 'calibrationEndDay'>,
  ): Calibration {
    return {
      ...options,
      ...this.#correction,
      milliohm: Array.from(this.#ohm, (ohm) => ohm * 1000),
      uncertaintyMilliohm: Array.from(this.#uncertaintyOhm, (ohm) => ohm * 1000),
    };
  }

  /** Each closing of the contacts leaves a little more or less: the mean of several is what they usually leave. */
  #takeResidual(result: KelvinResult): boolean {
    const gain = result.currentMicroamp / (result.shuntOnMicroamp - result.shuntOffMicroamp);
    // A shunt that does not feel the current as it should is no meter: then nothing of the measurement is taken over.
    if (!(Math.abs(gain - 1) <= GAIN_FRACTION)) return false;
    if (!(Math.abs(result.shuntOffMicroamp) <= SHUNT_ZERO_MICROAMP)) return false;
    if (!(result.ohm > 0 && result.ohm <= RESIDUAL_MAX_OHM)) return false;
    this.#residual.push(result.ohm / scaleFromZero(result.offMicrovolt));
    const repeatOhm = (CONTACT_REPEAT_OHM * Math.sqrt(rowCount)) / Math.sqrt(this.#residual.count);
    this.#ohm[residualRow] = this.#residual.mean + GROUND_LEAD_OHM;
    this.#uncertaintyOhm[residualRow] = Math.hypot(
      result.uncertaintyOhm,
      repeatOhm,
      GROUND_LEAD_UNCERTAINTY_OHM,
    );
    this.#correction = {
      currentGainPartsPerMillion: (gain - 1) * 1e6,
      currentOffsetNanoamp: result.shuntOffMicroamp * 1000,
      terminalZeroMicrovolt: result.offMicrovolt,
      groundSenseZeroMicrovolt: result.groundSenseMicrovolt,
      groundOffsetZeroMicrovolt: result.groundOffsetMicrovolt,
    };
    return true;
  }
}
