import type { JSX } from 'preact';
import { useState } from 'preact/hooks';
import type { JobState } from '../../job/state/state';
import { entryWords, ownNewest, type UndoGroup } from '../../job/state/undo';
import type { JobConnection } from '../connection/job-connection';

type UndoProps = {
  readonly job: JobConnection;
  readonly state: JobState;
  readonly group: UndoGroup;
  readonly words: string;
  readonly isPlain?: boolean;
};

/** Takes back this screen's own newest entry of one station, and says which it was until something else is entered. */
export function UndoButton({ job, state, group, words, isPlain = false }: UndoProps): JSX.Element {
  const [told, setTold] = useState<{ readonly upToN: number; readonly words: string }>();
  const undo = async (): Promise<void> => {
    const mine = ownNewest(job.events.get(), job.screen, group);
    if (mine === undefined)
      return setTold({
        upToN: state.lastN,
        words: 'Nothing that was entered on this screen is left to take back.',
      });
    const outcome = await job.send({ kind: 'undo', undoes: mine.n });
    if (outcome.kind === 'accepted')
      setTold({ upToN: outcome.upToN, words: `Took back ${entryWords(state, mine)}.` });
  };
  return (
    <>
      <button type="button" class={isPlain ? 'button button-plain' : 'button'} onClick={() => void undo()}>
        {words}
      </button>
      {told === undefined || told.upToN < state.lastN ? null : (
        <span class="soft figure" role="status">
          {told.words}
        </span>
      )}
    </>
  );
}
