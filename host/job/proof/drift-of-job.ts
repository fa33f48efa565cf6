import { driftOf } from '../../core/proof/drift';
import type { EventBody } from '../schema/events';
import { scaleOf } from '../schema/scale';
import type { CommandOf } from '../schema/commands';
import { partOfArcAt } from '../state/part-of-arc';
import type { JobState, ProofPair } from '../state/state';
import { readingUncertaintyOf } from '../state/views';
import { provingPairs } from './proof';
import { pairResult } from './verdict';

export type DriftChecked = Extract<EventBody, { kind: 'drift-checked' }>;

const COVERAGE_FACTOR = 2;
/** Two pairs nearer than this part of the scale are at one place. Common practice, no source. */
const ONE_PLACE_PART = 0.05;

/** Pairs as the vehicle was left that a pair a season later can be held against: read while it ran. */
export const leftPairs = (state: JobState): readonly ProofPair[] =>
  provingPairs(state).filter(({ method }) => method === 'run');

/** The nearest of them where the needle moved the same way; undefined where none lies near. */
const leftPair = (
  state: JobState,
  { reference, leg }: Pick<ProofPair, 'reference' | 'leg'>,
): ProofPair | undefined => {
  const width = ONE_PLACE_PART * scaleOf(state.gauge.marks).span;
  return leftPairs(state)
    .filter((pair) => pair.leg === leg && Math.abs(pair.reference - reference) <= width)
    .sort((one, other) => Math.abs(one.reference - reference) - Math.abs(other.reference - reference))[0];
};

/** How far the needle stood off its rest mark when somebody looked last, dial units; at the check, or at an earlier look. */
const restLeft = (state: JobState): number | undefined => {
  const looked = state.drifts.flatMap(({ restOff }) => restOff ?? []).at(-1);
  if (looked !== undefined) return looked;
  const tested = state.tested.filter(({ test }) => test === 'rest-mark').at(-1);
  return tested === undefined ? undefined : tested.value / partOfArcAt(state.gauge, 'rest');
};

/**
 * One pair, and the rest mark where somebody looked, against how the vehicle was left. Undefined where nothing was proved
 * near that place with the needle moving the same way.
 * Source: `driftOf`; the error of a pair with its uncertainty by `pairResult`, a rest by the eye alone, twice.
 */
export const checkDrift = (
  state: JobState,
  command: Omit<CommandOf<'check-drift'>, 'kind' | 'unit'>,
): DriftChecked | undefined => {
  const pair = leftPair(state, command);
  if (pair === undefined) return undefined;
  const then = pairResult(state, pair);
  const eye = COVERAGE_FACTOR * readingUncertaintyOf(state.gauge);
  const now = {
    error: command.indicated - command.reference,
    expanded: Math.hypot(eye, COVERAGE_FACTOR * (command.referenceUncertainty ?? 0)),
  };
  const ofPair = {
    then: then.error,
    thenUncertainty: then.expandedUncertainty,
    now: now.error,
    nowUncertainty: now.expanded,
  };
  const before = restLeft(state);
  const { restOff } = command;
  const isRestKnown = before !== undefined && restOff !== undefined;
  const { scores, hasMoved } = driftOf([
    ofPair,
    ...(isRestKnown ? [{ then: before, thenUncertainty: eye, now: restOff, nowUncertainty: eye }] : []),
  ]);
  const [score = NaN, restScore] = scores;
  return {
    ...command,
    kind: 'drift-checked',
    asLeft: {
      pairId: pair.pairId,
      error: then.error,
      expandedUncertainty: then.expandedUncertainty,
    },
    score,
    ...(isRestKnown ? { restBefore: before } : {}),
    ...(restScore === undefined ? {} : { restScore }),
    hasMoved,
  };
};
