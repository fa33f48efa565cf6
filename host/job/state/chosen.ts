import type { Candidate } from '../../core/network';
import type { TrimCandidate } from '../schema/trim';

/** What is kept in the job when a network is chosen. */
export const chosenFrom = (candidate: Candidate): TrimCandidate => ({
  topology: candidate.topology,
  parts: candidate.parts.map((part) => ({
    place: part.place,
    resistanceOhm: part.resistanceOhm,
    tolerancePercent: part.tolerancePercent,
    powerWatt: part.powerWorstWatt,
    ...(part.ratingWatt === undefined ? {} : { ratingWatt: part.ratingWatt }),
  })),
  worstError: candidate.worstError,
  rmsError: candidate.rmsError,
});

/** The same parts in the same places; its error may have been turned into another unit since. */
export const isChosen = (chosen: TrimCandidate | undefined, candidate: Candidate): boolean =>
  chosen !== undefined &&
  chosen.topology === candidate.topology &&
  JSON.stringify(chosen.parts) === JSON.stringify(chosenFrom(candidate).parts);
