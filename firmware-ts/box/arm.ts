import { limits as boxLimits, outputBreakMs } from '../board/reference-design';
import { supplyFault } from '../guard/supply';
import { METER_SILENT_MS } from '../guard/meter-silent';
import { RAIL_OFF_MILLIVOLT } from '../guard/rail';
import { weldedMicroamp } from '../guard/welded';
import type { Parts } from './parts';
import type { Job } from './state';
import type { Task } from './task';
import { refuse } from './wire';
import type { Reply } from './wire';

/** Steps of the self-test, by the number that a refusal names. */
export const selfTestSteps = {
  railFallsWithoutPulses: 1,
  railRisesWithPulses: 2,
  meterReads: 3,
  comparatorIsQuiet: 4,
  outputIsOpen: 5,
} as const;
export const selfTestStepCount = selfTestSteps.outputIsOpen;

/** The one-shot runs at most this long after its last edge. */
const RAIL_FALLS_MS = 400;
const RAIL_RISES_MS = 40;

export type ArmHooks = {
  readonly parts: Parts;
  readonly job: Job;
  /** Called when every step has passed; gives the answer. */
  readonly passed: (nowMs: number) => Reply;
};

/** The self-test before arming: the dead-man really cuts, really feeds, the meter reads, the output is open. */
export class ArmTask implements Task {
  wantsCoils = false;
  readonly isGuarded = false;
  readonly #hooks: ArmHooks;
  readonly #beganAtMs: number;
  #pulsingSinceMs = -1;

  constructor(hooks: ArmHooks, nowMs: number) {
    this.#hooks = hooks;
    this.#beganAtMs = nowMs;
  }

  tick(nowMs: number, isFresh: boolean): Reply | undefined {
    const { coils, meter } = this.#hooks.parts;
    const rail = coils.railMillivolt();
    if (this.#pulsingSinceMs < 0) return this.#waitForFall(nowMs, rail);
    // The coils are fed only while the meter reads.
    if (!(nowMs - meter.sampledAtMs <= METER_SILENT_MS)) return refuse('SELF_TEST', selfTestSteps.meterReads);
    const isHealthy = rail >= boxLimits.railMinMillivolt && rail <= boxLimits.railMaxMillivolt;
    const waitedMs = nowMs - this.#pulsingSinceMs;
    if (!isHealthy)
      return waitedMs > RAIL_RISES_MS ? refuse('SELF_TEST', selfTestSteps.railRisesWithPulses) : undefined;
    if (waitedMs < outputBreakMs) return undefined;
    return this.#measure(nowMs, isFresh);
  }

  end(): void {
    this.wantsCoils = false;
  }

  #waitForFall(nowMs: number, rail: number): Reply | undefined {
    if (rail < RAIL_OFF_MILLIVOLT) {
      this.#pulsingSinceMs = nowMs;
      this.wantsCoils = true;
      return undefined;
    }
    const isOver = nowMs - this.#beganAtMs > RAIL_FALLS_MS;
    return isOver ? refuse('SELF_TEST', selfTestSteps.railFallsWithoutPulses) : undefined;
  }

  #measure(nowMs: number, isFresh: boolean): Reply | undefined {
    const { parts, job } = this.#hooks;
    const { meter } = parts;
    if (!isFresh) return undefined;
    if (!Number.isFinite(meter.terminalMicrovolt + meter.currentMicroamp)) {
      return refuse('SELF_TEST', selfTestSteps.meterReads);
    }
    if (parts.coils.isHardwareTripped()) return refuse('SELF_TEST', selfTestSteps.comparatorIsQuiet);
    if (!(Math.abs(meter.currentMicroamp) <= weldedMicroamp(true)))
      return refuse('SELF_TEST', selfTestSteps.outputIsOpen);
    const fault = supplyFault(meter.terminalMicrovolt, job.limits);
    return fault === 0 ? this.#hooks.passed(nowMs) : refuse('FAULT_PRESENT', fault);
  }
}
