import { answerCount } from '../job/check/measured';
import { missingFromProof, proofVerdict } from '../job/proof/proof';
import { limitOf, type Verdict } from '../job/proof/verdict';
import { inShownUnit } from '../job/state/shown-unit';
import type { JobState } from '../job/state/state';
import { countedReadings, openSweep, progressOf } from '../job/state/views';
import type { Station } from '../job/stations';
import type { FittedFacts } from './headline';
import type { Notation } from './notation';
import { counted } from './sentence';

const FIGURES = 2;

const CONCLUDED: Readonly<Record<NonNullable<JobState['conclusion']>['finding'], string>> = {
  sound: 'Sound',
  'nothing-found': 'Nothing found so far',
  'ground-fault': 'Ground fault',
  'supply-fault': 'Supply fault',
  'stabiliser-fault': 'Stabiliser fault',
  'wire-fault': 'Wire fault',
  'sender-suspect': 'Sender suspect',
  'gauge-suspect': 'Gauge suspect',
  undetermined: 'Cause not found',
};

const PROVED: Readonly<Record<Verdict, string>> = {
  within: 'Within',
  outside: 'Outside',
  'cannot-tell': 'Cannot be told,',
};

function checked(state: JobState): string {
  if (state.conclusion !== undefined) return CONCLUDED[state.conclusion.finding];
  const steps = state.asFound.length + state.measurements.length + state.tested.length + answerCount(state);
  return steps === 0 ? 'Not checked yet' : counted(steps, 'answer');
}

function swept(state: JobState, facts: FittedFacts, say: Notation): string {
  const sweep = openSweep(state);
  if (sweep !== undefined) {
    const { done, total } = progressOf(sweep);
    return `${done} of ${total} steps`;
  }
  const count = countedReadings(state).length;
  if (count === 0) return 'No readings yet';
  const readings = counted(count, 'reading');
  if (facts.doubtful !== undefined) return `${readings}, one to repeat`;
  const known = facts.curveKnown?.size;
  return known === undefined
    ? readings
    : `${readings}, ${say.spread(Number(known.toPrecision(FIGURES)), state.gauge.unit)}`;
}

function trimmed({ trimChosen: chosen, gauge }: JobState, say: Notation): string {
  if (chosen === undefined) return 'None chosen yet';
  const left = say.spread(Number(chosen.worstError.toPrecision(FIGURES)), gauge.unit);
  const parts = chosen.parts.map((part) => say.part(part.resistanceOhm)).join(' + ');
  return chosen.topology === 'none' ? `No part needed: ${left}` : `${parts}: ${left}`;
}

function proved(state: JobState, say: Notation): string {
  const proof = proofVerdict(state);
  if (proof === undefined) return 'Not proved yet';
  const missing = missingFromProof(state).length;
  if (missing > 0 && proof.verdict !== 'outside') return `Begun, ${counted(missing, 'thing')} wanted`;
  return `${PROVED[proof.verdict]} ${say.spread(limitOf(state).size, state.gauge.unit)}`;
}

/** What each station has found, in the few words that stand under its mark; `headlines` say it whole. */
export function shortFindings(
  kept: JobState,
  say: Notation,
  facts: FittedFacts = {},
): Readonly<Record<Station, string>> {
  const state = inShownUnit(kept);
  const points = state.senderPoints.filter((point) => point.struckBecause === undefined).length;
  return {
    check: checked(state),
    sweep: swept(state, facts, say),
    sender: points === 0 ? 'No points yet' : counted(points, 'point'),
    trim: trimmed(state, say),
    proof: proved(state, say),
    record: state.records.length === 0 ? 'Not made yet' : 'Made',
  };
}
