import type { JSX } from 'preact';
import { useState } from 'preact/hooks';
import { conditionNow } from '../../../job/state/condition-now';
import { confirmations, stillToConfirm } from '../../../job/state/confirmations';
import type { JobCommand } from '../../../job/schema/commands';
import type { Confirmation } from '../../../job/schema/safety';
import type { JobState } from '../../../job/state/state';
import type { SweepChoice } from '../../../job/schema/sweep';
import { sweepSizeOf } from '../../../job/state/sweep-size';
import { sweepSizeWords } from '../../../words/sweep';
import { families } from '../../dial/templates';
import { shownOhm } from '../../parts/words';
import { Choice } from '../../parts/choice';
import { Note } from '../../parts/note';
import { FROM_ZERO, NumberField, useNumberDraft } from '../../parts/number-field';

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
const MS_PER_SECOND = 1000;
const COUNTS = ['6', '8', '11'] as const;
const LEGS = [
  { value: 'both', words: 'Up and down' },
  { value: 'up', words: 'Up only' },
  { value: 'down', words: 'Down only' },
] as const;

/** Everything a person may change before a sweep; each has a default that needs no thought. */
function useSweepChoice() {
  const [mode, setMode] = useState<SweepChoice['mode']>('step-and-read');
  const [count, setCount] = useState<(typeof COUNTS)[number]>('6');
  const [legs, setLegs] = useState<NonNullable<SweepChoice['legs']>>('both');
  const from = useNumberDraft('', 'ohm', FROM_ZERO);
  const to = useNumberDraft('', 'ohm', FROM_ZERO);
  const wait = useNumberDraft('', undefined, 0);
  const choice: SweepChoice = {
    mode,
    legs,
    ...(mode === 'seek' ? {} : { pointCount: Number(count) }),
    ...(from.value === undefined ? {} : { fromOhm: from.value }),
    ...(to.value === undefined ? {} : { toOhm: to.value }),
    ...(wait.value === undefined ? {} : { settleMs: MS_PER_SECOND * wait.value }),
  };
  return { mode, setMode, count, setCount, legs, setLegs, from, to, wait, choice };
}

type Drafts = ReturnType<typeof useSweepChoice>;

export function SweepStart({ state, isAgain, hasBox, send }: SweepStartProps): JSX.Element {
  const drafts = useSweepChoice();
  const asked = stillToConfirm('sweep', state);
  const [ticked, setTicked] = useState<readonly Confirmation[]>([]);
  const isSaid = asked.every((each) => ticked.includes(each));
  const isRangeGood = [drafts.from, drafts.to, drafts.wait].every((draft) => draft.problem === undefined);
  const isReady = hasBox && isSaid && isRangeGood;
  const start = async (): Promise<void> => {
    for (const confirmation of asked) await send({ kind: 'confirm-safety', confirmation });
    await send({ kind: 'start-sweep', choice: { ...drafts.choice, state: conditionNow(state) } });
  };
  return (
    <div class="stack">
      <Choice
        label="How do you want to work?"
        options={MODES}
        chosen={drafts.mode}
        onChoose={drafts.setMode}
      />
      <p class="hint">{MODE_HINTS[drafts.mode]}</p>
      <SweepRange state={state} drafts={drafts} />
      <p>{sweepSizeWords(sweepSizeOf(state.gauge, drafts.choice))}</p>
      <Confirmations asked={asked} ticked={ticked} onTick={setTicked} />
      <div>
        <button type="button" class="button button-main" disabled={!isReady} onClick={() => void start()}>
          {hasBox && !isRangeGood ? 'Mend the range first' : startWords(hasBox, !isSaid, isAgain)}
        </button>
      </div>
    </div>
  );
}

function SweepRange({ state, drafts }: { readonly state: JobState; readonly drafts: Drafts }): JSX.Element {
  const { from, to, wait } = drafts;
  const pick = ([low, high]: readonly [number, number]): void => {
    from.setText(String(low));
    to.setText(String(high));
  };
  return (
    <details>
      <summary>Range, number of points, up and down</summary>
      <div class="stack">
        <FamilyChips state={state} onPick={pick} />
        <div class="fields">
          <NumberField
            label="Sender at the low end of the dial"
            unit="ohm"
            draft={from}
            hint={familyHint(state)}
          />
          <NumberField label="Sender at the high end" unit="ohm" draft={to} />
          <NumberField
            label="Wait at each point"
            unit="s"
            draft={wait}
            hint="Empty: what this kind of needle needs."
          />
          <Choice
            label="Points a leg"
            options={COUNTS.map((value) => ({ value, words: value }))}
            chosen={drafts.count}
            onChoose={drafts.setCount}
          />
          <Choice label="Needle going" options={LEGS} chosen={drafts.legs} onChoose={drafts.setLegs} />
        </div>
      </div>
    </details>
  );
}

type ConfirmationsProps = {
  readonly asked: readonly Confirmation[];
  readonly ticked: readonly Confirmation[];
  readonly onTick: (ticked: readonly Confirmation[]) => void;
};

function Confirmations({ asked, ticked, onTick }: ConfirmationsProps): JSX.Element | null {
  if (asked.length === 0) return null;
  const turn = (each: Confirmation): void =>
    onTick(ticked.includes(each) ? ticked.filter((other) => other !== each) : [...ticked, each]);
  return (
    <Note kind="plain" word="Before the output closes">
      {asked.map((each) => (
        <label key={each} class="chip chip-left">
          <input type="checkbox" checked={ticked.includes(each)} onChange={() => turn(each)} />
          {confirmations[each].asks}
        </label>
      ))}
    </Note>
  );
}

const familyHint = ({ gauge }: JobState): string =>
  gauge.family === undefined
    ? 'Empty: a wide range is tried.'
    : `Empty: ${shownOhm(gauge.family.lowEndOhm)} to ${shownOhm(gauge.family.highEndOhm)}, from the gauge.`;

type FamilyProps = {
  readonly state: JobState;
  readonly onPick: (ends: readonly [low: number, high: number]) => void;
};

/** Ranges in circulation; a person who knows the sender picks one instead of typing. */
export function FamilyChips({ state, onPick }: FamilyProps): JSX.Element | null {
  const known = families[state.gauge.quantity];
  if (known.length === 0) return null;
  return (
    <fieldset>
      <legend>Usual senders, low end to high end</legend>
      <div class="chips">
        {known.map((ends) => (
          <button key={ends.join()} type="button" class="chip" onClick={() => onPick(ends)}>
            {ends[0]} to {ends[1]} {'\u03a9'}
          </button>
        ))}
      </div>
    </fieldset>
  );
}

function startWords(hasBox: boolean, isUnticked: boolean, isAgain: boolean): string {
  if (!hasBox) return 'No box yet: choose one above';
  if (isUnticked) return 'Tick the cautions first';
  return isAgain ? 'Start another sweep' : 'Start the sweep';
}
