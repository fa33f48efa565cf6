import type { JSX } from 'preact';
import type { JobCommand } from '../../../job/schema/commands';
import type { Contradiction } from '../../../job/check/contradictions';
import { judge } from '../../../job/check/judge';
import { keptQuestion } from '../../../job/check/measured';
import type { CheckFinding } from '../../../job/findings';
import type { JobState, Measurement } from '../../../job/state/state';
import { measuredWords } from '../../../words/measured';
import { Note } from '../../parts/note';
import { Verdict } from '../../parts/verdict';
import { AnswerButton } from '../../parts/one-press';
import { asSentence, capital } from '../../../words/sentence';
import { plateIf } from '../../parts/plate';

type ShownProps = {
  readonly measurement: Measurement;
  readonly state: JobState;
  readonly worth: CheckFinding | undefined;
  /** What speaks against this measurement, among the others. */
  readonly against: readonly Contradiction[];
  readonly send: (command: JobCommand) => void;
};

const SIGNS = { good: 'good', look: 'doubt', bad: 'bad', plain: undefined } as const;
const WORDS = { good: 'Good', look: 'Look twice', bad: 'Not good', plain: 'Measured' } as const;

/** A measurement is looked at and kept before anything else is asked. */
export function ShownStep({ measurement, state, worth, against, send }: ShownProps): JSX.Element {
  const { grade, words } = judge(measurement, state, worth);
  const measureAgain = (each: Measurement) => () => send({ kind: 'undo', undoes: each.n });
  const keep = (): void =>
    send({
      kind: 'answer-check',
      question: keptQuestion(measurement),
      answer: String(measurement.n),
    });
  const others = against.flatMap(({ again }) =>
    again.flatMap((each) =>
      each.kind === 'measurement' && each.measurement.n !== measurement.n ? [each.measurement] : [],
    ),
  );
  const isUnseen = against.some(({ id }) => id === 'lights-unseen' || id === 'step-without-ground');
  const hasTrouble = against.length > 0;
  return (
    <div class="stack">
      <p class="prompt">{capital(measuredWords(measurement))}</p>
      {hasTrouble ? null : <Judged sign={SIGNS[grade]} word={WORDS[grade]} words={words} />}
      {against.map(({ id, says }) => (
        <Note key={id} kind="wrong" word="This does not fit">
          <p>{asSentence(says)}</p>
        </Note>
      ))}
      <div class="row">
        {isUnseen ? (
          <AnswerButton class="button" onClick={() => send(saidOn(measurement))}>
            They are on: keep it
          </AnswerButton>
        ) : (
          <AnswerButton class={plateIf(!hasTrouble)} onClick={keep}>
            {hasTrouble ? 'Keep it all the same' : 'Keep it'}
          </AnswerButton>
        )}
        <AnswerButton class={plateIf(hasTrouble)} onClick={measureAgain(measurement)}>
          Measure it again
        </AnswerButton>
        {others.map((each) => (
          <AnswerButton key={each.n} class="button" onClick={measureAgain(each)}>
            Measure the other again: {measuredWords(each)}
          </AnswerButton>
        ))}
      </div>
    </div>
  );
}

function Judged(props: {
  readonly sign: (typeof SIGNS)[keyof typeof SIGNS];
  readonly word: string;
  readonly words: string;
}): JSX.Element {
  const said = `${props.word}. ${props.words}`;
  return props.sign === undefined ? <p>{said}</p> : <Verdict kind={props.sign}>{said}</Verdict>;
}

/** The same measurement once more, with what was asked about it answered. */
const saidOn = ({ what, value, loads, source }: Measurement): JobCommand =>
  source === 'box'
    ? { kind: 'capture-measurement', what, loads, saidOn: true }
    : { kind: 'add-measurement', what, value, loads, source, saidOn: true };
