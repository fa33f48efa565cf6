import { windingOhms } from '../../core/at-work';
import { neighbourOhms } from '../../core/cluster';
import { BOX_OHMS, type SharedOhms } from '../../core/ohmmeter';
import { sharedByReadings } from './hand-ohms';
import type { JobState } from './state';
import { presentReadings } from './views';

/** What the resistances of a job's curve share: of what measured them, of what stood beside, of the coil's warmth. Undefined: the box's alone. */
export function sharedOhmsOf(state: JobState): SharedOhms | undefined {
  const readings = presentReadings(state);
  const { mechanism } = state.gauge;
  const measured = sharedByReadings(readings);
  const circuit = [neighbourOhms(mechanism, readings), windingOhms(mechanism, readings)];
  const parts = circuit.flatMap((part) => part ?? []);
  if (parts.length === 0) return measured;
  const all = [measured ?? BOX_OHMS, ...parts];
  return {
    relative: Math.hypot(...all.map(({ relative }) => relative)),
    absoluteOhm: Math.hypot(...all.map(({ absoluteOhm }) => absoluteOhm)),
  };
}
