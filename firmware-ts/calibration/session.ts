import { contactBits, elements, ohmmeter, path } from '../board/reference-design';
import { elementCount, limiterBit, limiterRow, residualRow, rowCount } from '../ladder/table';
import type { KelvinResult } from '../meter/kelvin';
import type { SourceRange } from '../meter/source';
import type { Calibration } from './record';

/** A part further than this from its printed value is the wrong part, or a contact is stuck. */
const PART_FRACTION = 0.03;
const LIMITER_FRACTION = 0.08;
/** More than this with everything shorted: a contact does not close, or the fuse is gone. */
const RESIDUAL_MAX_OHM = 5;

/** During calibration the current does not pass the GROUND lead; in a vehicle it does. */
const GROUND_LEAD_OHM = path.lead.milliohm / 1000;
const GROUND_LEAD_UNCERTAINTY_OHM = (path.lead.maxMilliohm - path.lead.milliohm) / 1000 / Math.sqrt(3);

const nominalOhm = (row: number): number => (row < elementCount ? elements[row]!.nominalMilliohm / 1000 : 47);

/** The rows measured since the box started, until they are stored. */
export class CalibrationSession {
  readonly #ohm = new Float64Array(rowCount).fill(NaN);
  readonly #uncertaintyOhm = new Float64Array(rowCount).fill(NaN);
  #residualOhm = NaN;
  #currentGain = 1;
  #currentOffsetMicroamp = 0;
  #terminalOffsetMicrovolt = 0;

  /** Contacts for measuring a row: everything shorted but that row. */
  maskOf(row: number): number {
    const { elementsMask, limiterBypassMask, outputMask } = contactBits;
    const all = elementsMask | limiterBypassMask | outputMask;
    return row === residualRow ? all : all & ~(1 << (row === limiterRow ? limiterBit : row));
  }

  /** The larger current as long as the source can still drive it. */
  rangeOf(row: number): SourceRange {
    return row === residualRow || nominalOhm(row) * 1000 < ohmmeter.high.maxMilliohm ? 'high' : 'low';
  }

  /** True when a row can be measured: the residual comes first, because it is taken off every other. */
  isReadyFor(row: number): boolean {
    return row === residualRow || Number.isFinite(this.#ohm[residualRow]!);
  }

  /** Takes a measurement in; false when it cannot be that part. `raw` corrections are those in use while measuring. */
  take(row: number, result: KelvinResult): boolean {
    if (row === residualRow) return this.#takeResidual(result);
    const ohm = result.ohm - this.#residualOhm;
    const allowed = row === limiterRow ? LIMITER_FRACTION : PART_FRACTION;
    if (!(Math.abs(ohm / nominalOhm(row) - 1) <= allowed)) return false;
    this.#ohm[row] = ohm;
    this.#uncertaintyOhm[row] = result.uncertaintyOhm;
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
      currentGainPartsPerMillion: (this.#currentGain - 1) * 1e6,
      currentOffsetNanoamp: this.#currentOffsetMicroamp * 1000,
      terminalOffsetMicrovolt: this.#terminalOffsetMicrovolt,
      milliohm: Array.from(this.#ohm, (ohm) => ohm * 1000),
      uncertaintyMilliohm: Array.from(this.#uncertaintyOhm, (ohm) => ohm * 1000),
    };
  }

  #takeResidual(result: KelvinResult): boolean {
    if (!(result.ohm > 0 && result.ohm <= RESIDUAL_MAX_OHM)) return false;
    this.#residualOhm = result.ohm;
    this.#ohm[residualRow] = result.ohm + GROUND_LEAD_OHM;
    this.#uncertaintyOhm[residualRow] = result.uncertaintyOhm + GROUND_LEAD_UNCERTAINTY_OHM;
    this.#currentGain = result.currentMicroamp / (result.shuntOnMicroamp - result.shuntOffMicroamp);
    this.#currentOffsetMicroamp = result.shuntOffMicroamp;
    this.#terminalOffsetMicrovolt = result.offMicrovolt;
    return Number.isFinite(this.#currentGain);
  }
}
