import type { Refused } from '../../core/result';
import { refuse } from '../../refusals';
import type { EventBody } from '../../job';

/** What a command adds to the journal, or why not. */
export type Decision = EventBody[] | Refused;

export const nextId = (letter: string, taken: number): string => `${letter}${taken + 1}`;

export const noSuch = (what: string, id: string): Refused => refuse('NO_SUCH_ENTRY', { what, id });

/** Strikes an entry that is there and was not struck yet. */
export const struck = <Kind extends 'sender-point-struck' | 'proof-pair-struck' | 'photograph-struck'>(
  entry: { readonly struckBecause?: string } | undefined,
  missing: Refused,
  body: Extract<EventBody, { kind: Kind }>,
): Decision => {
  if (entry === undefined) return missing;
  return entry.struckBecause === undefined ? [body] : refuse('ALREADY_STRUCK');
};
