import type { Fields } from '../../protocol';
import { limits } from '../../protocol';
import { ohmmeter } from '../board/reference-design';
import { KelvinMeasurement } from '../meter/kelvin';
import { isOpenClip } from '../meter/open-clip';
import type { SourceRange } from '../meter/source';
import { METER_SILENT_MS } from '../guard/meter-silent';
import type { Parts } from './parts';
import type { Task } from './task';
import { answered, asI32, asU32, refuse, within } from './wire';
import type { Reply } from './wire';

/** A foreign voltage above this means that the sender is still in the vehicle's circuit. */
const FOREIGN_MICROVOLT = 50_000;
/** Less than this part of the wanted current: nothing is connected, or far too much resistance. */
const FLOWING_FRACTION = 0.5;

/** Which range of the source gives a current; `undefined` when none does. */
export const rangeOf = (currentMicroamp: number): SourceRange | undefined => {
  if (currentMicroamp === ohmmeter.low.microamp) return 'low';
  return currentMicroamp === ohmmeter.high.microamp ? 'high' : undefined;
};

/** Measures a sender between CAL post and GROUND clip, output open. */
export class OhmmeterTask implements Task {
  readonly wantsCoils = false;
  readonly isGuarded = false;
  readonly #measurement: KelvinMeasurement;
  readonly #asked: Fields<'ohmmeter'>;
  readonly #parts: Parts;

  constructor(parts: Parts, asked: Fields<'ohmmeter'>, range: SourceRange) {
    this.#asked = asked;
    this.#parts = parts;
    this.#measurement = new KelvinMeasurement(parts, { range, withShunt: false });
  }

  tick(nowMs: number, isFresh: boolean): Reply | undefined {
    const silentMs = nowMs - this.#parts.meter.sampledAtMs;
    if (!(silentMs <= METER_SILENT_MS)) return refuse('METER_SILENT', asI32(silentMs));
    if (!this.#measurement.tick(nowMs, isFresh)) return undefined;
    const { ohm, uncertaintyOhm, terminalMicrovolt, currentMicroamp, offMicrovolt } =
      this.#measurement.result();
    // A lead that hangs free is no supply: it shows as a current that does not flow.
    if (!isOpenClip(offMicrovolt) && !(Math.abs(offMicrovolt) <= FOREIGN_MICROVOLT))
      return refuse('SUPPLY_PRESENT', asI32(offMicrovolt / 1000));
    if (!(currentMicroamp >= FLOWING_FRACTION * this.#asked.currentMicroamp)) {
      return refuse('OPEN_LEAD', asI32(currentMicroamp));
    }
    return answered('ohmmeter', {
      terminalMicrovolt: asI32(terminalMicrovolt),
      currentMicroamp: asI32(currentMicroamp),
      milliohm: within(limits.resistanceMilliohm, ohm * 1000),
      uncertaintyMilliohm: asU32(uncertaintyOhm * 1000),
      boxMs: nowMs >>> 0,
    });
  }

  end(): void {
    this.#measurement.end();
  }
}
