import { faultName, faults } from '../../protocol';
import { foldJob, foldNext, runningSweep, type EventBody, type JobEvent, type JobState } from '../job';
import { lapsedConfirmations, LONGEST_BREAK_HOURS } from '../job/confirmations';
import type { LinkEvent } from '../link';
import type { Box } from './box';

/** The state after new events; an `undone` among them needs the whole journal. */
export const refold = (state: JobState, all: readonly JobEvent[], added: readonly JobEvent[]): JobState =>
  added.some((event) => event.kind === 'undone') ? (foldJob(all) ?? state) : added.reduce(foldNext, state);

/** A trip as the journal keeps it, in the catalogue's words. */
export const trippedBody = (event: Extract<LinkEvent, { kind: 'tripped' }>): EventBody => {
  const { faultCode, measured, limit } = event.fields;
  const code = faultName(faultCode);
  if (code === undefined) {
    const reason = `the box opened its output: fault ${faultCode}, which this program does not know; update it`;
    return { kind: 'tripped', faultCode, code: `FAULT_${faultCode}`, reason, measured, limit };
  }
  const { says, remedy } = faults[code];
  return { kind: 'tripped', faultCode, code, reason: says(measured, limit), remedy, measured, limit };
};

/** The box's identity, when the journal does not have it yet. */
export const boxNews = (box: Box, known: JobState['box']): EventBody[] => {
  const greeting = box.link.greeting;
  if (greeting === undefined) return [];
  const firmware = `${greeting.firmwareMajor}.${greeting.firmwareMinor}.${greeting.firmwarePatch}`;
  const { boxSerial, calibrationId, calibrationDay } = greeting;
  const simulated = box.isSimulated;
  if (known?.boxSerial === boxSerial && known.firmware === firmware && known.simulated === simulated)
    return [];
  return [{ kind: 'box-connected', boxSerial, firmware, simulated, calibrationId, calibrationDay }];
};

/** Takes back what was said of a vehicle before a long break. */
export const lapsedBodies = (state: JobState, nowIso: string): EventBody[] =>
  lapsedConfirmations(state, nowIso).map((confirmation) => ({
    kind: 'safety-lapsed',
    confirmation,
    reason: `nothing was entered for more than ${LONGEST_BREAK_HOURS} hours`,
  }));

/** Pauses the sweep that runs, if one does. */
export const pausedBodies = (state: JobState, reason: string): EventBody[] => {
  const sweep = runningSweep(state);
  return sweep === undefined ? [] : [{ kind: 'sweep-paused', sweepId: sweep.sweepId, reason }];
};
