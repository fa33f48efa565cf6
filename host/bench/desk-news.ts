import { runningSweep, type EventBody, type JobState } from '../job';
import { lapsedConfirmations, LONGEST_BREAK_HOURS } from '../job/confirmations';
import type { Box } from './box';

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
