import { stations, type Headline, type Station } from '../../job/headlines';

export const STATION_WORDS: Readonly<Record<Station, string>> = {
  check: 'Check',
  sweep: 'Sweep',
  sender: 'Sender',
  trim: 'Trim',
  proof: 'Proof',
  record: 'Record',
};

export const stationNumber = (station: Station): number => stations.indexOf(station) + 1;

/** The station the work stands at: the first that has no finding yet; the record when all have. */
export const stationAtWork = (headlines: readonly Headline[]): Station =>
  headlines.find((headline) => !headline.done)?.station ?? 'record';
