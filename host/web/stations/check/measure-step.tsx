import type { JSX } from 'preact';
import type { JobCommand } from '../../../job/commands';
import type { CheckStep } from '../../model/check-plan';
import { NumberField, useNumberDraft } from '../../parts/number-field';

type MeasureProps = {
  readonly step: Extract<CheckStep, { kind: 'measure' }>;
  readonly canMeasure: boolean;
  readonly send: (command: JobCommand) => void;
};

const FACTORS: Readonly<Record<MeasureProps['step']['unit'], number>> = { V: 1, mV: 1e-3, ohm: 1 };

/** A figure from a meter, or, where the box can reach it, from the box. */
export function MeasureStep({ step, canMeasure, send }: MeasureProps): JSX.Element {
  const draft = useNumberDraft('', step.unit);
  const note = (): void => {
    if (draft.value === undefined) return;
    send({
      kind: 'add-measurement',
      what: step.what,
      value: draft.value * FACTORS[step.unit],
      loads: step.loads,
      source: 'person',
    });
  };
  return (
    <div class="stack">
      <p class="prompt">{step.asks}</p>
      <p class="hint">{step.how}</p>
      {step.isBoxAble ? (
        <div>
          <button
            type="button"
            class="button button-main"
            disabled={!canMeasure}
            onClick={() => send({ kind: 'capture-measurement', what: step.what, loads: step.loads })}
          >
            {canMeasure ? 'Let the box measure it' : 'The box could measure it, but none is connected'}
          </button>
        </div>
      ) : null}
      <div class="row row-end">
        <NumberField label="What the meter shows" unit={step.unit} draft={draft} onEnter={note} />
        <button type="button" class="button" disabled={draft.value === undefined} onClick={note}>
          Note it
        </button>
      </div>
    </div>
  );
}
