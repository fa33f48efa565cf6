import type { JSX } from 'preact';
import { useMemo, useState } from 'preact/hooks';
import { potentiometerHookUp, resistorHookUp, switchHookUp, type HookUp } from '../../../job/hook-up';
import type { JobCommand } from '../../../job/schema/commands';
import { handPlanOf, type HandPlan } from '../../../job/state/hand-plan';
import type { JobState } from '../../../job/state/state';
import { handPlanWords } from '../../../words/by-hand';
import { printed } from '../../../words/notation';
import { Caution } from '../../parts/caution';
import { NumberField, useNumberDraft } from '../../parts/number-field';
import { ConfirmFirst } from '../confirm-first';
import { LeadsFold } from '../leads-fold';
import { MeterFields, ToolFields, useHandFields, type HandFields, type HandWay } from './hand-fields';
import { FamilyChips } from './sweep-start';

const MS_PER_SECOND = 1000;

type HandStartProps = {
  readonly way: HandWay;
  readonly state: JobState;
  /** Something was done to the gauge since it was found. */
  readonly isLeft: boolean;
  readonly isAgain: boolean;
  readonly send: (command: JobCommand) => Promise<boolean>;
};

const hookUpOf = (way: HandWay, hasSwitch: boolean, state: JobState): HookUp =>
  way === 'potentiometer'
    ? potentiometerHookUp(state)
    : way === 'resistors' && hasSwitch
      ? switchHookUp(state)
      : resistorHookUp(state);

/** A sweep without a box: what is in hand, what it would carry, and what must be said first. */
export function HandStart({ way, state, isLeft, isAgain, send }: HandStartProps): JSX.Element {
  const fields = useHandFields(state, way);
  const wait = useNumberDraft('', undefined, 0);
  const { gauge } = state;
  const { setUp } = fields;
  const plan = useMemo(
    () => (setUp === undefined ? undefined : handPlanOf(gauge, setUp)),
    [gauge, JSON.stringify(setUp)],
  );
  const isReady = plan !== undefined && setUp !== undefined && isPossible(plan) && wait.problem === undefined;
  const start = (): void => {
    if (setUp === undefined) return;
    const settle = wait.value === undefined ? {} : { settleMs: MS_PER_SECOND * wait.value };
    void send({
      kind: 'start-sweep',
      choice: { mode: 'step-and-read', state: isLeft ? 'as-left' : 'as-found', hand: setUp, ...settle },
    });
  };
  const [isTold, setTold] = useState(false);
  if (!isTold || plan === undefined || !isPossible(plan))
    return (
      <Tell way={way} state={state} send={send} fields={fields} plan={plan} onTold={() => setTold(true)} />
    );
  return (
    <div class="stack">
      <Told plan={plan} onChange={() => setTold(false)} />
      <Cautions state={state} />
      <ConfirmFirst work="by-hand" state={state} send={(command) => void send(command)}>
        <div>
          <button type="button" class="button button-main" disabled={!isReady} onClick={start}>
            {isAgain ? 'Start another sweep by hand' : 'Start by hand'}
          </button>
        </div>
      </ConfirmFirst>
      <LeadsFold hookUp={hookUpOf(way, fields.hasSwitch, state)} isOpen={!isAgain} />
      <details>
        <summary>Wait at each reading</summary>
        <NumberField label="Wait" unit="s" draft={wait} hint="Empty: what this kind of needle needs." />
      </details>
    </div>
  );
}

type TellProps = Pick<HandStartProps, 'way' | 'state' | 'send'> & {
  readonly fields: HandFields;
  readonly plan: HandPlan | undefined;
  readonly onTold: () => void;
};

/** What is in hand, and what it would carry; before anything that may hurt. */
const Tell = ({ way, state, send, fields, plan, onTold }: TellProps): JSX.Element => (
  <div class="stack">
    <div class="columns">
      <div class="stack">
        <ToolFields way={way} fields={fields} />
      </div>
      <div class="stack">
        <MeterFields fields={fields} />
        <Family state={state} send={send} />
        {plan === undefined ? null : <PlanSays plan={plan} fields={fields} />}
      </div>
    </div>
    <div>
      <button
        type="button"
        class="button button-main"
        disabled={plan === undefined || !isPossible(plan)}
        onClick={onTold}
      >
        {startWords(way, plan)}
      </button>
    </div>
  </div>
);

/** What was told, in a line or two; once it is told what may hurt is asked where it can be read. */
function Told({ plan, onChange }: { readonly plan: HandPlan; readonly onChange: () => void }): JSX.Element {
  return (
    <div class="row">
      <p class="hint">{handPlanWords(plan, printed).join(' ')}</p>
      <button type="button" class="button button-plain" onClick={onChange}>
        Change it
      </button>
    </div>
  );
}

const isPossible = (plan: HandPlan): boolean =>
  plan.way === 'resistors'
    ? plan.settings.length > 0
    : plan.bears && !plan.isFixedTooSmall && !plan.isTooShort;

const WANTED: Readonly<Record<HandWay, string>> = {
  resistors: 'Say which resistors you have',
  decade: 'Say what the decade box makes',
  potentiometer: 'Say what the potentiometer is',
};

function startWords(way: HandWay, plan: HandPlan | undefined): string {
  if (plan === undefined) return WANTED[way];
  if (!isPossible(plan))
    return way === 'potentiometer' ? 'It needs the fixed resistor first' : 'These parts do not reach it';
  return 'Go on with these';
}

/** What the parts make and carry, before anything is put on; advice that can be taken with one press. */
function PlanSays({ plan, fields }: { readonly plan: HandPlan; readonly fields: HandFields }): JSX.Element {
  const fixed = plan.way === 'potentiometer' ? plan.fixed : undefined;
  return (
    <div class="stack">
      {handPlanWords(plan, printed).map((line) => (
        <p key={line} class="hint">
          {line}
        </p>
      ))}
      {fixed === undefined ? null : (
        <div>
          <button
            type="button"
            class="chip"
            onClick={() => {
              fields.fixed.setText(String(fixed.seriesOhm));
              fields.fixedWatt.setText(String(fixed.seriesWatt));
            }}
          >
            I have that in series
          </button>
        </div>
      )}
    </div>
  );
}

/** Whose sender it is made for decides how low a hand may go. */
function Family({
  state,
  send,
}: {
  readonly state: JobState;
  readonly send: HandStartProps['send'];
}): JSX.Element | null {
  const gauge = state.printed ?? state.gauge;
  if (gauge.family !== undefined) return null;
  return (
    <>
      <p class="hint">Nobody has said which sender belongs to it: then it begins at 1 kΩ or more, slowly.</p>
      <FamilyChips
        state={state}
        onPick={([lowEndOhm, highEndOhm]) =>
          void send({ kind: 'change-job', gauge: { ...gauge, family: { lowEndOhm, highEndOhm } } })
        }
      />
    </>
  );
}

const Cautions = ({ state: { place, gauge } }: { readonly state: JobState }): JSX.Element => (
  <Caution
    line={`${gauge.quantity === 'fuel' && place === 'car' ? '4' : '3'} cautions: never the sender wire straight to ground`}
  >
    <ul>
      <li>Never the sender wire straight to ground: nothing opens by itself in a hand.</li>
      <li>{place === 'car' ? 'Ignition' : 'Supply'} off while a clip is moved; the engine stays off.</li>
      <li>Measure ohms with the clip off: on a live circuit the meter shows nonsense and may be hurt.</li>
      {gauge.quantity === 'fuel' && place === 'car' ? (
        <li>At the dash connector only, the tank closed.</li>
      ) : null}
    </ul>
  </Caution>
);
