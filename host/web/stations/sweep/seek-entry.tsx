import type { JSX } from 'preact';
import type { NeedleAnswer } from '../../../job/schema/events';
import type { Gauge } from '../../../job/schema/gauge';
import { shownReading } from '../../parts/words';
import { isPedal, usePageKeys } from './page-keys';

type SeekEntryProps = {
  readonly gauge: Gauge;
  readonly mark: number;
  readonly isReady: boolean;
  readonly onAnswer: (needle: NeedleAnswer) => void;
};

const ANSWERS = [
  { needle: 'below', words: 'Needle is below', key: 'ArrowLeft' },
  { needle: 'on', words: 'On the mark', key: 'Enter' },
  { needle: 'above', words: 'Needle is above', key: 'ArrowRight' },
] as const;

/** The person says where the needle stands against the mark; the host moves the resistance until it is on it. */
export function SeekEntry(props: SeekEntryProps): JSX.Element {
  const { gauge, mark, isReady, onAnswer } = props;
  usePageKeys((key) => {
    const needle = isPedal(key) ? 'on' : ANSWERS.find((each) => each.key === key)?.needle;
    if (needle !== undefined && isReady) onAnswer(needle);
    return needle !== undefined;
  });
  return (
    <div class="hands" role="group" tabIndex={0} aria-label={`Seek ${shownReading(mark, gauge)}`}>
      <div class="seek-answers">
        {ANSWERS.map((answer) => (
          <button
            key={answer.needle}
            type="button"
            class={`button ${answer.needle === 'on' ? 'button-main' : ''}`}
            disabled={!isReady}
            onClick={() => onAnswer(answer.needle)}
          >
            {answer.words}
          </button>
        ))}
      </div>
      <p class="hint wide-only">
        Keys: left arrow = below, right arrow = above, Enter or a pedal = on the mark.
      </p>
    </div>
  );
}
