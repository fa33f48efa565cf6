import type { JSX } from 'preact';
import { useMemo, useState } from 'preact/hooks';
import type { JobListing, JobSummary } from '../../job/wire/job-messages';
import type { Verdict } from '../../job/proof/verdict';
import { stations } from '../../job/stations';
import { jobPlace } from '../frame/station-place';
import { Icon } from '../parts/icon';
import { Note } from '../parts/note';
import { stationAtWork, STATION_WORDS } from '../stations/station-order';
import { dayWords, foundJobs, isRecorded, type Shown } from './find-jobs';

/** As many as a hand scrolls through before it searches. */
const FIRST_ROWS = 100;

/** The rack of jobs: found by anything that stands on them, each with its curve, its state and its finding. */
export function Jobs({
  listing,
  isNew,
}: {
  readonly listing: JobListing;
  readonly isNew: boolean;
}): JSX.Element {
  const { jobs, unreadable } = listing;
  const [question, setQuestion] = useState('');
  const [shown, setShown] = useState<Shown>('all');
  const [most, setMost] = useState(FIRST_ROWS);
  const found = useMemo(() => foundJobs(jobs, question), [jobs, question]);
  const wanted = found.filter((job) => shown === 'all' || isRecorded(job) === (shown === 'recorded'));
  return (
    <section class="jobs" aria-label="Jobs">
      <div class="jobs-head">
        {isNew ? (
          <h2>Jobs</h2>
        ) : (
          <a class="button button-main" href="#/new">
            Start a job
          </a>
        )}
        {jobs.length === 0 ? null : (
          <Finding
            found={found}
            question={question}
            onQuestion={setQuestion}
            shown={shown}
            onShown={setShown}
          />
        )}
      </div>
      {jobs.length === 0 ? <p class="soft">None yet. The first one stands here once it is begun.</p> : null}
      {jobs.length > 0 && wanted.length === 0 ? (
        <p class="soft" role="status">
          No job has that on it.
        </p>
      ) : null}
      <ul class="rack">
        {wanted.slice(0, most).map((job) => (
          <JobRow key={job.jobId} job={job} />
        ))}
      </ul>
      {wanted.length > most ? (
        <button type="button" class="button button-plain" onClick={() => setMost(wanted.length)}>
          {wanted.length - most} more
        </button>
      ) : null}
      {unreadable.map((each) => (
        <Note key={each.folder} kind="wrong" word={each.folder}>
          <p>{each.message}</p>
        </Note>
      ))}
    </section>
  );
}

type FindingProps = {
  readonly found: readonly JobSummary[];
  readonly question: string;
  readonly onQuestion: (question: string) => void;
  readonly shown: Shown;
  readonly onShown: (shown: Shown) => void;
};

/** One field that looks in everything, and how many of what was found are open. */
function Finding({ found, question, onQuestion, shown, onShown }: FindingProps): JSX.Element {
  const open = found.filter((job) => !isRecorded(job)).length;
  const filters = [
    ['all', 'All', found.length],
    ['open', 'Open', open],
    ['recorded', 'Recorded', found.length - open],
  ] as const;
  return (
    <>
      <div class="find">
        <Icon of="search" />
        <input
          type="search"
          aria-label="Search jobs"
          placeholder="Vehicle, gauge, ohms, date"
          value={question}
          onInput={(event) => onQuestion(event.currentTarget.value)}
        />
      </div>
      <div class="filter" role="group" aria-label="Which jobs">
        {filters.map(([value, words, count]) => (
          <button key={value} type="button" aria-pressed={shown === value} onClick={() => onShown(value)}>
            {words} {count}
          </button>
        ))}
      </div>
    </>
  );
}

const SIGNS: Readonly<Record<Verdict, 'good' | 'bad' | 'doubt'>> = {
  within: 'good',
  outside: 'bad',
  'cannot-tell': 'doubt',
};

function JobRow({ job }: { readonly job: JobSummary }): JSX.Element {
  const isDone = isRecorded(job);
  const at = stationAtWork(job.headlines);
  const told = isDone ? 'proof' : at;
  const line = job.headlines.find((headline) => headline.station === told)?.text ?? '';
  const sign = told === 'proof' && job.verdict !== undefined ? SIGNS[job.verdict] : undefined;
  return (
    <li>
      <a href={`#/job/${encodeURIComponent(job.jobId)}`}>
        <SmallCurve points={job.points} />
        <span class="rack-name">
          <b>{job.title}</b>
          <span>{job.vehicle}</span>
        </span>
        <span class="rack-when">
          {dayWords(job.lastAt, Date.now())}
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
    </li>
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
