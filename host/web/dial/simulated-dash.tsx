import type { JSX } from 'preact';
import { useState } from 'preact/hooks';
import type { JobConnection } from '../connection/job-connection';
import { useSignal } from '../signal';
import { Dial } from './dial';
import { LOWEST_FRACTION, heldBetweenStops, type DialFace } from './dial-geometry';

/** The drawn dash of the simulated bench: what a person would see in the vehicle. It is looked at, never measured. */
export function SimulatedDash({
  job,
  face,
}: {
  readonly job: JobConnection;
  readonly face: DialFace;
}): JSX.Element {
  const look = useSignal(job.dash);
  const [isLarge, setLarge] = useState(false);
  return (
    <aside class={`dash ${isLarge ? 'dash-large' : ''}`} aria-label="The simulated dash">
      <div class="dash-words">
        <span>
          {look === undefined
            ? 'The simulated dash is off.'
            : 'The simulated dash: look here, as you would in the car.'}
        </span>
        <button
          type="button"
          class="button button-plain dash-size"
          aria-pressed={isLarge}
          onClick={() => setLarge(!isLarge)}
        >
          {isLarge ? 'Smaller dash' : 'Larger dash'}
        </button>
      </div>
      <Dial
        face={face}
        fraction={heldBetweenStops(look?.angleFraction ?? LOWEST_FRACTION)}
        label="Needle of the simulated gauge"
        valueText="look at it; it is not read out"
      />
    </aside>
  );
}
