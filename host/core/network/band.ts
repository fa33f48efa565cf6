import type { GaugeResponse, SenderResponse } from '../response';
import type { Refused } from '../result';
import { refuse } from '../result';
import type { Band } from './problem';
import type { TrimOptions } from './trim-options';
import { trimDefaults } from './trim-options';

/** Fewer judge too little; more cost time without telling more. */
const FEWEST_SAMPLES = 3;
const MOST_SAMPLES = 2001;

/**
 * The used band of true values: as asked, or as far as sender and dial are both known.
 * Refuses: BAND (empty, not finite, or outside the dial and the sender), SAMPLES.
 */
export const bandOf = (
  gauge: GaugeResponse,
  sender: SenderResponse,
  options: Pick<TrimOptions, 'from' | 'to' | 'samples'>,
): ({ readonly kind: 'band' } & Band) | Refused<'BAND' | 'SAMPLES'> => {
  const from = options.from ?? Math.max(gauge.lowestReading, sender.knownFrom);
  const to = options.to ?? Math.min(gauge.highestReading, sender.knownTo);
  const samples = options.samples ?? trimDefaults.samples;
  if (!(Number.isFinite(from) && Number.isFinite(to) && from < to))
    return refuse(
      'BAND',
      `the band from ${from} to ${to} ${gauge.unit} is empty: the sender is known from ${sender.knownFrom} to ${sender.knownTo}, the dial runs from ${gauge.lowestReading} to ${gauge.highestReading}`,
    );
  if (!(Number.isInteger(samples) && samples >= FEWEST_SAMPLES && samples <= MOST_SAMPLES))
    return refuse('SAMPLES', `${samples} samples asked; ${FEWEST_SAMPLES} to ${MOST_SAMPLES} are possible`);
  return { kind: 'band', from, to, samples };
};
