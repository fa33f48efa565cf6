import { fitCurve, gaugeResponse, ohmAt, readingAt, type GaugeCurve } from '../../core/curve';
import { trim } from '../../core/network';
import { isRefused, type Refusal } from '../../core/refusal';
import { senderResponse } from '../../core/sender';
import type {
  CheckFinding,
  CurveFinding,
  DiagnosisFinding,
  LinePoint,
  SenderFinding,
  TrimFinding,
} from '../../job/findings';
import { curveOptionsOf } from '../../job/state/curve-options';
import { checkFinding, type DialLaw } from './check-evidence';
import { reEstimateJob } from '../../job/proof/re-estimate-of-job';
import { circuitOf } from '../../job/proof/working-circuit';
import { diagnosisFinding } from './diagnosis-finding';
import { fittedSender, senderFinding } from './sender-finding';
import { toleranceOf } from './trim-tolerance';
import type { CheckTask, CurveTask, TrimTask, FindingTask } from './tasks';

const LINE_PARTS = 60;
const BEFORE_PARTS = 40;

const fitOf = ({ gauge, readings, ohms }: CurveTask): GaugeCurve | Refusal =>
  fitCurve(readings, {
    ...curveOptionsOf(gauge),
    ...(ohms === undefined ? {} : { resistanceUncertainty: ohms }),
  });

/** The gauge's curve and the line to draw of it. */
export function curveFinding(task: CurveTask): CurveFinding {
  const curve = fitOf(task);
  return { curve, line: isRefused(curve) ? [] : curveLine(curve) };
}

/** The line to draw of a curve, over what was measured. */
export function curveLine(curve: GaugeCurve): LinePoint[] {
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
  const options = { ...task.options, ...circuitOf(task.sender, fitted) };
  const trimmed = trim(gauge, sender, options);
  const band = trimmed.kind === 'trimmed' ? trimmed.band : { from: sender.knownFrom, to: sender.knownTo };
  const bare =
    trimmed.kind === 'trimmed' && trimmed.heat.kind === 'counted'
      ? trimmed.candidates.find(({ topology }) => topology === 'none')
      : undefined;
  // Where the sender's own heat counts, what the gauge says without any network is known at the rows of its table.
  const hot = bare?.errorTable.map(({ trueValue: x, error: y }) => ({ x, y, low: y, high: y }));
  const cold = Array.from({ length: BEFORE_PARTS + 1 }, (_, index) => {
    const x = band.from + ((band.to - band.from) * index) / BEFORE_PARTS;
    const y = gauge.reading(sender.ohm(x)) - x;
    return { x, y, low: y, high: y };
  }).filter((point) => Number.isFinite(point.y));
  const before = hot ?? cold;
  const { tolerancePercent } = task.sender;
  return trimmed.kind !== 'trimmed' || tolerancePercent === undefined
    ? { trimmed, before }
    : {
        trimmed,
        before,
        tolerance: toleranceOf({ trimmed, gauge, sender, options }, tolerancePercent),
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

/** What the check's measurements are worth, by the gauge's own curve where it has one. */
export const checkFindingOf = ({ facts, curve }: CheckTask): CheckFinding =>
  checkFinding(facts, lawOf(curve));

type Answer =
  | CurveFinding
  | SenderFinding
  | TrimFinding
  | CheckFinding
  | DiagnosisFinding
  | { readonly reEstimate: ReturnType<typeof reEstimateJob> };

/** Computes one task. Runs in the computing thread. */
export function compute(task: FindingTask): Answer {
  switch (task.kind) {
    case 'curve':
      return curveFinding(task);
    case 'sender':
      return senderFinding(task);
    case 'trim':
      return trimFinding(task);
    case 'check':
      return checkFindingOf(task);
    case 'diagnosis':
      return diagnosisFinding(task);
    case 're-estimate':
      return { reEstimate: reEstimateJob(task.state, task.senderId) };
  }
}
