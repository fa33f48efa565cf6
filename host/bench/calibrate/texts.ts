import { faultName, faults } from '../../../protocol';
import type { Refused } from '../../core/result';
import { refuse } from '../../refusals';
import { whatToCheck } from './bands';
import { RESIDUAL_ROW, printedOhm, rowName } from './element-table';

/** What a person is asked to do, or to agree to, before the next part of a calibration. */
export const confirmationTexts = {
  'clear-trip': (cause: string) =>
    `the box has tripped: ${cause}. Put that right; may the trip be cleared now?`,
  'clips-off': () => 'ignition off, and every clip of the box off everything, gauge and battery included?',
  'standard-on': (ohm: string) =>
    `the two leads of the CAL posts on the known resistor of ${ohm}, SENDER clip on its CAL + end, GROUND clip on its CAL - end, nothing else on it?`,
  'clips-on-posts': () =>
    'SENDER clip on the CAL + post, GROUND and BATTERY - clips on CAL -, jaws scraped bright, FEED hanging free?',
  'clips-fitted-again': () => 'SENDER and GROUND clips taken off the CAL posts and fitted again?',
  store: () => 'store this table in the box, in place of the one it has?',
} as const;

export const stoppedRefusal: Refused = refuse('CALIBRATION_STOPPED');

/** Why a box is tripped, with what to do. */
export const faultText = (faultCode: number): string => {
  const name = faultName(faultCode);
  return name === undefined ? `fault ${faultCode}` : `${name}; ${faults[name].remedy}`;
};

/** A row that the box would not measure: where, why, and what to look at. */
export function rowTroubleText(index: number, code: string, message: string): string {
  const printed = printedOhm(index);
  const part = printed === undefined ? rowName(index) : `${rowName(index)} (printed ${printed} ohm)`;
  const look = whatToLookAt(index, code);
  return `${part} was not measured: ${message}${look === undefined ? '' : `; check ${look}`}`;
}

function whatToLookAt(index: number, code: string): string | undefined {
  switch (code) {
    case 'OPEN_LEAD':
      return 'that the clips are on the CAL posts, fuse F1, and that K16 closes';
    case 'REFERENCE':
      return index === RESIDUAL_ROW ? whatToCheck(index, 'high') : whatToCheck(index, 'low');
    case 'GROUND_CLIPS':
      return 'that the GROUND and BATTERY - clips bite on the CAL - post';
    case 'SUPPLY_PRESENT':
      return 'that no clip touches the vehicle, a gauge or a battery';
    default:
      return undefined;
  }
}

/** Two measurements of one row, with the clips fitted anew between them, that disagree. */
export const notRepeated = (name: string, beforeOhm: number, afterOhm: number): Refused =>
  refuse('CALIBRATION_NOT_REPEATED', { name, beforeOhm, afterOhm });

/** The box was asked to store, but what it keeps could not be read back. */
export const unknownText = (message: string, calibrationId: number): string =>
  `calibration ${calibrationId} was sent, but what the box keeps could not be read back (${message}); one of its two copies is good whatever happened; run "needlewright calibrate" again: it first says which calibration the box keeps`;
