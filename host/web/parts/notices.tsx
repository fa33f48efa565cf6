import type { JSX } from 'preact';
import { useEffect, useRef } from 'preact/hooks';
import type { JobState, Trip } from '../../job/state/state';
import type { JobConnection } from '../connection/job-connection';
import { byHand, isOutputLive } from '../connection/lost-contact';
import { useSignal } from '../signal';
import { Note } from './note';
import { asSentence } from '../../words/sentence';

/** What must be seen before anything else: a trip, an answer that came second, a lost host. */
export function Notices({
  job,
  state,
}: {
  readonly job: JobConnection;
  readonly state: JobState;
}): JSX.Element {
  const frame = useSignal(job.live);
  const connection = useSignal(job.connection);
  const trip = frame?.trip ?? state.trip;
  return (
    <>
      {connection === 'lost' ? (
        <Note kind="wrong" word="Host lost">
          <p>This page tries again by itself. Nothing that was confirmed is lost.</p>
        </Note>
      ) : null}
      {frame?.readOnly === undefined ? null : (
        <Note kind="wrong" word="Nothing can be entered now">
          <p>{asSentence(frame.readOnly)}</p>
          <div>
            <button type="button" class="button" onClick={job.openAgain}>
              Open again
            </button>
          </div>
        </Note>
      )}
      {trip === undefined ? null : (
        <TripNotice trip={trip} canClear={frame?.link.state === 'live'} job={job} />
      )}
      <StopOutcome job={job} state={state} />
      <Superseded state={state} />
    </>
  );
}

/** Whether the box confirmed a stop; when it did not, what happens by itself and what hands can do. */
function StopOutcome({
  job,
  state,
}: {
  readonly job: JobConnection;
  readonly state: JobState;
}): JSX.Element | null {
  const news = useSignal(job.stopNews);
  const frame = useSignal(job.live);
  if (news?.kind !== 'answered' || isOutputLive(frame)) return null;
  if (news.outcome === 'box-confirmed-open') {
    return (
      <Note kind="good" word="Stopped">
        <p role="status">The box confirmed it: its output is open.</p>
      </Note>
    );
  }
  const deadManMs = frame?.box.deadManMs;
  return (
    <Note kind="wrong" word="STOP was not confirmed">
      <p>
        The box did not answer. It opens its output by itself
        {deadManMs === undefined ? ' when it does not hear the host' : ` within ${deadManMs / 1000} s`}.{' '}
        <strong>{byHand(state.place)}</strong>
      </p>
    </Note>
  );
}

type TripProps = {
  readonly trip: Pick<Trip, 'reason' | 'remedy'>;
  readonly canClear: boolean;
  readonly job: JobConnection;
};

/** Why the box stopped and what to do; it comes into sight by itself. */
function TripNotice({ trip, canClear, job }: TripProps): JSX.Element {
  const box = useRef<HTMLDivElement>(null);
  useEffect(() => box.current?.scrollIntoView({ block: 'center' }), [trip.reason]);
  return (
    <div ref={box}>
      <Note kind="wrong" word="STOPPED: the box opened its output">
        <p>
          <strong>{asSentence(trip.reason)}</strong>
        </p>
        {trip.remedy === undefined ? null : <p>{asSentence(trip.remedy)}</p>}
        <div>
          <button
            type="button"
            class="button"
            disabled={!canClear}
            onClick={() => void job.send({ kind: 'clear-trip' })}
          >
            I have looked: clear the trip
          </button>
        </div>
      </Note>
    </div>
  );
}

/** Two people confirmed the same step: the journal's order decided, and both see it. */
function Superseded({ state }: { readonly state: JobState }): JSX.Element | null {
  const last = state.superseded.at(-1);
  if (last === undefined || last.n !== state.lastN) return null;
  return (
    <Note kind="plain" word="Two answers to one step">
      <p>
        {last.by} also answered{last.reading === undefined ? '' : ` (${last.reading} ${state.gauge.unit})`},
        but another screen was first; the first answer counts. Strike it in the table if it is wrong.
      </p>
    </Note>
  );
}
