import type { JSX } from 'preact';
import { stations, type Headline, type Station } from '../../job/stations';
import { isForSomethingElse } from '../parts/presses';
import { STATION_WORDS } from '../stations/station-order';

type ScaleProps = {
  readonly headlines: readonly Headline[];
  /** The same in a few words, which is all that has room under a mark. */
  readonly findings: Readonly<Record<Station, string>>;
  /** The station that is shown. */
  readonly shown: Station;
  /** How far the job is, in stations: 1.36 is a third of the way through the second. */
  readonly place: number;
  readonly onOpen: (station: Station) => void;
};

/** The job as an edgewise gauge: a mark a station, under each what it found, and a needle for how far the job is. */
export const StationScale = ({ headlines, findings, shown, place, onOpen }: ScaleProps): JSX.Element => (
  <nav class="wrap scale" aria-label="Stations">
    <ol>
      {headlines.map(({ station, done, text }) => (
        <li key={station} class={done ? 'scale-done' : ''}>
          <button
            type="button"
            aria-current={station === shown ? 'step' : undefined}
            onClick={(event) =>
              isForSomethingElse(event, event.currentTarget) ? undefined : onOpen(station)
            }
          >
            <span class="scale-name">{STATION_WORDS[station]}</span>
            <span class="scale-finding" title={text}>
              {findings[station]}
            </span>
            <span class="unseen">{done ? 'done' : 'to do'}</span>
          </button>
        </li>
      ))}
    </ol>
    <span class="scale-needle" aria-hidden="true">
      <i style={{ left: `${((100 * place) / stations.length).toFixed(2)}%` }} />
    </span>
  </nav>
);
