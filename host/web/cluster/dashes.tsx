import type { JSX } from 'preact';
import { useMemo } from 'preact/hooks';
import { countedReadings } from '../../job/state/views';
import type { JobConnection } from '../connection/job-connection';
import { Dial } from '../dial/dial';
import { faceOf, fractionFromReading, heldBetweenStops, LOWEST_FRACTION } from '../dial/dial-geometry';
import { useSignal } from '../signal';
import { quantityOf } from './gauge-words';

/** The cluster as it lies before one: every dial at its place. Simulated needles move by themselves. */
export const Dashes = ({ jobs }: { readonly jobs: readonly JobConnection[] }): JSX.Element => (
  <ol class="panel dashes" aria-label="The gauges at their places">
    {jobs.map((job) => (
      <DashAt key={job.jobId} job={job} />
    ))}
  </ol>
);

function DashAt({ job }: { readonly job: JobConnection }): JSX.Element | null {
  const state = useSignal(job.state);
  const look = useSignal(job.dash);
  const gauge = state?.printed ?? state?.gauge;
  const face = useMemo(() => (gauge === undefined ? undefined : faceOf(gauge)), [gauge]);
  if (state === undefined || face === undefined) return null;
  const last = countedReadings(state).at(-1);
  return (
    <li data-place={job.place}>
      <Dial
        face={face}
        fraction={state.simulated ? heldBetweenStops(look?.angleFraction ?? LOWEST_FRACTION) : undefined}
        lastFraction={
          state.simulated || last === undefined
            ? undefined
            : fractionFromReading(state.gauge.marks, last.reading)
        }
        label={`${quantityOf(state)}, ${job.place ?? ''}`}
        valueText={state.simulated ? 'look at it; it is not read out' : 'as it was read last'}
      />
      <p>
        <b>{quantityOf(state)}</b> <span>{job.place}</span>
      </p>
    </li>
  );
}
