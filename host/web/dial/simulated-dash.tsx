import type { JSX } from 'preact';
import type { Gauge } from '../../job/gauge';
import type { Desk } from '../model/desk';
import { useSignal } from '../model/signal';
import { Dial } from './dial';
import { LOWEST_FRACTION, heldBetweenStops, type DialFace } from './dial-geometry';

/** The drawn dash of the simulated bench: what a person would see in the vehicle. It is looked at, never measured. */
export function SimulatedDash(props: {
  readonly desk: Desk;
  readonly face: DialFace;
  readonly gauge: Gauge;
}): JSX.Element {
  const look = useSignal(props.desk.dash);
  return (
    <aside class="dash" aria-label="The simulated dash">
      <div class="dash-words">
        <span class="stamp">SIMULATED</span>
        <span>
          {look === undefined
            ? 'The simulated dash is off.'
            : 'The dash: look here, as you would in the car.'}
        </span>
      </div>
      <Dial
        face={props.face}
        fraction={heldBetweenStops(look?.angleFraction ?? LOWEST_FRACTION)}
        label="Needle of the simulated gauge"
        valueText="look at it; it is not read out"
      />
    </aside>
  );
}
