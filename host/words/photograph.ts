import type { PhotographSubject } from '../job/schema/photograph-subjects';

/** What a photograph is of, as the record and the page say it. */
export const PHOTOGRAPH_WORDS: Readonly<Record<PhotographSubject, string>> = {
  vehicle: 'Vehicle',
  gauge: 'Gauge',
  sender: 'Sender',
  wiring: 'Wiring',
  'as-found': 'Dial as found',
  'as-left': 'Dial as left',
  other: 'Other',
};
