import type { JSX } from 'preact';
import { standInHookUp } from '../../../job/hook-up';
import type { JobCommand } from '../../../job/schema/commands';
import { conditionNow } from '../../../job/state/condition-now';
import type { JobState } from '../../../job/state/state';
import type { App } from '../../app';
import type { JobConnection } from '../../connection/job-connection';
import type { Way } from '../../parts/in-hand';
import { Choice } from '../../parts/choice';
import { later } from '../../parts/later';
import { SweepStart } from './sweep-start';
import { useSignal } from '../../signal';

const LeadsFold = later(async () => (await import('../leads-fold')).LeadsFold);
const HandStart = later(async () => (await import('./hand-start')).HandStart);
const ImportReadings = later(async () => (await import('./import-readings')).ImportReadings);

const WAYS: readonly { readonly value: Way; readonly words: string }[] = [
  { value: 'box', words: 'The box' },
  { value: 'resistors', words: 'Resistors' },
  { value: 'potentiometer', words: 'A potentiometer' },
  { value: 'decade', words: 'A decade box' },
  { value: 'table', words: 'A table I have' },
];

type WaysProps = {
  readonly app: App;
  readonly job: JobConnection;
  readonly state: JobState;
  readonly isAgain: boolean;
  readonly hasBox: boolean;
  readonly send: (command: JobCommand) => Promise<boolean>;
};

/** The sweep begins with what one has in hand; nobody needs a box. */
export function WaysToSweep({ app, job, state, isAgain, hasBox, send }: WaysProps): JSX.Element {
  const chosen = useSignal(app.inHand.of(state.jobId));
  const lastByHand = state.sweeps.at(-1)?.hand?.tools.way;
  const way = chosen ?? (hasBox || state.simulated ? 'box' : (lastByHand ?? 'resistors'));
  return (
    <div class="stack">
      <Choice
        label="What have you in hand?"
        options={WAYS}
        chosen={way}
        onChoose={(next) => app.inHand.choose(state.jobId, next)}
      />
      {way === 'box' ? (
        <>
          {isAgain ? null : <LeadsFold hookUp={standInHookUp(state)} isOpen={!state.simulated} />}
          <SweepStart state={state} isAgain={isAgain} hasBox={hasBox} send={send} />
        </>
      ) : way === 'table' ? (
        <ImportReadings state={state} job={job} />
      ) : (
        <HandStart
          key={way}
          way={way}
          state={state}
          isLeft={app.inHand.conditionOf(state.jobId) === 'as-left' || conditionNow(state) === 'as-left'}
          isAgain={isAgain}
          send={send}
        />
      )}
    </div>
  );
}
