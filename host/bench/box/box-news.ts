import type { EventBody, JobState } from '../../job';
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
