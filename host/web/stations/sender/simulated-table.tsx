import type { JSX } from 'preact';
import type { JobState } from '../../../job/state/state';
import type { SimulatedGauge } from '../../../job/wire/host-messages';
import type { App } from '../../app';
import type { JobConnection } from '../../connection/job-connection';
import { useSignal } from '../../signal';
import { simulatedGaugeFor } from '../../dial/templates';
import { plateIf } from '../../parts/plate';

type TableProps = {
  readonly app: App;
  readonly job: JobConnection;
  readonly state: JobState;
  readonly sender: JobState['senders'][number];
  /** Nothing is known of this sender yet. */
  readonly isPlate: boolean;
};

/** The simulated vehicle of this job, whose senders are known; undefined on a real bench. */
export function useSimulatedTable(app: App, state: JobState): SimulatedGauge | undefined {
  const host = useSignal(app.host);
  return state.simulated
    ? simulatedGaugeFor(state.printed ?? state.gauge, host?.simulatedGauges ?? [])
    : undefined;
}

/** The simulated vehicle knows the tables of both its senders: one press instead of a paste. */
export function SimulatedTable({ app, job, state, sender, isPlate }: TableProps): JSX.Element | null {
  const gauge = useSimulatedTable(app, state);
  if (gauge === undefined) return null;
  const take = (which: 'replacementSender' | 'originalSender', words: string) => () =>
    void job.send({
      kind: 'import-sender-points',
      senderId: sender.senderId,
      source: 'datasheet',
      from: `SIMULATED ${words}`,
      unit: gauge.unit,
      points: gauge[which].map(({ value, ohm }, index) => ({ row: index + 1, value, resistanceOhm: ohm })),
    });
  return (
    <div class="note note-plain">
      <span class="simulated-tag">SIMULATED</span>
      <p>The simulated vehicle comes with the tables of its senders.</p>
      <div class="row">
        <button
          type="button"
          class={plateIf(isPlate)}
          onClick={take('replacementSender', 'replacement sender')}
        >
          Take the replacement sender&rsquo;s table
        </button>
        <button type="button" class="button" onClick={take('originalSender', 'original sender')}>
          Take the original sender&rsquo;s table
        </button>
      </div>
    </div>
  );
}
