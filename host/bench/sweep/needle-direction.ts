import type { JobState, Sweep } from '../../job';
import { countedReadings } from '../../job';

/** Fewer readings than this do not tell which way a needle moves: one slip would turn it round. */
const ENOUGH_READINGS = 3;

/**
 * Whether more resistance moves this needle upscale: what the readings say, or, before there are enough of them, what
 * the sweep was planned for. Votes over all pairs, so that one slip decides nothing.
 */
export const risesWithResistance = (state: JobState, sweep: Pick<Sweep, 'fromOhm' | 'toOhm'>): boolean => {
  const planned = sweep.toOhm > sweep.fromOhm;
  const readings = countedReadings(state);
  if (readings.length < ENOUGH_READINGS) return planned;
  let votes = 0;
  for (const one of readings) {
    for (const other of readings) {
      if (other.resistanceOhm > one.resistanceOhm) votes += Math.sign(other.reading - one.reading);
    }
  }
  return votes === 0 ? planned : votes > 0;
};
