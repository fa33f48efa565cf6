import { describe, expect, it } from 'vitest';
import { sampleDesk, sampleGauge } from '../e2e/sample-job';
import { hasPdfReaders, readPdf } from '../support/pdf-readers';
import { openTestHost } from './support';

describe('the record by HTTP', () => {
  it('comes as sheets and as files, of a job that is there', async () => {
    const host = await openTestHost();
    const desk = await sampleDesk(host.bench);
    const ask = (path: string) => fetch(`http://${host.place}/api/jobs/${path}`);
    const sheets: unknown = await (await ask(`${desk.jobId}/record`)).json();
    expect(sheets).toEqual({ sheets: [expect.stringContaining('<svg'), expect.stringContaining('<svg')] });
    for (const form of ['a4', 'letter', 'label']) {
      const file = await ask(`${desk.jobId}/record/${form}`);
      expect(file.headers.get('content-type')).toContain('application/pdf');
      expect(file.headers.get('content-disposition')).toMatch(/^attachment; filename="[\w.-]+\.pdf"$/);
      expect(
        Buffer.from(await file.arrayBuffer())
          .subarray(0, 5)
          .toString(),
      ).toBe('%PDF-');
    }
    expect((await ask(`${desk.jobId}/record/a3`)).status).toBe(404);
    expect((await ask('nowhere/record')).status).toBe(404);
    await host.close();
  });

  it('comes as a file of a whole cluster, too', async () => {
    const host = await openTestHost();
    const opening = { gauge: sampleGauge, vehicle: 'Harrow Six', place: 'bench' as const, simulated: false };
    const { clusterId } = await host.bench.clusters.begin({
      title: 'Two of them',
      vehicle: 'Harrow Six',
      feed: {},
      simulated: false,
      gauges: ['left', 'right'].map((place) => ({ place, opening: { ...opening, title: place } })),
    });
    const ask = (path: string) => fetch(`http://${host.place}/api/clusters/${path}`);
    for (const paper of ['a4', 'letter']) {
      const file = await ask(`${clusterId}/sheet/${paper}`);
      expect(file.headers.get('content-disposition')).toBe(`attachment; filename="${clusterId}-cluster.pdf"`);
      const bytes = Buffer.from(await file.arrayBuffer());
      expect(bytes.subarray(0, 5).toString()).toBe('%PDF-');
      if (hasPdfReaders()) expect(JSON.stringify(readPdf(bytes))).toContain('Harrow');
    }
    expect((await ask(`${clusterId}/sheet/a3`)).status).toBe(404);
    expect((await ask('nowhere/sheet/a4')).status).toBe(404);
    await host.close();
  });
});
