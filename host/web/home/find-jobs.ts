import type { JobSummary } from '../../job/wire/job-messages';
import { dayWords } from '../parts/day-words';

export type Shown = 'all' | 'open' | 'recorded' | 'archived';

export const isRecorded = (job: JobSummary): boolean => job.headlines.at(-1)?.done === true;

/** What is archived stands in its own list only. */
export const isShown = (job: JobSummary, shown: Shown): boolean =>
  shown === 'archived' || job.archived === true
    ? shown === 'archived' && job.archived === true
    : shown === 'all' || isRecorded(job) === (shown === 'recorded');

const plain = (text: string): string =>
  text
    .toLowerCase()
    .normalize('NFKD')
    .replace(/\p{Diacritic}/gu, '')
    .replace(/\u03c9|\u2126|\bohms?\b/g, ' ohm ');

/** Everything of a job that a search looks in: vehicle, gauge, ohms, dates, findings. */
const searched = (job: JobSummary): string =>
  plain(
    [
      job.title,
      job.vehicle,
      job.jobId,
      job.quantity,
      job.openedAt.slice(0, 'yyyy-mm-dd'.length),
      dayWords(job.lastAt, 0),
      ...job.headlines.map(({ text }) => text),
      ...job.points.map(([ohm]) => `${Number(ohm.toPrecision(4))} ohm`),
    ].join(' '),
  );

/** The jobs in which every word of the question stands, each from the start of a word. */
export function foundJobs(jobs: readonly JobSummary[], question: string): readonly JobSummary[] {
  const words = plain(question)
    .split(/\s+/)
    .filter((word) => word !== '');
  if (words.length === 0) return jobs;
  return jobs.filter((job) => {
    const text = ` ${searched(job)}`;
    return words.every((word) => text.includes(` ${word}`) || text.includes(`(${word}`));
  });
}
