import type { JSX } from 'preact';
import type { JobSummary } from '../../job/wire/job-messages';
import type { Verdict } from '../../job/proof/verdict';
import { stations } from '../../job/stations';
import { jobPlace } from '../frame/station-place';
import { Icon } from '../parts/icon';
import { stationAtWork, STATION_WORDS } from '../stations/station-order';
import { dayWords } from '../parts/day-words';
import { isRecorded } from './find-jobs';

const SIGNS: Readonly<Record<Verdict, 'good' | 'bad' | 'doubt'>> = {
  within: 'good',
  outside: 'bad',
  'cannot-tell': 'doubt',
};

/** What can be done with a job from outside. */
export type ShelfDeed = 'archive' | 'unarchive' | 'duplicate' | 'delete';

const DEEDS: Readonly<Record<ShelfDeed, string>> = {
  archive: 'Archive',
  unarchive: 'Back from the archive',
  duplicate: 'Same gauge again',
  delete: 'Delete',
};

type RowProps = {
  readonly job: JobSummary;
  readonly isOpen: boolean;
  readonly onMore: () => void;
  readonly onDeed: (deed: ShelfDeed) => void;
};

/** One job: its curve in small, whose it is, how far it is and what it found; what can be done with it opens below. */
export const JobRow = ({ job, isOpen, onMore, onDeed }: RowProps): JSX.Element => (
  <li>
    <JobLink job={job} />
    <button
      type="button"
      class="rack-more"
      aria-label={`More: ${job.title}, ${job.vehicle}`}
      aria-expanded={isOpen}
      onClick={onMore}
    >
      <Icon of="more" />
    </button>
    {isOpen ? (
      <div class="row rack-deeds" role="group" aria-label={`${job.title}, ${job.vehicle}`}>
        {([job.archived === true ? 'unarchive' : 'archive', 'duplicate', 'delete'] as const).map((deed) => (
          <button key={deed} type="button" class="button" onClick={() => onDeed(deed)}>
            {DEEDS[deed]}
          </button>
        ))}
      </div>
    ) : null}
  </li>
);

function JobLink({ job }: { readonly job: JobSummary }): JSX.Element {
  const isDone = isRecorded(job);
  const at = stationAtWork(job.headlines);
  const told = isDone ? 'proof' : at;
  const line = job.headlines.find((headline) => headline.station === told)?.text ?? '';
  const sign = told === 'proof' && job.verdict !== undefined ? SIGNS[job.verdict] : undefined;
  return (
    <a href={`#/job/${encodeURIComponent(job.jobId)}`}>
      <SmallCurve points={job.points} />
      <span class="rack-name">
        <b>{job.title}</b>
        <span>{job.vehicle}</span>
      </span>
      <span class="rack-when">
        {dayWords(job.lastAt, Date.now())}
        {job.example === true ? <span class="simulated-tag">EXAMPLE</span> : null}
        {job.simulated ? <span class="simulated-tag">SIMULATED</span> : null}
      </span>
      <span class="rack-state">
        <SmallScale place={jobPlace(job.headlines)} />
        <span class={sign === undefined ? '' : `verdict-${sign}`}>
          {sign === undefined ? null : <Icon of={sign} />}
          <em>{isDone ? 'Recorded' : STATION_WORDS[at]}</em> {line}
        </span>
      </span>
      <Icon of="right" />
    </a>
  );
}

const CURVE = { left: 4, width: 76, top: 4, height: 27 } as const;

/** Ohms over the dial, both to their ends: enough to know a gauge again. */
function SmallCurve({ points }: Pick<JobSummary, 'points'>): JSX.Element {
  const share = (value: number, all: readonly number[]): number => {
    const [low, high] = [Math.min(...all), Math.max(...all)];
    return high > low ? (value - low) / (high - low) : 0.5;
  };
  const logs = points.map(([ohm]) => Math.log(Math.max(ohm, 0.1)));
  const readings = points.map(([, reading]) => reading);
  const places = points.map(([, reading], index) => [
    (CURVE.left + CURVE.width * share(reading, readings)).toFixed(1),
    (CURVE.top + CURVE.height * (1 - share(logs[index] ?? 0, logs))).toFixed(1),
  ]);
  return (
    <svg class="small-curve" viewBox="0 0 84 36" aria-hidden="true">
      <path class="small-axes" d="M0.5 0V35.5H84" />
      <path d={places.map(([x, y], index) => `${index === 0 ? 'M' : 'L'}${x ?? ''} ${y ?? ''}`).join('')} />
      {places.map(([x, y], index) => (
        <circle key={index} cx={x} cy={y} r="2" />
      ))}
    </svg>
  );
}

const STEP = 94 / stations.length;

/** The station scale, a hand's breadth wide. */
const SmallScale = ({ place }: { readonly place: number }): JSX.Element => (
  <svg class="small-scale" viewBox="0 0 96 14" aria-hidden="true">
    <path class="small-axes" d="M1 2.5H95" />
    {Array.from({ length: stations.length + 1 }, (_, index) => (
      <path
        key={index}
        class={index <= place ? 'small-done' : 'small-axes'}
        d={`M${(1 + index * STEP).toFixed(1)} 2V${index <= place ? 13 : 8}`}
      />
    ))}
    <path class="small-needle" d={`M${(1 + place * STEP).toFixed(1)} 9l-4-7h8z`} />
  </svg>
);
