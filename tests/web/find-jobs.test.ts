import { describe, expect, it } from 'vitest';
import { foundJobs } from '../../host/web/home/find-jobs';
import { dayWords } from '../../host/web/parts/day-words';
import type { JobSummary } from '../../host/job/wire/job-messages';

const job = (jobId: string, part: Partial<JobSummary>): JobSummary => ({
  jobId,
  title: 'Coolant temperature gauge',
  vehicle: 'Harrow Six saloon, 1964',
  quantity: 'temperature',
  unit: 'degC',
  simulated: false,
  openedAt: '2026-11-27T08:00:00.000Z',
  lastAt: '2026-11-27T09:00:00.000Z',
  lastN: 3,
  headlines: [],
  points: [],
  ...part,
});

const jobs = [
  job('job-1', {
    headlines: [{ station: 'trim', done: true, text: 'Series, 16 \u03a9; worst error \u00b14 \u00b0C' }],
  }),
  job('job-2', { title: 'Fuel gauge', vehicle: 'Tern 1100 van (1971)', points: [[73.004, 25]] }),
  job('job-3', {
    title: 'Oil pressure gauge',
    vehicle: 'Pelham launch Étoile',
    openedAt: '2025-03-02T08:00:00.000Z',
  }),
];
const found = (question: string): string[] => foundJobs(jobs, question).map(({ jobId }) => jobId);

describe('a search over the jobs', () => {
  it('finds every job without a question', () => expect(found('  ')).toEqual(['job-1', 'job-2', 'job-3']));

  it.each([
    ['vehicle', 'harrow', ['job-1']],
    ['the year in brackets', '1971', ['job-2']],
    ['gauge and vehicle together, in any order', 'tern fuel', ['job-2']],
    ['an accent that nobody types', 'etoile', ['job-3']],
    ['ohms of a part, with the word', '16 ohms', ['job-1']],
    ['ohms with the sign', '16 \u03a9', ['job-1']],
    ['ohms of a reading, as the page rounds them', '73 ohm', ['job-2']],
    ['the date it was opened', '2025-03', ['job-3']],
    ['the number of its card', 'job-2', ['job-2']],
  ])('finds a job by %s', (_, question, wanted) => expect(found(question)).toEqual(wanted));

  it('needs every word, and each from its start', () => {
    expect(found('harrow fuel')).toEqual([]);
    expect(found('arrow')).toEqual([]);
  });
});

describe('the day of a job', () => {
  const now = new Date(2026, 10, 29, 15, 0).getTime();
  it.each([
    [new Date(2026, 10, 29, 14, 20), 'today 14:20'],
    [new Date(2026, 10, 28, 16, 0), '28 Nov'],
    [new Date(2025, 10, 29, 14, 20), '29 Nov 2025'],
  ])('is said as one says it', (then, words) => expect(dayWords(then.toISOString(), now)).toBe(words));
});
