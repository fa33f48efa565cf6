import type { JSX } from 'preact';
import type { JobSummary } from '../../job/wire/job-messages';
import { stationAtWork, STATION_WORDS } from '../stations/station-order';
import type { App } from '../app';
import { useSignal } from '../signal';
import { Note } from '../parts/note';

/** The rack of job cards: open one, or start a new one. */
export function Jobs({ app }: { readonly app: App }): JSX.Element {
  const listing = useSignal(app.jobs);
  const trouble = useSignal(app.trouble);
  const greeting = useSignal(app.greeting);
  return (
    <div class="stack">
      {trouble === undefined ? null : (
        <Note kind="wrong">
          <p>{trouble.message}</p>
        </Note>
      )}
      <div class="row">
        <a class="button button-main" href="#/new">
          Start a job
        </a>
        {greeting?.isHost === true ? (
          <a class="button button-plain" href="#/devices">
            Devices
          </a>
        ) : null}
      </div>
      {listing === undefined ? <p class="soft">Looking for job sheets.</p> : null}
      {listing !== undefined && listing.jobs.length > 0 ? <h2>Job sheets</h2> : null}
      <ul class="rack">
        {listing?.jobs.map((job) => (
          <JobRow key={job.jobId} job={job} />
        ))}
      </ul>
      {listing?.unreadable.map((each) => (
        <Note key={each.folder} kind="caution" word={each.folder}>
          <p>{each.message}</p>
        </Note>
      ))}
    </div>
  );
}

function JobRow({ job }: { readonly job: JobSummary }): JSX.Element {
  const at = stationAtWork(job.headlines);
  const line = job.headlines.find((headline) => headline.station === at)?.text ?? '';
  return (
    <li>
      <a href={`#/job/${encodeURIComponent(job.jobId)}`}>
        <strong>{job.title}</strong>
        <span>{job.vehicle}</span>
        <span class="soft">
          {STATION_WORDS[at]}: {line}
        </span>
        {job.simulated ? <span class="stamp">SIMULATED</span> : null}
      </a>
    </li>
  );
}
