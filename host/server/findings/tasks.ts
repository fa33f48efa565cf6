import type { Subject } from '../../core/diagnosis';
import type { Progress } from '../../core/diagnosis/diagnose';
import type { GaugeReading } from '../../core/curve';
import type { SharedOhms } from '../../core/ohmmeter';
import type { TrimOptions } from '../../core/network';
import type { SenderLawName, SenderPoint } from '../../core/sender';
import type { Gauge } from '../../job/schema/gauge';
import { circuitOfJob, newestCheckN, seedOfJob, skippedOfJob } from '../../job/check/diagnosis-of-job';
import { inShownUnit } from '../../job/state/shown-unit';
import { trimOptionsOf } from '../../job/proof/trim-options';
import type { JobState } from '../../job/state/state';
import { sharedOhmsOf } from '../../job/state/shared-ohms';
import { curveReadings } from '../../job/state/views';
import type { CheckFacts } from './check-evidence';
import { senderFitOf } from '../../job/proof/substitution';
import { workingFactsOf, type WorkingFacts } from '../../job/proof/working-circuit';

/** Plain data: it is posted to the thread that computes, and its text is the key under which the answer is kept. */
export type CurveTask = {
  readonly kind: 'curve';
  readonly gauge: Gauge;
  readonly readings: readonly GaugeReading[];
  /** What the resistances share, where a person measured them. */
  readonly ohms?: SharedOhms;
};

export type SenderTask = WorkingFacts & {
  readonly kind: 'sender';
  readonly senderId: string;
  /** The dial it works: where that means danger the proof puts the sender's ohms in its place. */
  readonly gauge: Gauge;
  readonly unit: string;
  readonly model: SenderLawName | undefined;
  readonly points: readonly SenderPoint[];
  readonly tolerancePercent: number | undefined;
};

export type TrimTask = {
  readonly kind: 'trim';
  readonly curve: CurveTask;
  readonly sender: SenderTask;
  readonly options: TrimOptions;
};

export type CheckTask = {
  readonly kind: 'check';
  readonly facts: CheckFacts;
  readonly curve: CurveTask | undefined;
};

/** What the readings of the check come to. The gauge is in the unit that is shown. */
export type DiagnosisTask = {
  readonly kind: 'diagnosis';
  readonly subject: Subject;
  readonly progress: Progress;
  readonly seed: number;
  readonly gauge: Gauge;
  readonly ofN: number;
};

/** What the pairs of a proof say of a sender; asked by a command, and answered with what the journal keeps. */
export type ReEstimateTask = {
  readonly kind: 're-estimate';
  readonly state: JobState;
  readonly senderId: string;
};

export type FindingTask = CurveTask | SenderTask | TrimTask | CheckTask | DiagnosisTask | ReEstimateTask;

export type FindingTasks = {
  readonly check: CheckTask | undefined;
  readonly diagnosis: DiagnosisTask | undefined;
  readonly curve: CurveTask | undefined;
  readonly senders: readonly SenderTask[];
  readonly trim: TrimTask | undefined;
};

/** What can be computed of a job as it stands. */
export function tasksOf(kept: JobState): FindingTasks {
  // Sentences of the findings name units, so they are made in the unit that is shown.
  const state = inShownUnit(kept);
  const curve = curveTaskOf(state);
  const { gauge, measurements, asFound } = state;
  const check: CheckTask | undefined =
    measurements.length === 0 ? undefined : { kind: 'check', facts: { gauge, measurements, asFound }, curve };
  const diagnosis = diagnosisTaskOf(kept, state.gauge);
  const ids = [...new Set(state.senderPoints.map((point) => point.senderId))];
  const senders = ids.map((senderId) => senderTaskOf(state, senderId));
  const wanted = senders.find((sender) => sender.senderId === state.trimRequest?.senderId);
  if (curve === undefined || wanted === undefined || state.trimRequest === undefined) {
    return { check, diagnosis, curve, senders, trim: undefined };
  }
  return {
    check,
    diagnosis,
    curve,
    senders,
    trim: { kind: 'trim', curve, sender: wanted, options: trimOptionsOf(state) },
  };
}

/** Once the check is concluded, its finding stands in the journal. */
function diagnosisTaskOf(state: JobState, gauge: Gauge): DiagnosisTask | undefined {
  const circuit = circuitOfJob(state);
  const ofN = newestCheckN(state);
  if (circuit === undefined || (state.conclusion?.n ?? 0) > ofN) return undefined;
  const { subject, readings } = circuit;
  return {
    ...{ kind: 'diagnosis', subject, seed: seedOfJob(state), gauge, ofN },
    progress: { readings, skipped: skippedOfJob(state) },
  };
}

/** The curve of the readings that count; undefined while there are none. */
export function curveTaskOf(state: JobState): CurveTask | undefined {
  const ohms = sharedOhmsOf(state);
  const readings = curveReadings(state);
  if (readings.length === 0) return undefined;
  return { kind: 'curve', gauge: state.gauge, readings, ...(ohms === undefined ? {} : { ohms }) };
}

function senderTaskOf(state: JobState, senderId: string): SenderTask {
  const described = state.senders.find((each) => each.senderId === senderId);
  return {
    kind: 'sender',
    senderId,
    gauge: state.gauge,
    ...senderFitOf(state, senderId),
    tolerancePercent: described?.tolerancePercent,
    ...workingFactsOf(state, senderId),
  };
}
