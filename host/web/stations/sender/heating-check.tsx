import type { JSX } from 'preact';
import type { JobState } from '../../../job/state/state';
import type { SenderWatchLive } from '../../../job/wire/job-messages';
import type { JobConnection } from '../../connection/job-connection';
import { useSignal } from '../../signal';
import { shownUnit } from '../../parts/words';
import { NumberField, useNumberDraft } from '../../parts/number-field';
import { printed } from '../../../words/notation';
import { saidRefusal } from '../../../words/refusal';

type HeatingProps = {
  readonly watch: SenderWatchLive;
  readonly state: JobState;
  readonly sender: JobState['senders'][number];
  readonly job: JobConnection;
};

/** An ohmmeter warms a sender less than the gauge does: two currents in one bath tell how much that matters. */
export function HeatingCheck({ watch, state, sender, job }: HeatingProps): JSX.Element {
  const value = useNumberDraft();
  const findings = useSignal(job.findings.findings);
  const heating = findings?.senders.find((each) => each.senderId === sender.senderId)?.heating;
  const start = (): void => {
    if (value.value === undefined) return;
    void job.send({ kind: 'check-self-heating', senderId: sender.senderId, value: value.value });
  };
  const known = state.selfHeating.some((each) => each.senderId === sender.senderId);
  return (
    <details>
      <summary>Does its own current warm this sender?</summary>
      <div class="stack">
        <p class="hint">
          In a bath that stands still and is stirred: the box measures with 0.5 mA, then with 10 mA, then with
          0.5 mA again; about a minute and a half.
        </p>
        {watch.status === 'heating' ? (
          <label>
            Measuring at two currents{' '}
            <progress max={1} value={watch.heatingFraction ?? 0} aria-label="How far the check is" />
          </label>
        ) : (
          <div class="row row-end">
            <NumberField
              label="The bath stands at"
              unit={shownUnit(sender.unit)}
              draft={value}
              onEnter={start}
            />
            <button type="button" class="button" disabled={value.value === undefined} onClick={start}>
              Check at two currents
            </button>
          </div>
        )}
        {known && heating !== undefined ? (
          <p role="status" class="figure" data-heating={heating.kind}>
            {heating.kind === 'refused' ? saidRefusal(heating, printed) : heatingWords(heating, sender.unit)}
          </p>
        ) : null}
      </div>
    </details>
  );
}

type Heating = {
  readonly milliwattPerKelvin: number;
  readonly uncertaintyMilliwattPerKelvin: number;
  readonly gaugeMilliamp?: number;
  readonly shift?: number;
};

const heatingWords = (heating: Heating, unit: string): string => {
  const sheds = `It sheds ${heating.milliwattPerKelvin.toFixed(0)} \u00b1 ${(2 * heating.uncertaintyMilliwattPerKelvin).toFixed(0)} mW for each kelvin above its bath (95 %).`;
  if (heating.gaugeMilliamp === undefined || heating.shift === undefined)
    return `${sheds} What that means in the car is known after the sweep, which measures the gauge\u2019s own current.`;
  return `${sheds} The gauge sends ${heating.gaugeMilliamp.toFixed(0)} mA: the sender then stands ${heating.shift.toFixed(1)} ${shownUnit(unit)} above its bath, and the gauge reads that much high.`;
};
