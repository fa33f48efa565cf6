import { networkOf, sourceThrough } from '../../core/network';
import type { TrimCandidate } from '../schema/trim';
import type { JobState } from '../state/state';
import { leadOf, workingFactsOf } from './working-circuit';

/** Senders differ by so much from one to the next of a kind. Common practice, no source. */
const ROOM = 1.02;

const IN_THE_SENDERS_LEAD: readonly string[] = ['series', 'series-gauge-side', 'series-sender-side'];

/**
 * How many times the current that its maker let into the tank a network lets in at the most, where that is more; undefined
 * where it is not, where nothing goes into a tank, or where nobody knows either sender. Both are taken at their least ohms.
 * Where nobody measured what stands behind the lead it is taken for the worst: a source without ohms.
 * Source: Ohm's law, Thevenin's theorem.
 */
export function moreTankCurrent(state: JobState, candidate: TrimCandidate): number | undefined {
  const { gauge, trimSenderId, senderPoints, trimRequest } = state;
  const own = senderPoints.filter(({ senderId }) => senderId === trimSenderId);
  if (gauge.quantity !== 'fuel' || own.length === 0 || trimSenderId === undefined) return undefined;
  const leastOhm = Math.min(...own.map(({ resistanceOhm }) => resistanceOhm));
  const originalOhm = Math.min(
    ...(gauge.family === undefined
      ? state.readings.map(({ resistanceOhm }) => resistanceOhm)
      : [gauge.family.lowEndOhm, gauge.family.highEndOhm]),
  );
  const { topology, parts } = candidate;
  const lead = leadOf(workingFactsOf(state, trimSenderId));
  const times =
    lead === undefined
      ? timesOfAnyGauge(candidate, { leastOhm, originalOhm })
      : timesThrough(
          lead,
          sourceThrough(
            networkOf(
              topology,
              parts.map(({ resistanceOhm }) => resistanceOhm),
              trimRequest?.gaugeOhm,
            ),
            lead,
          ),
          { leastOhm, originalOhm },
        );
  return times > ROOM ? times : undefined;
}

type Source = { readonly volt: number; readonly ohm: number };
type Ohms = { readonly leastOhm: number; readonly originalOhm: number };

const timesThrough = (lead: Source, through: Source, { leastOhm, originalOhm }: Ohms): number =>
  (through.volt / (through.ohm + leastOhm)) * ((lead.ohm + originalOhm) / lead.volt);

/** Without ohms of its own a source lets in what the lead's ohms let in; a shunt takes none of it away. */
const timesOfAnyGauge = ({ topology, parts }: TrimCandidate, { leastOhm, originalOhm }: Ohms): number => {
  if (topology === 'gauge-shunt') return Infinity;
  const leadOhm = parts
    .filter(({ place }) => IN_THE_SENDERS_LEAD.includes(place))
    .reduce((sum, { resistanceOhm }) => sum + resistanceOhm, 0);
  return originalOhm / (leadOhm + leastOhm);
};
