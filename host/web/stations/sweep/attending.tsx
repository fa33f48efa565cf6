import type { JSX } from 'preact';
import type { JobEvent } from '../../../job/schema/events';
import type { JobConnection } from '../../connection/job-connection';
import { useSignal } from '../../signal';
import type { LiveFrame } from '../../../job/wire/job-messages';

/** Whether this screen is the one that reads the needle; before anybody is, every screen may be. */
export const isReader = (frame: LiveFrame, screen: string): boolean =>
  frame.attending === undefined || frame.attending === screen;

/** The newest change of reader, when it took the needle from this screen. */
const lostTo = (events: readonly JobEvent[], screen: string): string | undefined => {
  const last = events.filter((event) => event.kind === 'taken-over').at(-1);
  return last?.kind === 'taken-over' && last.from === screen ? last.by : undefined;
};

/** Who reads the needle, on every screen, in the names the job keeps. */
export function Attending({
  job,
  frame,
}: {
  readonly job: JobConnection;
  readonly frame: LiveFrame;
}): JSX.Element {
  const events = useSignal(job.events);
  const { attending } = frame;
  const { screen } = job;
  const watching = frame.present.filter((name) => name !== attending && name !== screen);
  return (
    <p
      class={`attending ${isReader(frame, screen) && watching.length === 0 ? '' : 'attending-others'}`}
      role="status"
    >
      {attending === undefined ? null : (
        <>
          Read by: <strong>{attending === screen ? `this screen (${screen})` : attending}</strong>.{' '}
        </>
      )}
      {isReader(frame, screen)
        ? watching.length === 0
          ? null
          : `Watching: ${watching.join(', ')}.`
        : lostTo(events, screen) === attending
          ? 'It took over; this screen only watches now and can take back.'
          : 'This screen only watches.'}
    </p>
  );
}

/** In place of the confirmation on a screen that watches: one plain button. */
export const TakeOver = ({ job }: { readonly job: JobConnection }): JSX.Element => (
  <button
    type="button"
    class="button button-main button-wide"
    onClick={() => void job.send({ kind: 'take-over' })}
  >
    Take over here
  </button>
);
