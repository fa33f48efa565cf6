import type { JSX } from 'preact';
import { useRef, useState } from 'preact/hooks';
import type { CommandOf, JobCommand } from '../../job/schema/commands';
import { coldFromIso } from '../../job/state/gate-times';
import type { JobState } from '../../job/state/state';
import { NumberField, useNumberDraft } from '../parts/number-field';
import { AnswerButton } from '../parts/one-press';
import { TextField } from '../parts/text-field';

/** What is kept with a confirmation beside who said it. */
export type Evidence = Omit<CommandOf<'confirm-safety'>, 'kind' | 'confirmation'>;

/** Confirmations that a tap is not enough for. */
export type WithEvidence = 'engine-cold' | 'two-aboard' | 'dash-open';

type EvidenceProps = {
  readonly confirmation: WithEvidence;
  readonly state: JobState;
  readonly send: (command: JobCommand) => void;
  readonly say: (evidence?: Evidence) => void;
};

/** What must be given where a tap is not enough. */
export function EvidenceForm({ confirmation, state, send, say }: EvidenceProps): JSX.Element {
  switch (confirmation) {
    case 'engine-cold':
      return (
        <ColdByNow
          state={state}
          say={say}
          switchedOff={() => send({ kind: 'confirm-safety', confirmation: 'engine-off' })}
        />
      );
    case 'two-aboard':
      return <TwoNames onSay={say} />;
    case 'dash-open':
      return (
        <Measured
          label="Minutes that the manual wants for the airbags"
          unit="min"
          hint="0 where there are none."
          plate="It had them"
          onSay={(airbagWaitMinutes) => say({ airbagWaitMinutes })}
        />
      );
  }
}

/** Cold by one's own thermometer, or by the hours since somebody said that the engine was switched off. */
function ColdByNow(props: {
  readonly state: JobState;
  readonly say: (evidence?: Evidence) => void;
  readonly switchedOff: () => void;
}): JSX.Element {
  const { state, say, switchedOff } = props;
  const coldIso = coldFromIso(state);
  return (
    <>
      <Measured
        label="Top hose, or the part itself, by your own thermometer"
        unit={'\u00b0C'}
        hint="Under 40 \u00b0C it may be opened. If it is hotter, let it cool."
        plate="It is that cold"
        onSay={(probeCelsius) => say({ probeCelsius })}
      />
      <div>
        {coldIso === undefined ? (
          <AnswerButton class="button button-plain" onClick={switchedOff}>
            No thermometer: the engine is switched off now
          </AnswerButton>
        ) : (
          <AnswerButton class="button button-plain" onClick={() => say()}>
            It stood since, until {new Date(coldIso).toTimeString().slice(0, 5)}
          </AnswerButton>
        )}
      </div>
    </>
  );
}

/** Who drives does not read. */
function TwoNames({ onSay }: { readonly onSay: (evidence: Evidence) => void }): JSX.Element {
  const [driver, setDriver] = useState('');
  const [reader, setReader] = useState('');
  return (
    <div class="stack">
      <div class="fields">
        <TextField label="Who drives" text={driver} onText={setDriver} />
        <TextField label="Who reads" text={reader} onText={setReader} />
      </div>
      <div>
        <AnswerButton
          class="button button-main"
          disabled={driver.trim() === '' || reader.trim() === ''}
          onClick={() => onSay({ driver, reader })}
        >
          Two are aboard
        </AnswerButton>
      </div>
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
export function HeldOut({ onHeld }: { readonly onHeld: (heldMs: number) => void }): JSX.Element {
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
  );
}
