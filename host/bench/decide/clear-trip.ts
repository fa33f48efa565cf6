import { refuse } from '../../refusals';
import type { Trip } from '../../job';
import type { AnswerDecision } from './decide-answer';
import type { Box } from '../box/box';
import type { Vital } from '../box/vital';
import { shownFault } from '../box/trips';

/** Lifts the box's trip, or only the journal's when the box was restarted meanwhile and knows of none. */
export const clearTrip = async (
  box: Box,
  trip: Trip | undefined,
  vital: Vital | undefined,
): Promise<AnswerDecision> => {
  const faultCode = shownFault(trip, vital);
  if (faultCode === 0) return refuse('NO_TRIP');
  const isTrippedStill = vital?.state === 'tripped' || vital === undefined;
  const cleared = isTrippedStill ? await box.clear(faultCode) : undefined;
  if (cleared !== undefined && 'kind' in cleared) return cleared;
  return { kind: 'bodies', bodies: [{ kind: 'trip-cleared' }] };
};
