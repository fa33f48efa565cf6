import type { JSX } from 'preact';
import type { JobState } from '../../job/state/state';
import type { App } from '../app';
import type { JobConnection } from '../connection/job-connection';
import { UnitChoice } from './unit-choice';
import { Fold } from '../parts/fold';
import { LookChoice } from '../parts/look-choice';
import { MECHANISM_WORDS, shownUnit } from '../parts/words';
import { useSignal } from '../signal';

type AboutProps = { readonly app: App; readonly job: JobConnection; readonly state: JobState };

/** What holds for the whole job, at the end of every view: what was said at its start, its unit, the sound. */
export function AboutJob({ app, job, state }: AboutProps): JSX.Element {
  const isMuted = useSignal(app.tones.isMuted);
  const frame = useSignal(job.live);
  const others = frame?.present.filter((name) => name !== job.screen) ?? [];
  const own = (state.printed ?? state.gauge).unit;
  const holds = [
    `in ${shownUnit(state.gauge.unit)}`,
    own === state.gauge.unit ? undefined : `the dial is printed in ${shownUnit(own)}`,
    `sound ${isMuted ? 'off' : 'on'}`,
    others.length === 0 ? undefined : `also here: ${others.join(', ')}`,
  ].filter((each) => each !== undefined);
  return (
    <div class="screen-only about">
      <Fold line="About this job" says={holds.join(', ')}>
        <p>
          Card {state.jobId}, {state.vehicle}, {placeWords(state)}. Mechanism:{' '}
          {MECHANISM_WORDS[state.gauge.mechanism]}.
          {state.complaint === undefined ? null : ` Said of it: \u201c${state.complaint}\u201d`}
        </p>
        <div class="row">
          <UnitChoice job={job} state={state} entries={[app.entry, app.proofEntry]} />
          <button
            type="button"
            class="button"
            aria-pressed={isMuted}
            onClick={() => app.tones.setMuted(!isMuted)}
          >
            {isMuted ? 'Sound is off' : 'Sound is on'}
          </button>
        </div>
        <LookChoice looks={app.looks} />
      </Fold>
    </div>
  );
}

export const placeWords = ({ place }: Pick<JobState, 'place'>): string =>
  place === 'car' ? 'in the car' : 'on the bench';
