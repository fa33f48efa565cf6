import type { JSX } from 'preact';
import { useState } from 'preact/hooks';
import type { JobCommand } from '../../../job/schema/commands';
import type { JobState } from '../../../job/state/state';
import { Choice } from '../../parts/choice';
import { Caution } from '../../parts/caution';
import { NumberField, useNumberDraft } from '../../parts/number-field';
import { TextField } from '../../parts/text-field';
import { shownUnit } from '../../parts/words';
import { plateIf } from '../../parts/plate';

type NewSenderProps = {
  readonly state: JobState;
  readonly send: (command: JobCommand) => void;
  /** The trim is to be searched for this one. */
  readonly forTrim?: true;
  /** Beside the work on another sender it is not the next thing to do. */
  readonly isPlate?: boolean;
};

const UNITS: Readonly<Record<JobState['gauge']['quantity'], readonly string[]>> = {
  temperature: ['degC', 'degF'],
  fuel: ['%', 'L', 'US gal', 'imp gal'],
  pressure: ['bar', 'kPa', 'psi'],
  other: ['%'],
};

/** Names a sender; its points come afterwards. */
export function NewSender({ state, send, forTrim, isPlate = true }: NewSenderProps): JSX.Element {
  const [title, setTitle] = useState(state.senders.length === 0 ? 'the sender fitted now' : 'new sender');
  const units = [...new Set([state.gauge.unit, ...UNITS[state.gauge.quantity]])];
  const [unit, setUnit] = useState(state.gauge.unit);
  const tolerance = useNumberDraft();
  const make = (): void => {
    send({
      kind: 'describe-sender',
      title: title.trim() === '' ? `sender ${state.senders.length + 1}` : title,
      model: 'unknown',
      unit,
      ...(forTrim === undefined ? {} : { forTrim }),
      ...(tolerance.value === undefined ? {} : { tolerancePercent: tolerance.value }),
    });
  };
  return (
    <div class="stack">
      <p class="prompt">{state.senders.length === 0 ? 'Which sender is this about?' : 'Another sender'}</p>
      <SenderCaution quantity={state.gauge.quantity} />
      <TextField label="Call it" text={title} onText={setTitle} />
      <Choice
        label="Values in"
        options={units.map((each) => ({ value: each, words: shownUnit(each) }))}
        chosen={unit}
        onChoose={setUnit}
      />
      <NumberField
        label="Tolerance its maker states, if any"
        unit={'\u00b1 % of the ohms'}
        draft={tolerance}
        hint="Drawn as a band: what the next part from the same box may do."
      />
      <div>
        <button
          type="button"
          class={plateIf(isPlate)}
          disabled={tolerance.problem !== undefined || !isTolerance(tolerance.value)}
          onClick={make}
        >
          Give its points
        </button>
      </div>
    </div>
  );
}

const isTolerance = (percent: number | undefined): boolean =>
  percent === undefined || (percent > 0 && percent <= 90);

/** Source of the cautions: common practice of the trade, hot coolant and petrol. */
function SenderCaution({
  quantity,
}: {
  readonly quantity: JobState['gauge']['quantity'];
}): JSX.Element | null {
  if (quantity === 'fuel') {
    return (
      <Caution line="Petrol vapour ignites: keep the tank closed">
        <p>
          Measure from the dash end of the sender wire, ignition off, outdoors or well ventilated. Never make
          or break a circuit at the tank. Battery negative off before a flange is opened.
        </p>
      </Caution>
    );
  }
  if (quantity === 'temperature') {
    return (
      <Caution line="Hot water scalds: the sender comes out of a cold engine only">
        <p>
          A stable pan, long leads, goggles; no sealed vessel and no oil bath. A hot cooling system is under
          pressure.
        </p>
      </Caution>
    );
  }
  return null;
}
