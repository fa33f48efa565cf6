import type { TrimCandidate } from '../job/schema/trim';
import type { JobState } from '../job/state/state';
import { topologyWords } from './network';
import { shownPart } from './shown';

/** "one resistor in series, series 18 Ω". */
export const networkWords = ({ topology, parts }: TrimCandidate): string =>
  [
    topologyWords[topology],
    ...parts.map((part) => `${part.place.replaceAll('-', ' ')} ${shownPart(part.resistanceOhm)}`),
  ].join(', ');

/** What was said to be in the sender's lead: "network fitted: ...". */
export const fittedWords = ({ fitted }: NonNullable<Pick<JobState, 'fitted'>>): string => {
  if (fitted === undefined) return 'nobody said what is fitted';
  return fitted.candidate === undefined ? 'nothing is fitted' : networkWords(fitted.candidate);
};
