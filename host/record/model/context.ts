import { networkOf, type Candidate, type Network } from '../../core/network';
import type { TrimCandidate } from '../../job/schema/trim';
import type { Findings, TrimFinding } from '../../job/findings';
import { isChosen } from '../../job/state/chosen';
import type { JobState } from '../../job/state/state';
import type { Picture } from '../paper/items';
import type { JournalSum } from './record-model';

/** What a record is made from. `state` is in the unit that is shown, as the findings are. */
export type RecordSource = {
  readonly state: JobState;
  readonly findings: Findings;
  readonly journal: JournalSum;
  readonly program: string;
  readonly photographs: readonly Picture[];
};

type TrimRefusal = Extract<TrimFinding['trimmed'], { kind: 'refused' }>;

/** The network of the record with everything that was reckoned of it: the one that was chosen, if it was reckoned. */
export function chosenCandidate({
  state,
  findings,
}: Pick<RecordSource, 'state' | 'findings'>): Candidate | undefined {
  const trimmed = findings.trim?.trimmed;
  if (trimmed === undefined) return undefined;
  const reckoned =
    trimmed.kind === 'trimmed'
      ? [...trimmed.candidates, ...(trimmed.withoutRule === undefined ? [] : [trimmed.withoutRule])]
      : 'nearest' in trimmed && trimmed.nearest !== undefined
        ? [trimmed.nearest]
        : [];
  return reckoned.find((each) => isChosen(state.trimChosen, each));
}

/** The refusal of the trim, where no network was chosen in spite of it. */
export function refusedTrim({
  state,
  findings,
}: Pick<RecordSource, 'state' | 'findings'>): TrimRefusal | undefined {
  const trimmed = findings.trim?.trimmed;
  return trimmed?.kind === 'refused' && state.trimChosen === undefined ? trimmed : undefined;
}

/** The parts of a network that was chosen, each in its place. */
export const placedParts = ({ topology, parts }: TrimCandidate): Network =>
  networkOf(
    topology,
    parts.map(({ resistanceOhm }) => resistanceOhm),
  );
