import { describe, expect, it } from 'vitest';
import { foldCluster, foldJob, type ClusterBody, type ClusterEvent, type EventBody } from '../../host/job';
import { clusterPdf, type ClusterRecord } from '../../host/record/cluster-file';
import { hasPdfReaders, readPdf } from '../support/pdf-readers';

const AT = '2026-03-04T10:00:00.000Z';
const marks = [
  { label: 'E', reading: 0, angleFraction: 0 },
  { label: 'F', reading: 100, angleFraction: 1 },
];

const jobOf = (jobId: string, more: readonly EventBody[]) => {
  const opened: EventBody = {
    kind: 'job-opened',
    schema: 1,
    jobId,
    title: `Fuel gauge ${jobId}`,
    gauge: { quantity: 'fuel', mechanism: 'thermal', unit: '%', marks },
    vehicle: 'Harrow Six saloon (1964)',
    place: 'bench',
    simulated: false,
  };
  const job = foldJob([opened, ...more].map((body, at) => ({ n: at + 1, at: AT, by: 'test', ...body })));
  if (job === undefined) throw new Error('no job');
  return job;
};

const PLACES = ['left', 'right'] as const;

const record = (more: readonly ClusterBody[] = []): ClusterRecord => {
  const bodies: ClusterBody[] = [
    {
      kind: 'cluster-opened',
      schema: 1,
      clusterId: 'cluster-7',
      title: 'Two tanks',
      vehicle: 'Harrow Six saloon (1964)',
      simulated: false,
      feed: { volt: 10, fuseAmpere: 2 },
    },
    ...PLACES.map((place): ClusterBody => ({ kind: 'gauge-added', jobId: `job-${place}`, place })),
    ...more,
  ];
  const events = bodies.map((body, at): ClusterEvent => ({ n: at + 1, at: AT, by: 'test', ...body }));
  const state = foldCluster(events);
  if (state === undefined) throw new Error('no cluster');
  const condition = (resistanceOhm: number) => ({
    readings: 5,
    marks: [{ reading: 100, resistanceOhm, expandedUncertaintyOhm: 0.4 }],
  });
  const moved: EventBody = { kind: 'adjustment-made', what: 'pointer-moved', movedBy: 2 };
  return {
    state,
    gauges: [
      { place: 'left', job: jobOf('job-left', [moved]), found: condition(31.2), left: condition(33.4) },
      { place: 'right', job: jobOf('job-right', []), found: undefined, left: undefined },
    ],
  };
};

const textOf = (bytes: Uint8Array): string =>
  readPdf(bytes)
    .pages.map((page) => page.text)
    .join('\n');

describe.runIf(hasPdfReaders())('the sheet of a cluster as PDF', () => {
  it('has both columns of every gauge, what was done between, feed, records and neighbours; the same bytes each time', async () => {
    const cell = {
      movedJobId: 'job-left',
      watchedJobId: 'job-right',
      percentOfArc: -0.31,
      uPercent: 0.05,
      commonOhm: { value: 0.21, u: 0.01 },
    };
    const made = record([{ kind: 'neighbours-measured', cells: [cell] }]);
    const [one, other] = await Promise.all([clusterPdf(made, 'a4', '1'), clusterPdf(made, 'a4', '1')]);
    expect(Buffer.compare(one, other)).toBe(0);
    const { complaints } = readPdf(one);
    const text = textOf(one);
    expect(complaints).toBe('');
    for (const said of ['Two tanks', '10 V, fuse 2 A', 'job-right', 'As found', 'As left', '33.40', '31.20'])
      expect(text).toContain(said);
    expect(text).toContain('pointer moved, by 2 %');
    expect(text).toMatch(/\u22120\.31 %\s+0\.10 %/);
    // The right one was swept by nobody: every mark says so, twice.
    expect(text.match(/not measured/g)?.length).toBeGreaterThanOrEqual(4);
  });

  it('says that neighbours were not measured, and SIMULATED across the sheet where it was', async () => {
    const made = record();
    const text = textOf(await clusterPdf(made, 'letter', '1'));
    expect(text).toContain('What the gauges do to each other');
    const simulated = textOf(
      await clusterPdf({ ...made, state: { ...made.state, simulated: true } }, 'a4', '1'),
    );
    expect(simulated).toContain('SIMULATED');
    expect(text).not.toContain('SIMULATED');
  });
});
