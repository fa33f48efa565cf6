import { curveFinding } from '../../server/findings/findings';
import { curveTaskOf } from '../../server/findings/tasks';
import { plain } from '../../words/notation';
import { saidRefusal } from '../../words/refusal';
import { saidRemark } from '../../words/remark';
import type { Report } from '../command';
import { refusedError } from '../input-error';
import type { OpenedJob } from '../input/job-place';
import { curveJson } from './curve-json';
import { curveText } from './curve-text';

/** What a sweep has read, and its curve as "curve" prints it. */
export function reportOf({ desk, folder }: OpenedJob): Report {
  const { state } = desk;
  const task = curveTaskOf(state);
  const count = task?.readings.length ?? 0;
  const sweepStatus = state.sweeps.at(-1)?.status.kind ?? 'finished';
  const headline = `${state.simulated ? 'SIMULATED ' : ''}sweep ${sweepStatus}: ${count} readings, kept in ${folder}`;
  const facts = {
    schema: 'needlewright/sweep/1',
    job: folder,
    title: state.title,
    vehicle: state.vehicle,
    simulated: state.simulated,
    sweep: sweepStatus,
    readings: count,
    ...(state.readings.some((each) => each.source === 'hand') ? { by_hand: true } : {}),
    trips: state.trips.map(({ code, reason }) => ({ code, reason })),
  } as const;
  if (task === undefined)
    return { text: [headline, 'No curve yet: nothing was read.'], json: { kind: 'sweep', ...facts } };
  const { curve } = curveFinding(task);
  if (curve.kind === 'refused') {
    // A sweep that was left early has no curve yet, and that is no failure.
    if (sweepStatus === 'finished') throw refusedError(curve, `${folder}: `);
    return {
      text: [headline, `No curve yet. ${saidRefusal(curve, plain)}`],
      json: { kind: 'sweep', ...facts },
    };
  }
  const warnings = curve.warnings.map((each) => saidRemark(each, plain));
  return {
    text: [headline, '', ...curveText(curve, [])],
    json: { ...curveJson(curve, [], warnings), ...facts },
    warnings,
  };
}
