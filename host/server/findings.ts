import { fitCurve, gaugeResponse, ohmAt, readingAt, type GaugeCurve, type GaugeReading } from '../core/curve';
import { trim, type TrimOptions } from '../core/network';
import { isRefused, type Refused } from '../core/result';
import { senderResponse, type SenderLawName, type SenderPoint } from '../core/sender';
import type { CheckFinding, CurveFinding, LinePoint, SenderFinding, TrimFinding } from '../job/findings';
import { curveOptionsOf } from '../job/curve-options';
import type { Gauge } from '../job/gauge';
import { inShownUnit } from '../job/shown-unit';
import type { JobState } from '../job/state';
import { senderFitOf } from '../job/substitution';
import { countedReadings, curveReadings } from '../job/views';
import { checkFinding, type CheckFacts, type DialLaw } from './check-evidence';
import { fittedSender, senderFinding } from './sender-finding';
import { toleranceOf } from './trim-tolerance';

/** Plain data: it is posted to the thread that computes, and its text is the key under which the answer is kept. */
export type CurveTask = {
  readonly kind: 'curve';
  readonly gauge: Gauge;
  readonly readings: readonly GaugeReading[];
};
export type SenderTask = {
  readonly kind: 'sender';
  readonly senderId: string;
  /** The dial it works: where that means danger the proof puts the sender's ohms in its place. */
  readonly gauge: Gauge;
  readonly unit: string;
  readonly model: SenderLawName | undefined;
  readonly points: readonly SenderPoint[];
  readonly tolerancePercent: number | undefined;
  /** The newest check at two currents, and the currents the gauge was seen to send. */
  readonly heating:
    Pick<JobState['selfHeating'][number], 'value' | 'low' | 'high' | 'onFraction'> | undefined;
  readonly currents: readonly { readonly resistanceOhm: number; readonly milliamp: number }[];
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
export type FindingTask = CurveTask | SenderTask | TrimTask | CheckTask;
export type FindingTasks = {
  readonly check: CheckTask | undefined;
  readonly curve: CurveTask | undefined;
  readonly senders: readonly SenderTask[];
  readonly trim: TrimTask | undefined;
};

const LINE_PARTS = 60;
const BEFORE_PARTS = 40;

/** What can be computed of a job as it stands. */
export function tasksOf(kept: JobState): FindingTasks {
  // Sentences of the findings name units, so they are made in the unit that is shown.
  const state = inShownUnit(kept);
  const readings = curveReadings(state);
  const curve: CurveTask | undefined =
    readings.length === 0 ? undefined : { kind: 'curve', gauge: state.gauge, readings };
  const { gauge, measurements, asFound } = state;
  const check: CheckTask | undefined =
    measurements.length === 0 ? undefined : { kind: 'check', facts: { gauge, measurements, asFound }, curve };
  const ids = [...new Set(state.senderPoints.map((point) => point.senderId))];
  const senders = ids.map((senderId) => senderTaskOf(state, senderId));
  const wanted = senders.find((sender) => sender.senderId === state.trimRequest?.senderId);
  if (curve === undefined || wanted === undefined || state.trimRequest === undefined) {
    return { check, curve, senders, trim: undefined };
  }
  return {
    check,
    curve,
    senders,
    trim: { kind: 'trim', curve, sender: wanted, options: trimOptionsOf(state) },
  };
}

function senderTaskOf(state: JobState, senderId: string): SenderTask {
  const described = state.senders.find((each) => each.senderId === senderId);
  return {
    kind: 'sender',
    senderId,
    gauge: state.gauge,
    ...senderFitOf(state, senderId),
    tolerancePercent: described?.tolerancePercent,
    ...heatingOf(state, senderId),
  };
}

function heatingOf(state: JobState, senderId: string): Pick<SenderTask, 'heating' | 'currents'> {
  const heating = state.selfHeating.filter((each) => each.senderId === senderId).at(-1);
  if (heating === undefined) return { heating: undefined, currents: [] };
  const { value, low, high, onFraction } = heating;
  const currents = countedReadings(state).flatMap(({ resistanceOhm, currentMilliamp }) =>
    currentMilliamp === undefined || !(resistanceOhm > 0)
      ? []
      : [{ resistanceOhm, milliamp: currentMilliamp }],
  );
  return { heating: { value, low, high, onFraction }, currents };
}

function trimOptionsOf(state: JobState): TrimOptions {
  const { gauge, trimRequest: asked } = state;
  const { maxParts, stockOhm } = asked ?? {};
  const isCount = maxParts === 0 || maxParts === 1 || maxParts === 2 || maxParts === 3;
  return {
    mechanism: gauge.mechanism,
    ...(gauge.terminals === undefined ? {} : { terminals: gauge.terminals }),
    ...(isCount ? { maxParts } : {}),
    ...(asked?.from === undefined ? {} : { from: asked.from }),
    ...(asked?.to === undefined ? {} : { to: asked.to }),
    ...(asked?.series === undefined ? {} : { series: asked.series }),
    ...(asked?.tolerancePercent === undefined ? {} : { tolerancePercent: asked.tolerancePercent }),
    ...(asked?.supplyVolt === undefined ? {} : { supplyVolt: asked.supplyVolt }),
    ...(asked?.gaugeOhm === undefined ? {} : { gaugeOhm: asked.gaugeOhm }),
    ...(asked?.weights === undefined
      ? {}
      : { weights: asked.weights.map(({ reading, weight }) => ({ value: reading, weight })) }),
    ...(stockOhm === undefined || stockOhm.length === 0
      ? {}
      : { stock: stockOhm.map((resistanceOhm) => ({ resistanceOhm })) }),
  };
}

const fitOf = ({ gauge, readings }: CurveTask): GaugeCurve | Refused =>
  fitCurve(readings, curveOptionsOf(gauge));

/** The gauge's curve and the line to draw of it. */
export function curveFinding(task: CurveTask): CurveFinding {
  const curve = fitOf(task);
  return { curve, line: isRefused(curve) ? [] : curveLine(curve) };
}

function curveLine(curve: GaugeCurve): LinePoint[] {
  const { measuredFromOhm, measuredToOhm } = curve.model;
  return logSpaced(measuredFromOhm, measuredToOhm).flatMap((x) => {
    const at = readingAt(curve, x);
    if (isRefused(at)) return [];
    const { reading: y, expandedUncertainty: half } = at;
    return [{ x, y, low: y - half, high: y + half }];
  });
}

/** Evenly spaced by ratio, or by difference where the range starts at a short. */
function logSpaced(from: number, to: number): number[] {
  const steps = Array.from({ length: LINE_PARTS + 1 }, (_, index) => index / LINE_PARTS);
  return from > 0
    ? steps.map((share) => from * (to / from) ** share)
    : steps.map((share) => from + (to - from) * share);
}

/** The networks that would make the gauge tell the truth with this sender, and what it says without any. */
export function trimFinding(task: TrimTask): TrimFinding {
  const curve = fitOf(task.curve);
  if (isRefused(curve)) return { trimmed: curve, of: 'gauge', before: [] };
  const fitted = fittedSender(task.sender);
  if (isRefused(fitted)) return { trimmed: fitted, of: 'sender', before: [] };
  const gauge = gaugeResponse(curve);
  const sender = senderResponse(fitted, { unit: gauge.unit });
  if ('kind' in sender) return { trimmed: sender, before: [] };
  const trimmed = trim(gauge, sender, task.options);
  const band = trimmed.kind === 'trimmed' ? trimmed.band : { from: sender.knownFrom, to: sender.knownTo };
  const before = Array.from({ length: BEFORE_PARTS + 1 }, (_, index) => {
    const x = band.from + ((band.to - band.from) * index) / BEFORE_PARTS;
    const y = gauge.reading(sender.ohm(x)) - x;
    return { x, y, low: y, high: y };
  }).filter((point) => Number.isFinite(point.y));
  const { tolerancePercent } = task.sender;
  return trimmed.kind !== 'trimmed' || tolerancePercent === undefined
    ? { trimmed, before }
    : {
        trimmed,
        before,
        tolerance: toleranceOf({ trimmed, gauge, sender, gaugeOhm: task.options.gaugeOhm }, tolerancePercent),
      };
}

/** The gauge's own curve, where it was swept. */
function lawOf(task: CurveTask | undefined): DialLaw | undefined {
  const curve = task === undefined ? undefined : fitOf(task);
  if (curve === undefined || isRefused(curve)) return undefined;
  const ohm = (reading: number): number => {
    const at = ohmAt(curve, reading);
    return at.kind === 'one'
      ? at.resistanceOhm
      : at.kind === 'interval'
        ? Math.sqrt(at.fromOhm * at.toOhm)
        : NaN;
  };
  return { from: 'by the gauge\u2019s curve', reading: gaugeResponse(curve).reading, ohm };
}

/** Computes one task. Runs in the computing thread. */
export function compute(task: FindingTask): CurveFinding | SenderFinding | TrimFinding | CheckFinding {
  switch (task.kind) {
    case 'curve':
      return curveFinding(task);
    case 'sender':
      return senderFinding(task);
    case 'trim':
      return trimFinding(task);
    case 'check':
      return checkFinding(task.facts, lawOf(task.curve));
  }
}
