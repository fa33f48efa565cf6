import { limits } from '../../protocol';
import { contactBits, limits as boxLimits, ohmmeter } from '../board/reference-design';
import { ALL_SHORTED } from '../calibration/session';
import type { CalibrationSession } from '../calibration/session';
import { KelvinMeasurement } from '../meter/kelvin';
import { uncorrected } from '../meter/meter';
import { isOpenClip } from '../meter/open-clip';
import { residualRow } from '../ladder/table';
import type { Parts } from './parts';
import type { Task } from './task';
import { answered, asI32, asU32, refuse, within } from './wire';
import type { Reply } from './wire';

/** The suppressor's capacitance behind the divider's 11 megohm takes some tens of milliseconds to charge. */
const OPEN_CLIP_MS = 300;
/** What stays on the clip against the limiter is no open clip; the divider's parts leave up to 48 mV of zero. */
const FOREIGN_MICROVOLT = 60_000;
/** Output closed, nothing but the limiter in the path: pulls an open clip to 0 V and bears 16 V until the guard acts. */
const PULLED_DOWN = ALL_SHORTED & ~contactBits.limiterBypassMask;
/** The first samples after a move began before it. */
const SKIP_SAMPLES = 2;
const FLOWING_FRACTION = 0.5;
/** With their clips on the CAL - post the ground channels read no more than their dividers' parts allow. */
const GROUND_ZERO_MICROVOLT = 60_000;

/** Measures one row of the element table: SENDER clip on the CAL post, output closed, everything else shorted. */
export class CalibrateTask implements Task {
  readonly wantsCoils = true;
  readonly isGuarded = true;
  readonly #parts: Parts;
  readonly #session: CalibrationSession;
  readonly #row: number;
  #measurement: KelvinMeasurement | undefined;
  #beganAtMs = -1;
  #isPulledDown = false;
  #skip = SKIP_SAMPLES;

  constructor(parts: Parts, session: CalibrationSession, row: number) {
    this.#parts = parts;
    this.#session = session;
    this.#row = row;
  }

  tick(nowMs: number, isFresh: boolean): Reply | undefined {
    if (this.#measurement === undefined) return this.#begin(nowMs, isFresh);
    if (!this.#measurement.tick(nowMs, isFresh)) return undefined;
    const result = this.#measurement.result();
    if (!(result.currentMicroamp >= FLOWING_FRACTION * ohmmeter[this.#session.rangeOf(this.#row)].microamp)) {
      return refuse('OPEN_LEAD', asI32(result.currentMicroamp));
    }
    for (const microvolt of [result.groundSenseMicrovolt, result.groundOffsetMicrovolt])
      if (!(Math.abs(microvolt) <= GROUND_ZERO_MICROVOLT))
        return refuse('GROUND_CLIPS', asI32(microvolt / 1000));
    if (!this.#session.take(this.#row, result)) {
      const readOhm = this.#row === residualRow ? result.ohm : result.addedOhm;
      return refuse('REFERENCE', asI32(readOhm * 1000));
    }
    return answered('calibrateElement', {
      index: this.#row,
      milliohm: within(limits.resistanceMilliohm, this.#session.ohm(this.#row) * 1000),
      uncertaintyMilliohm: asU32(this.#session.uncertaintyOhm(this.#row) * 1000),
      boxMs: nowMs >>> 0,
    });
  }

  end(): void {
    this.#measurement?.end();
    this.#parts.applyCorrection();
  }

  /** Before anything is measured: nothing foreign may hold the clip, neither with the output open nor with it closed. */
  #begin(nowMs: number, isFresh: boolean): Reply | undefined {
    const { contacts, coils, meter } = this.#parts;
    contacts.tick(nowMs);
    if (contacts.isMoving(nowMs)) return undefined;
    if (!isFresh || coils.railMillivolt() < boxLimits.railMinMillivolt) return undefined;
    if (this.#beganAtMs < 0) this.#beganAtMs = nowMs;
    const microvolt = meter.terminalMicrovolt;
    const foreign = refuse('SUPPLY_PRESENT', asI32(microvolt / 1000));
    if (!this.#isPulledDown) {
      if (!isOpenClip(microvolt)) return nowMs - this.#beganAtMs > OPEN_CLIP_MS ? foreign : undefined;
      this.#isPulledDown = true;
      contacts.moveTo(PULLED_DOWN, nowMs);
      return undefined;
    }
    if (this.#skip > 0) {
      this.#skip -= 1;
      return undefined;
    }
    if (!(Math.abs(microvolt) <= FOREIGN_MICROVOLT)) return foreign;
    this.#measure(nowMs);
    return undefined;
  }

  #measure(nowMs: number): void {
    const { meter, contacts } = this.#parts;
    // The corrections are what the residual row finds anew, and every row is held to those.
    meter.correction = uncorrected;
    const insertedMask = this.#session.insertedMask(this.#row);
    this.#measurement = new KelvinMeasurement(this.#parts, {
      range: this.#session.rangeOf(this.#row),
      withShunt: this.#row === residualRow,
      ...(insertedMask === undefined ? {} : { secondMask: insertedMask }),
    });
    contacts.moveTo(ALL_SHORTED, nowMs);
  }
}
