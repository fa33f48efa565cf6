import type { JSX } from 'preact';
import type { Gauge } from '../../../job/schema/gauge';
import { turnOf } from '../../../job/state/shown-unit';
import type { JobConnection } from '../../connection/job-connection';
import { useSignal } from '../../signal';
import { changeWorld } from '../../connection/http';
import { shownUnit } from '../../parts/words';

type BathProps = { readonly job: JobConnection; readonly unit: string; readonly gauge: Gauge };

type Words = Readonly<Record<Gauge['quantity'], string>>;
const READY: Words = {
  temperature: 'A pan of hot water stands ready.',
  fuel: 'A sender with its float at the top stands ready.',
  pressure: 'A pump at full pressure stands ready.',
  other: 'It stands ready at one end.',
};
const BESIDE: Words = {
  temperature: 'The thermometer in the pan',
  fuel: 'The level at the float',
  pressure: 'The master gauge',
  other: 'The measure beside the sender',
};

/** On the simulated bench the sender, the bath and its thermometer are simulated too. The box has only the ohms. */
export function SimulatedBath({ job, unit, gauge }: BathProps): JSX.Element {
  const shown = useSignal(job.dash)?.thermometer;
  const put = (sender: 'replacement' | 'original') => () => void changeWorld({ bath: { sender } });
  return (
    <div class="note note-plain">
      <span class="simulated-tag">SIMULATED</span>
      {shown === undefined ? (
        <>
          <p>{READY[gauge.quantity]} Which sender?</p>
          <div class="row">
            <button type="button" class="button" onClick={put('replacement')}>
              The replacement sender
            </button>
            <button type="button" class="button" onClick={put('original')}>
              The original sender
            </button>
          </div>
        </>
      ) : (
        <p>
          {BESIDE[gauge.quantity]}:{' '}
          <strong class="figure thermometer">
            {(turnOf(gauge.unit, unit)?.value(shown) ?? shown).toFixed(1)} {shownUnit(unit)}
          </strong>
        </p>
      )}
    </div>
  );
}
