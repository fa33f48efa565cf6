import type { GaugeResponse, SenderResponse } from '../../response';
import type { Refusal } from '../../refusal';
import { refuse } from '../../refusal';
import type { Band } from './problem';
import type { TrimOptions } from './trim-options';
import { trimDefaults } from './trim-options';

/** Fewer judge too little; more cost time without telling more. */
const FEWEST_SAMPLES = 3;
const MOST_SAMPLES = 2001;

/** Readings at the two ends of the measured range, the lower one first; a needle at its stop there stays there. */
const measuredReadings = (gauge: GaugeResponse): readonly [number, number] => {
  const ends = [gauge.reading(gauge.measuredFromOhm), gauge.reading(gauge.measuredToOhm)];
  return [Math.min(...ends), Math.max(...ends)];
};

/**
 * The used band of true values: as asked, or as far as sender and gauge were both measured.
 * Refuses: BAND (empty, not finite, or outside the dial and the sender), SAMPLES.
 */
export const bandOf = (
  gauge: GaugeResponse,
  sender: SenderResponse,
  options: Pick<TrimOptions, 'from' | 'to' | 'samples'>,
): ({ readonly kind: 'band' } & Band) | Refusal<'BAND' | 'SAMPLES'> => {
  const [lowest, highest] = measuredReadings(gauge);
  const from = options.from ?? Math.max(lowest, sender.knownFrom);
  const to = options.to ?? Math.min(highest, sender.knownTo);
  const samples = options.samples ?? trimDefaults.samples;
  const refused = (wrong: 'empty' | 'outside'): Refusal<'BAND'> =>
    refuse('BAND', {
      ...{ wrong, from, to, unit: gauge.unit },
      ...{ senderFrom: sender.knownFrom, senderTo: sender.knownTo },
      ...{ gaugeFrom: lowest, gaugeTo: highest },
    });
  if (!(Number.isFinite(from) && Number.isFinite(to) && from < to)) return refused('empty');
  if (from >= Math.min(highest, sender.knownTo) || to <= Math.max(lowest, sender.knownFrom))
    return refused('outside');
  if (!(Number.isInteger(samples) && samples >= FEWEST_SAMPLES && samples <= MOST_SAMPLES))
    return refuse('SAMPLES', { samples, fewest: FEWEST_SAMPLES, most: MOST_SAMPLES });
  return { kind: 'band', from, to, samples };
};
