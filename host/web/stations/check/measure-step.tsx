import type { JSX } from 'preact';
import type { JobCommand } from '../../../job/commands';
import type { Refusal } from '../../../job/wire';
import type { MeasureStep as Step } from '../../model/check-measures';
import { changeWorld } from '../../model/talk';
import { sentence } from '../../model/words';
import { NumberField, useNumberDraft } from '../../parts/number-field';
import { Note } from '../../parts/note';
import { AnswerButton } from '../../parts/one-press';

type MeasureProps = {
  readonly step: Step;
  readonly canMeasure: boolean;
  readonly isSimulated: boolean;
  /** What the host last refused. */
  readonly refusal: Refusal | undefined;
  readonly send: (command: JobCommand) => void;
};

const FACTORS: Readonly<Record<MeasureProps['step']['unit'], number>> = { V: 1, mV: 1e-3, ohm: 1 };

/** The box saw no change where loads were said to be on. */
const UNSEEN = ['LOADS_NOT_SEEN', 'OFF_NOT_MEASURED'] as const;

/** A figure from a meter, or, where the box can reach it, from the box. */
export function MeasureStep({ step, canMeasure, isSimulated, refusal, send }: MeasureProps): JSX.Element {
  const draft = useNumberDraft('', step.unit);
  const { what, loads, loadOhm } = step;
  const isUnseen = loads !== 'off' && UNSEEN.some((code) => code === refusal?.code);
  const note = (): void => {
    if (draft.value === undefined) return;
    send({
      kind: 'add-measurement',
      what,
      value: draft.value * FACTORS[step.unit],
      loads,
      source: 'person',
      ...(loadOhm === undefined ? {} : { loadOhm }),
    });
  };
  return (
    <div class="stack">
      <p class="prompt">{step.asks}</p>
      <p class="hint">{step.how}</p>
      {isSimulated && what === 'ground-offset-volt' ? <SimulatedLights /> : null}
      {step.isBoxAble ? (
        <div>
          <AnswerButton
            class="button button-main"
            disabled={!canMeasure}
            onClick={() => send({ kind: 'capture-measurement', what, loads })}
          >
            {canMeasure ? 'Let the box measure it' : 'The box could measure it, but none is connected'}
          </AnswerButton>
        </div>
      ) : null}
      {isUnseen ? (
        <Note kind="wrong" word="This does not fit">
          <p>{sentence(refusal?.message ?? '')}</p>
          <AnswerButton
            class="button"
            onClick={() => send({ kind: 'capture-measurement', what, loads, saidOn: true })}
          >
            They are on: keep it
          </AnswerButton>
        </Note>
      ) : null}
      <div class="row row-end">
        <NumberField label="What the meter shows" unit={step.unit} draft={draft} onEnter={note} />
        <AnswerButton class="button" disabled={draft.value === undefined} onClick={note}>
          Note it
        </AnswerButton>
      </div>
    </div>
  );
}

/** The drawn vehicle has a switch for its lights, too. */
const SimulatedLights = (): JSX.Element => (
  <div class="row">
    <span class="stamp">SIMULATED</span>
    {[true, false].map((lights) => (
      <button key={String(lights)} type="button" class="button" onClick={() => void changeWorld({ lights })}>
        {lights ? 'Switch the lights on' : 'Switch them off'}
      </button>
    ))}
  </div>
);
