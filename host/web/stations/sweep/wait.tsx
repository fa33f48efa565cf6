import type { JSX } from 'preact';
import type { Gauge } from '../../../job/schema/gauge';
import type { Waiting } from '../../../job/wire/job-messages';
import { markWords } from '../../parts/words';
import { capital } from '../../../words/sentence';

const seconds = (ms: number): string => `${Math.ceil(ms / 1000)} s`;

/** The one sentence that says what to do now. */
function promptOf(waiting: Waiting, gauge: Gauge): string {
  switch (waiting.kind) {
    case 'nothing':
      return 'Nothing is being driven.';
    case 'box':
      return waiting.reason;
    case 'moving':
      return 'Setting the next resistance.';
    case 'settling':
      return 'Wait';
    case 'answer':
      return waiting.wants === 'reading'
        ? 'Read the needle'
        : `Where is the needle against ${waiting.mark === undefined ? 'the mark' : markWords(waiting.mark, gauge)}?`;
    case 'person':
      return waiting.reason;
    case 'put-on':
      return 'Put the next resistance on';
    case 'measure':
      return 'Measure what was on';
  }
}

type PromptProps = {
  readonly waiting: Waiting;
  readonly gauge: Gauge;
  /** Someone else who reads the needle; this screen only watches. */
  readonly reader?: string | undefined;
};

/** Spoken once per change of what is awaited, never once per frame. */
export function Prompt({ waiting, gauge, reader }: PromptProps): JSX.Element {
  const isAsked = waiting.kind === 'answer' && reader === undefined;
  return (
    <p class={`prompt ${isAsked ? 'prompt-read' : ''}`} role="status" aria-live="assertive">
      {waiting.kind === 'answer' && reader !== undefined
        ? `${reader} reads the needle now.`
        : promptOf(waiting, gauge)}
    </p>
  );
}

/** What is waited for, how long, how much has passed; or how long the host will wait for the person. */
export function WaitBar(props: {
  readonly waiting: Waiting;
  /** On a pulsing feed no current settles; only the time counts. */
  readonly isPulsing: boolean;
}): JSX.Element {
  const { waiting } = props;
  if (waiting.kind === 'settling') {
    const left = Math.max(0, waiting.settleMs - waiting.passedMs);
    const share = waiting.settleMs === 0 ? 1 : Math.min(1, waiting.passedMs / waiting.settleMs);
    return (
      <>
        <p class="seconds">{seconds(left)}</p>
        <p class="hint">
          Hands off. {capital(waiting.why)}: {seconds(waiting.settleMs)} in all
          {currentWords(waiting, props.isPulsing)}. A tone says when.
        </p>
        <div class="wait-track" aria-hidden="true">
          <div class="wait-passed" style={{ width: `${(100 * share).toFixed(1)}%` }} />
        </div>
      </>
    );
  }
  return (
    <p class="hint">
      {waiting.kind === 'answer' && waiting.wants === 'reading' ? (
        <span class="wide-only">Drag the drawn needle to where yours is, nudge it, or type. </span>
      ) : null}
      {afterWait(waiting)}
    </p>
  );
}

/** By hand nobody measures the current. */
function currentWords(
  { currentSettled }: Extract<Waiting, { kind: 'settling' }>,
  isPulsing: boolean,
): string {
  if (currentSettled === undefined) return '';
  if (isPulsing) return '; the feed is pulsing, so only the time counts';
  return `; current ${currentSettled ? 'settled' : 'still moving'}`;
}

function afterWait(waiting: Waiting): string {
  if (waiting.kind !== 'answer') return '\u00a0';
  if (waiting.mustEndInMs !== undefined)
    return `Held low for a short time only: ${seconds(waiting.mustEndInMs)} left.`;
  if (waiting.unattendedInMs === undefined) return '\u00a0';
  return `The output opens by itself in ${seconds(waiting.unattendedInMs)}.`;
}
