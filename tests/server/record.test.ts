import { describe, expect, it } from 'vitest';
import { sampleDesk } from '../e2e/sample-job';
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
});
