import { typedOhms } from '../../core/by-hand';
import { HANDHELD } from '../../core/ohmmeter';
import type { Refused } from '../../core/result';
import { refuse } from '../../refusals';
import { type CommandOf, type EventBody, type JobCommand, type JobState, type Ohmmeter } from '../../job';
import {
  handAskOf,
  isAskedFor,
  isByHand,
  leastOhmNow,
  PRINTED_ROOM,
  type HandSweep,
} from '../../job/state/hand-step';
import type { HandRun } from '../hand/hand-run';
import { isAtFullScale, skippedAtFullScale } from '../hand/plan-hand';
import { findStep, skipsBelow, type AnswerDecision, type Found } from './decide-answer';
import { offScale } from './off-scale';

/** Without a box these have no meaning anywhere else. */
const HAND_ONLY = ['put-on', 'give-ohms'] as const;
export type HandOnly = CommandOf<(typeof HAND_ONLY)[number]>;
export const isHandOnly = (command: JobCommand): command is HandOnly =>
  HAND_ONLY.some((kind) => kind === command.kind);

export type HandCommand = HandOnly | CommandOf<'give-reading' | 'wait-longer'>;

type FoundByHand = Found & { readonly sweep: HandSweep };

const isFoundByHand = (found: Found): found is FoundByHand => isByHand(found.sweep);

/** A track is off by more than a part: 20 % is usual. Common practice, no source. */
const TRACK_ROOM = 1.25;

/** Limits of the meter as they were said; what was not said is that of a handheld. */
export const measuredOhms = (
  shownOhm: number,
  { leadsOhm, limitPercent, limitOhm }: Ohmmeter,
): { readonly resistanceOhm: number; readonly uncertaintyOhm: number } =>
  typedOhms(
    { shownOhm, leadsOhm },
    { percent: limitPercent ?? HANDHELD.percent, ohm: limitOhm ?? HANDHELD.ohm },
  );

/** What must not be put on, or is not what was asked for. */
const wrongOhms = (
  state: JobState,
  { sweep, step }: FoundByHand,
  {
    shownOhm,
    isOtherMeant = false,
  }: { readonly shownOhm: number; readonly isOtherMeant?: boolean | undefined },
): Refused | undefined => {
  const { resistanceOhm } = measuredOhms(shownOhm, sweep.hand.ohmmeter);
  const leastOhm = leastOhmNow(state, sweep);
  const ask = handAskOf(state, sweep, step);
  const isKnown = state.gauge.family !== undefined;
  if (!(resistanceOhm >= PRINTED_ROOM * leastOhm))
    return refuse('HAND_TOO_LOW', { resistanceOhm, leastOhm, isKnown });
  if (ask.kind !== 'put-on' || isAskedFor(ask, resistanceOhm, leastOhm)) return undefined;
  // Of a gauge that nobody knows each step is worked out from the one before: a slip would take it too far.
  const { fromOhm, toOhm } = ask;
  return isKnown && isOtherMeant
    ? undefined
    : refuse('HAND_OTHER_OHMS', { resistanceOhm, fromOhm, toOhm, isKnown });
};

const decidePutOn = (
  state: JobState,
  hand: HandRun,
  found: FoundByHand,
  { shownOhm, isOtherMeant }: CommandOf<'put-on'>,
): AnswerDecision => {
  const isMeasuredAfter = found.sweep.hand.tools.way === 'potentiometer';
  if (!isMeasuredAfter) {
    if (shownOhm === undefined) return refuse('HAND_OHMS_FIRST');
    const wrong = wrongOhms(state, found, { shownOhm, isOtherMeant });
    if (wrong !== undefined) return wrong;
  }
  return hand.putOn(found.step.stepId, shownOhm) ?? { kind: 'bodies', bodies: [] };
};

type ReadingBody = Extract<EventBody, { kind: 'reading' }>;
type Read = Pick<
  ReadingBody,
  'reading' | 'atStop' | 'readingUncertainty' | 'given' | 'supplyVolt' | 'supplyAt' | 'waitedMs'
>;

const readingOf = (
  state: JobState,
  { sweep, step }: FoundByHand,
  read: Read,
  shownOhm: number,
): readonly EventBody[] => {
  const { ohmmeter } = sweep.hand;
  const ohms = measuredOhms(shownOhm, ohmmeter);
  const reading: ReadingBody = {
    kind: 'reading',
    readingId: `r${state.lastN + 1}`,
    sweepId: sweep.sweepId,
    stepId: step.stepId,
    ...ohms,
    ...read,
    leg: step.leg,
    method: 'step',
    source: 'hand',
    ohmmeter,
  };
  const { reading: value, atStop } = read;
  const isEnd = isAtFullScale({ ...state, readings: [...state.readings, told(state, reading)] }, sweep);
  const skipped = isEnd ? skippedAtFullScale(state, sweep, ohms.resistanceOhm) : [];
  const onStop = atStop === undefined || isEnd ? [] : skipsBelow(state, sweep, ohms.resistanceOhm);
  return Number.isFinite(value) ? [reading, ...skipped, ...onStop] : [];
};

/** The reading as the state will hold it. */
const told = (
  { lastN, lastAt }: JobState,
  { kind, ...reading }: ReadingBody,
): JobState['readings'][number] => ({
  ...reading,
  n: lastN + 1,
  at: lastAt,
  by: 'hand',
});

const decideHandReading = (
  state: JobState,
  hand: HandRun,
  found: FoundByHand,
  command: CommandOf<'give-reading'>,
): AnswerDecision => {
  const facts = hand.facts(command.stepId);
  if ('kind' in facts) return facts;
  const off = offScale(state, command.reading);
  if (off !== undefined) return off;
  const { kind, stepId, ...read } = command;
  const { waitedMs, shownOhm } = facts;
  const { sweepId } = found.sweep;
  return {
    kind: 'bodies',
    bodies:
      shownOhm === undefined
        ? [{ kind: 'needle-noted', sweepId, stepId, ...read, waitedMs }]
        : [...readingOf(state, found, { ...read, waitedMs }, shownOhm)],
  };
};

/** What the whole potentiometer with its fixed resistor cannot have. */
const wrongTrack = ({ sweep }: FoundByHand, shownOhm: number): Refused | undefined => {
  const { tools, ohmmeter } = sweep.hand;
  if (tools.way !== 'potentiometer') return undefined;
  const { resistanceOhm } = measuredOhms(shownOhm, ohmmeter);
  const mostOhm = TRACK_ROOM * (tools.wholeOhm + tools.seriesOhm);
  const isPossible = resistanceOhm >= tools.seriesOhm / TRACK_ROOM && resistanceOhm <= mostOhm;
  return isPossible
    ? undefined
    : refuse('HAND_NOT_OF_TRACK', { resistanceOhm, seriesOhm: tools.seriesOhm, wholeOhm: tools.wholeOhm });
};

const decideOhms = (state: JobState, found: FoundByHand, shownOhm: number): AnswerDecision => {
  const { noted } = found.step;
  if (noted === undefined) return refuse('NOT_ASKING');
  const wrong = wrongTrack(found, shownOhm);
  if (wrong !== undefined) return wrong;
  const { n, at, by, sweepId, stepId, ...read } = noted;
  return { kind: 'bodies', bodies: [...readingOf(state, found, read, shownOhm)] };
};

/**
 * What a person says of a step without a box. The host keeps to the rules of hand work whatever a page asks.
 * Refuses: HAND_TOO_LOW, HAND_OTHER_OHMS, HAND_OHMS_FIRST, HAND_NOT_OF_TRACK, NOT_BY_HAND, and as for a reading of the box.
 */
export const decideHand = (state: JobState, hand: HandRun, command: HandCommand): AnswerDecision => {
  const given = command.kind === 'give-reading' ? command.reading : undefined;
  const found = findStep(state, command.stepId, given);
  if (found.kind !== 'current') return found;
  if (!isFoundByHand(found)) return refuse('NOT_BY_HAND');
  switch (command.kind) {
    case 'put-on':
      return decidePutOn(state, hand, found, command);
    case 'give-reading':
      return decideHandReading(state, hand, found, command);
    case 'give-ohms':
      return decideOhms(state, found, command.shownOhm);
    case 'wait-longer':
      return hand.waitLonger(command.stepId) ?? { kind: 'bodies', bodies: [] };
  }
};
