import type { ComponentChildren, JSX } from 'preact';
import { useRef, useState } from 'preact/hooks';
import type { CommandOf, JobCommand } from '../../job/schema/commands';
import type { Confirmation } from '../../job/schema/safety';
import { confirmations, DEFERS, stillToConfirm, type RiskyWork } from '../../job/state/confirmations';
import type { JobState } from '../../job/state/state';
import { NumberField, useNumberDraft } from '../parts/number-field';
import { AnswerButton } from '../parts/one-press';

type Evidence = Omit<CommandOf<'confirm-safety'>, 'kind' | 'confirmation'>;

type ConfirmProps = {
  readonly work: RiskyWork;
  readonly state: JobState;
  readonly send: (command: JobCommand) => void;
  readonly children: ComponentChildren;
};

/** Opens the step only when what can hurt has been said to be so; the journal keeps who said it, and when. */
export function ConfirmFirst({ work, state, send, children }: ConfirmProps): JSX.Element {
  const asked = stillToConfirm(work, state);
  if (asked.length === 0) return <>{children}</>;
  return (
    <div class="stack">
      {asked.map((confirmation) => (
        <div key={confirmation} class="stack">
          <p class="prompt">{confirmations[confirmation].asks}</p>
          <SayIt confirmation={confirmation} isSimulated={state.simulated} send={send} />
        </div>
      ))}
      <p class="hint">{DEFERS}</p>
    </div>
  );
}

type SayProps = {
  readonly confirmation: Confirmation;
  readonly isSimulated: boolean;
  readonly send: ConfirmProps['send'];
};

/** A tap where a tap is enough; else what was measured, or hands held out. A drawn vehicle has nothing that hurts. */
function SayIt({ confirmation, isSimulated, send }: SayProps): JSX.Element {
  const say = (evidence: Evidence = {}): void => send({ kind: 'confirm-safety', confirmation, ...evidence });
  if (!isSimulated && confirmation === 'engine-cold')
    return (
      <Measured
        label="Top hose, or the part itself, by your own thermometer"
        unit={'°C'}
        hint="Under 40 °C it may be opened. If it is hotter, let it cool."
        plate="It is that cold"
        onSay={(probeCelsius) => say({ probeCelsius })}
      />
    );
  if (!isSimulated && confirmation === 'dash-open')
    return (
      <Measured
        label="Minutes that the manual wants for the airbags"
        unit="min"
        hint="0 where there are none."
        plate="It had them"
        onSay={(airbagWaitMinutes) => say({ airbagWaitMinutes })}
      />
    );
  if (!isSimulated && confirmation === 'engine-runs') return <HeldOut onHeld={(heldMs) => say({ heldMs })} />;
  return (
    <div>
      <AnswerButton class="button button-main" onClick={() => say()}>
        Yes
      </AnswerButton>
    </div>
  );
}

function Measured(props: {
  readonly label: string;
  readonly unit: string;
  readonly hint: string;
  readonly plate: string;
  readonly onSay: (value: number) => void;
}): JSX.Element {
  const draft = useNumberDraft('', props.unit === 'min' ? 'min' : 'degC');
  const say = (): void => {
    if (draft.value !== undefined) props.onSay(draft.value);
  };
  return (
    <div class="stack">
      <NumberField label={props.label} unit={props.unit} draft={draft} hint={props.hint} onEnter={say} />
      <div>
        <AnswerButton class="button button-main" disabled={draft.value === undefined} onClick={say}>
          {props.plate}
        </AnswerButton>
      </div>
    </div>
  );
}

const HELD_SECONDS = 3;

/** Hands that hold the screen are not in the fan. */
function HeldOut({ onHeld }: { readonly onHeld: (heldMs: number) => void }): JSX.Element {
  const since = useRef<number | undefined>(undefined);
  const [isHeld, setHeld] = useState(false);
  const down = (): void => {
    since.current ??= performance.now();
    setHeld(true);
  };
  const up = (): void => {
    const heldMs = since.current === undefined ? 0 : performance.now() - since.current;
    since.current = undefined;
    setHeld(false);
    if (heldMs >= 1_000 * HELD_SECONDS) onHeld(Math.round(heldMs));
  };
  return (
    <div>
      <button
        type="button"
        class="button button-main"
        onPointerDown={down}
        onPointerUp={up}
        onPointerLeave={up}
        onKeyDown={(event) => {
          if (event.key === ' ' || event.key === 'Enter') down();
        }}
        onKeyUp={up}
      >
        {isHeld ? `Hold it ${HELD_SECONDS} s, then let go` : `Hold this for ${HELD_SECONDS} s`}
      </button>
    </div>
  );
}
