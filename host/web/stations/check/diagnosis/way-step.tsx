import type { JSX } from 'preact';
import { WAY_QUESTION } from '../../../../job/check/diagnosis-of-job';
import type { Way } from '../../../../core/diagnosis/names';
import type { JobCommand } from '../../../../job/schema/commands';
import { AnswerButton } from '../../../parts/one-press';

const WAYS: readonly { readonly way: Way; readonly words: string }[] = [
  { way: 'box', words: 'The box and a multimeter' },
  { way: 'meter', words: 'A multimeter and two resistors' },
  { way: 'resistors', words: 'Two resistors' },
  { way: 'looking', words: 'Nothing: I can only look' },
];

/** What is in hand decides which tests there are. */
export const WayStep = ({ send }: { readonly send: (command: JobCommand) => void }): JSX.Element => (
  <fieldset class="stack">
    <legend class="prompt">What do you have in hand?</legend>
    <p class="hint">The check asks only what you can do with it.</p>
    <div class="chips">
      {WAYS.map(({ way, words }) => (
        <AnswerButton
          key={way}
          class="button button-tall"
          onClick={() => send({ kind: 'answer-check', question: WAY_QUESTION, answer: way })}
        >
          {words}
        </AnswerButton>
      ))}
    </div>
  </fieldset>
);
