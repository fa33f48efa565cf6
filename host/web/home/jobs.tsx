import type { JSX } from 'preact';
import { useMemo, useState } from 'preact/hooks';
import type { JobListing, JobSummary } from '../../job/wire/job-messages';
import type { App } from '../app';
import { Icon } from '../parts/icon';
import { Note } from '../parts/note';
import { foundJobs, isShown, type Shown } from './find-jobs';
import { JobRow } from './job-row';
import { ShelfNews, useShelf } from './shelf';

/** As many as a hand scrolls through before it searches. */
const FIRST_ROWS = 100;

type JobsProps = { readonly app: App; readonly listing: JobListing; readonly isNew: boolean };

/** The rack of jobs: found by anything that stands on them, each with its curve, its state and its finding. */
export function Jobs({ app, listing, isNew }: JobsProps): JSX.Element {
  const { jobs, unreadable } = listing;
  const shelf = useShelf(app);
  const [question, setQuestion] = useState('');
  const [shown, setShown] = useState<Shown>('all');
  const [most, setMost] = useState(FIRST_ROWS);
  const found = useMemo(() => foundJobs(jobs, question), [jobs, question]);
  const wanted = found.filter((job) => isShown(job, shown));
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
      <ShelfNews shelf={shelf} />
      {jobs.length === 0 ? <p class="soft">None yet. The first one stands here once it is begun.</p> : null}
      {jobs.length > 0 && wanted.length === 0 ? (
        <p class="soft" role="status">
          No job has that on it.
        </p>
      ) : null}
      <ul class="rack">
        {wanted.slice(0, most).map((job) => (
          <JobRow
            key={job.jobId}
            job={job}
            isOpen={shelf.openId === job.jobId}
            onMore={() => shelf.open(job.jobId)}
            onDeed={(deed) => void shelf.does(job, deed)}
          />
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
function Finding(props: FindingProps): JSX.Element {
  const { found, question, onQuestion, shown, onShown } = props;
  const many = (shown: Shown): number => found.filter((job) => isShown(job, shown)).length;
  const filters = [
    ['all', 'All', many('all')],
    ['open', 'Open', many('open')],
    ['recorded', 'Recorded', many('recorded')],
    ...(props.found.some((job) => job.archived) ? [['archived', 'Archived', many('archived')] as const] : []),
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
