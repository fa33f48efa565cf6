import { neighbourOhms } from '../../core/cluster';
import { BOX_OHMS, type SharedOhms } from '../../core/ohmmeter';
import { sharedByReadings } from './hand-ohms';
import type { JobState } from './state';
import { presentReadings } from './views';

/** What the resistances of a job's curve share: of what measured them, and of what stood beside. Undefined: the box's alone. */
export function sharedOhmsOf(state: JobState): SharedOhms | undefined {
  const readings = presentReadings(state);
  const measured = sharedByReadings(readings);
  const beside = neighbourOhms(state.gauge.mechanism, readings);
  if (beside === undefined) return measured;
  const { relative, absoluteOhm } = measured ?? BOX_OHMS;
  return {
    relative: Math.hypot(relative, beside.relative),
    absoluteOhm: Math.hypot(absoluteOhm, beside.absoluteOhm),
  };
}
