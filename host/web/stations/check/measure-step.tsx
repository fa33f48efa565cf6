import type { JSX } from 'preact';
import { useState } from 'preact/hooks';
import type { MeasureStep as Step } from './check-measures';
import type { JobConnection } from '../../connection/job-connection';
import { changeWorld } from '../../connection/http';
import { NumberField, useNumberDraft } from '../../parts/number-field';
import { Note } from '../../parts/note';
import { AnswerButton } from '../../parts/one-press';
import { asSentence } from '../../../words/sentence';

type MeasureProps = {
  readonly step: Step;
  readonly canMeasure: boolean;
  readonly isSimulated: boolean;
  readonly job: Pick<JobConnection, 'send' | 'refusal'>;
};

const FACTORS: Readonly<Record<MeasureProps['step']['unit'], number>> = { V: 1, mV: 1e-3, ohm: 1 };

/** The box saw no change where loads were said to be on. */
const UNSEEN = ['LOADS_NOT_SEEN', 'OFF_NOT_MEASURED'] as const;

/** A figure from a meter, or, where the box can reach it, from the box. */
export function MeasureStep({ step, canMeasure, isSimulated, job }: MeasureProps): JSX.Element {
  const draft = useNumberDraft('', step.unit);
  const { what, loads, loadOhm } = step;
  const [unseen, setUnseen] = useState<string | undefined>(undefined);
  const capture = async (saidOn?: true): Promise<void> => {
    const told = saidOn === undefined ? {} : { saidOn };
    const outcome = await job.send({ kind: 'capture-measurement', what, loads, ...told });
    if (outcome.kind !== 'refused' || !UNSEEN.some((code) => code === outcome.code)) return;
    // It is asked here, where the hands are, and need not be told twice.
    job.refusal.set(undefined);
    setUnseen(outcome.message);
  };
  const note = (): void => {
    if (draft.value === undefined) return;
    void job.send({
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
          <AnswerButton class="button button-main" disabled={!canMeasure} onClick={() => void capture()}>
            {canMeasure ? 'Let the box measure it' : 'The box could measure it, but none is connected'}
          </AnswerButton>
        </div>
      ) : null}
      {unseen === undefined ? null : (
        <Note kind="wrong" word="This does not fit">
          <p>{asSentence(unseen)}</p>
          <div>
            <AnswerButton class="button" onClick={() => void capture(true)}>
              They are on: keep it
            </AnswerButton>
          </div>
        </Note>
      )}
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
    <span class="simulated-tag">SIMULATED</span>
    {[true, false].map((lights) => (
      <button key={String(lights)} type="button" class="button" onClick={() => void changeWorld({ lights })}>
        {lights ? 'Switch the lights on' : 'Switch them off'}
      </button>
    ))}
  </div>
);
