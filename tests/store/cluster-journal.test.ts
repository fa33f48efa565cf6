import { appendFile, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { foldCluster } from '../../host/job';
import { createCluster, listClusters, openCluster } from '../../host/store';
import { answered } from '../support/answer';
import { scratchFolder } from './scratch';

const AT = '2026-11-30T12:00:00.000Z';
const opening = {
  title: 'Dash of four',
  vehicle: 'Harrow Six saloon (1964)',
  simulated: false,
  feed: { volt: 10 },
};

const newCluster = async () => {
  const folder = await scratchFolder();
  const { clusterId } = answered(await createCluster(folder, opening, { atIso: AT, by: 'test' }));
  const journal = answered(await openCluster(folder, clusterId, () => AT));
  return { folder, clusterId, journal, path: join(journal.folder, 'cluster.ndjson') };
};

describe('the journal of a cluster', () => {
  it('keeps which gauges belong together and which box is on which; a box is on one gauge at a time', async () => {
    const { folder, clusterId, journal } = await newCluster();
    const added = await journal.append(
      [
        { kind: 'gauge-added', jobId: 'fuel', place: 'left' },
        { kind: 'gauge-added', jobId: 'oil', place: 'right' },
        { kind: 'berth-assigned', jobId: 'fuel', boxSerial: 1041, how: 'roll-call' },
        { kind: 'berth-assigned', jobId: 'oil', boxSerial: 1041, how: 'by-hand' },
        { kind: 'gauge-removed', jobId: 'fuel', because: 'its window is cracked' },
      ],
      'test',
    );
    expect(added).toBe('appended');
    await journal.close();
    const [listed] = await listClusters(folder);
    const events = listed?.events;
    if (events === undefined || 'kind' in events) throw new Error('not readable');
    expect(foldCluster(events)).toMatchObject({
      clusterId,
      title: opening.title,
      gauges: [{ jobId: 'oil', place: 'right', boxSerial: 1041 }],
    });
  });

  it('loses what was being written when the power went, and nothing that was answered', async () => {
    const { folder, clusterId, journal, path } = await newCluster();
    await journal.append([{ kind: 'note', text: 'kept' }], 'test');
    await journal.close();
    await appendFile(path, '{"n":3,"kind":"no');
    const again = answered(await openCluster(folder, clusterId, () => AT));
    expect(again.events.map(({ kind }) => kind)).toEqual(['cluster-opened', 'note']);
    expect(await again.append([{ kind: 'note', text: 'next' }], 'test')).toBe('appended');
    await again.close();
    expect((await readFile(path, 'utf8')).trim().split('\n')).toHaveLength(3);
  });

  it('is written by one program at a time', async () => {
    const { folder, clusterId, journal } = await newCluster();
    expect(await openCluster(folder, clusterId, () => AT)).toMatchObject({ code: 'JOB_IN_USE' });
    await journal.close();
  });

  it('refuses a line that was changed, and what is no event', async () => {
    const { folder, clusterId, journal, path } = await newCluster();
    expect(
      await journal.append([{ kind: 'rest-chosen', jobId: 'x', resistanceOhm: -1 }], 'test'),
    ).toMatchObject({
      code: 'EVENT_UNREADABLE',
    });
    await journal.close();
    await writeFile(path, (await readFile(path, 'utf8')).replace('Dash of four', 'Dash of five'));
    expect(await openCluster(folder, clusterId, () => AT)).toMatchObject({ code: 'JOURNAL_DAMAGED' });
  });
});
