import type { JSX } from 'preact';
import type { JobCommand } from '../../../job/schema/commands';
import type { SweepChoice } from '../../../job/schema/sweep';
import type { JobState } from '../../../job/state/state';
import { countedReadings } from '../../../job/state/views';
import { shownOhm, shownPart, shownReading } from '../../parts/words';
import { AnswerButton } from '../../parts/one-press';
import { ConfirmFirst } from '../confirm-first';
import { knownLoad } from './check-questions';

/** What the box makes may differ so much from what was asked. */
const SAME_LOAD_PART = 0.05;
/** Nobody knows what an unknown gauge can take: first so many times as much. */
const SOFT_START = 10;

/** A sweep of one setting: whatever holds for a sweep's first step holds for it. */
const asSweep = (ohm: number, { gauge }: JobState): SweepChoice => ({
  mode: 'step-and-read',
  legs: 'up',
  resistancesOhm: gauge.mechanism === 'unknown' ? [SOFT_START * ohm, ohm] : [ohm],
  repeats: 0,
  refinements: 0,
});

type LoadProps = {
  readonly state: JobState;
  readonly send: (command: JobCommand) => void;
  /** Left out: the load that the list asks for. */
  readonly ohm?: number;
};

/** The box as the known load: where the needle stood on it, or the button that lets the box make it. */
export function BoxAsLoad({ state, send, ohm = knownLoad(state).ohm }: LoadProps): JSX.Element {
  // What stood before the last finding was put right is no answer.
  const sinceN = Math.max(state.conclusion?.n ?? 0, state.repairs.at(-1)?.n ?? 0);
  const seen = countedReadings(state)
    .filter(({ n, resistanceOhm }) => n > sinceN && Math.abs(resistanceOhm / ohm - 1) < SAME_LOAD_PART)
    .at(-1);
  if (seen !== undefined) {
    const stop = seen.atStop === undefined ? '' : `, on its ${seen.atStop} stop`;
    return (
      <p class="prompt">
        The box made {shownOhm(seen.resistanceOhm)}: the needle stood at{' '}
        {shownReading(seen.reading, state.gauge)}
        {stop}.
      </p>
    );
  }
  return (
    <ConfirmFirst work="sweep" state={state} send={send}>
      <div>
        <AnswerButton
          class="button"
          onClick={() => send({ kind: 'start-sweep', choice: asSweep(ohm, state) })}
        >
          Let the box be the {shownPart(ohm)}
        </AnswerButton>
      </div>
      <p class="hint">
        Its leads in the sender&rsquo;s place. It is one reading of a sweep, taken under Sweep; then answer
        here.
      </p>
    </ConfirmFirst>
  );
}
