import type { JSX } from 'preact';
import { useState } from 'preact/hooks';
import { confirmations } from '../../../job/confirmations';
import type { JobCommand } from '../../../job/commands';
import type { Confirmation } from '../../../job/safety';
import type { JobState } from '../../../job/state';
import type { SweepChoice } from '../../../job/sweep';
import { Choice } from '../../parts/choice';
import { Note } from '../../parts/note';
import { NumberField, useNumberDraft } from '../../parts/number-field';

type SweepStartProps = {
  readonly state: JobState;
  readonly isAgain: boolean;
  readonly hasBox: boolean;
  readonly send: (command: JobCommand) => Promise<boolean>;
};

const MODES = [
  { value: 'step-and-read', words: 'Step and read' },
  { value: 'seek', words: 'Seek the marks' },
] as const;
const MODE_HINTS = {
  'step-and-read': 'The box sets a resistance; you say where the needle stands.',
  seek: 'You say below, above or on it; the box moves until the needle sits on each mark.',
} as const;
const COUNTS = ['6', '8', '11'] as const;
const LEGS = [
  { value: 'both', words: 'Up and down' },
  { value: 'up', words: 'Up only' },
  { value: 'down', words: 'Down only' },
] as const;

/** What must be said before the output may close; which of it depends on the gauge and the place. */
export function confirmationsFor(state: Pick<JobState, 'gauge' | 'place'>): readonly Confirmation[] {
  const asked: Confirmation[] = [];
  if (state.place === 'car') asked.push('connected-ignition-off');
  if (state.gauge.quantity === 'fuel') asked.push('fuel-dash-end');
  if (state.gauge.mechanism === 'unknown') asked.push('mechanism-unknown');
  return asked;
}

export function SweepStart({ state, isAgain, hasBox, send }: SweepStartProps): JSX.Element {
  const [mode, setMode] = useState<SweepChoice['mode']>('step-and-read');
  const [count, setCount] = useState<(typeof COUNTS)[number]>('6');
  const [legs, setLegs] = useState<NonNullable<SweepChoice['legs']>>('both');
  const from = useNumberDraft();
  const to = useNumberDraft();
  const asked = confirmationsFor(state).filter((each) => !state.confirmations.includes(each));
  const [ticked, setTicked] = useState<readonly Confirmation[]>([]);
  const isReady = hasBox && asked.every((each) => ticked.includes(each));
  const start = async (): Promise<void> => {
    for (const confirmation of asked) await send({ kind: 'confirm-safety', confirmation });
    await send({
      kind: 'start-sweep',
      choice: {
        mode,
        legs,
        ...(mode === 'seek' ? {} : { pointCount: Number(count) }),
        ...(from.value === undefined ? {} : { fromOhm: from.value }),
        ...(to.value === undefined ? {} : { toOhm: to.value }),
      },
    });
  };
  return (
    <div class="stack">
      <Choice label="How do you want to work?" options={MODES} chosen={mode} onChoose={setMode} />
      <p class="hint">{MODE_HINTS[mode]}</p>
      <details>
        <summary>Range, number of points, legs</summary>
        <div class="fields">
          <NumberField label="Lowest resistance" unit="ohm" draft={from} hint="Empty: from the gauge's family." />
          <NumberField label="Highest resistance" unit="ohm" draft={to} hint="Empty: from the gauge's family." />
          <Choice
            label="Points a leg"
            options={COUNTS.map((value) => ({ value, words: value }))}
            chosen={count}
            onChoose={setCount}
          />
          <Choice label="Legs" options={LEGS} chosen={legs} onChoose={setLegs} />
        </div>
      </details>
      {asked.length === 0 ? null : (
        <Note kind="caution" word="Before the output closes">
          {asked.map((each) => (
            <label key={each} class="chip chip-left">
              <input
                type="checkbox"
                checked={ticked.includes(each)}
                onChange={() =>
                  setTicked(ticked.includes(each) ? ticked.filter((other) => other !== each) : [...ticked, each])
                }
              />
              {confirmations[each].asks}
            </label>
          ))}
        </Note>
      )}
      <button type="button" class="button button-main" disabled={!isReady} onClick={() => void start()}>
        {startWords(hasBox, asked.length > 0 && !isReady, isAgain)}
      </button>
    </div>
  );
}

function startWords(hasBox: boolean, isUnticked: boolean, isAgain: boolean): string {
  if (!hasBox) return 'No box yet: choose one above';
  if (isUnticked) return 'Tick the cautions first';
  return isAgain ? 'Start another sweep' : 'Start the sweep';
}
