import type { JSX } from 'preact';
import type { Gauge } from '../../../job/gauge';
import { turnOf } from '../../../job/shown-unit';
import type { Desk } from '../../model/desk';
import { useSignal } from '../../model/signal';
import { changeWorld } from '../../model/talk';
import { shownUnit } from '../../model/words';

type BathProps = { readonly desk: Desk; readonly unit: string; readonly gauge: Gauge };

/** On the simulated bench the sender, the bath and its thermometer are simulated too. The box has only the ohms. */
export function SimulatedBath({ desk, unit, gauge }: BathProps): JSX.Element {
  const shown = useSignal(desk.dash)?.thermometer;
  const put = (sender: 'replacement' | 'original') => () => void changeWorld({ bath: { sender } });
  const isHeat = gauge.quantity === 'temperature';
  return (
    <div class="note note-plain">
      <span class="stamp">SIMULATED</span>
      {shown === undefined ? (
        <>
          <p>
            {isHeat ? 'A pan of hot water stands ready.' : 'A full vessel stands ready.'} Which sender goes
            in?
          </p>
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
          {isHeat ? 'The thermometer in the pan' : 'The measure beside the sender'}:{' '}
          <strong class="figure thermometer">
            {(turnOf(gauge.unit, unit)?.value(shown) ?? shown).toFixed(1)} {shownUnit(unit)}
          </strong>
        </p>
      )}
    </div>
  );
}
