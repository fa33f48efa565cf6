import { copyFile, rename } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { deskOf, testBench, type TestBench } from './setup';

const sweepingBench = async (): Promise<TestBench> => {
  const t = await testBench();
  await t.do({ kind: 'start-sweep', choice: { mode: 'step-and-read', refinements: 0, repeats: 0 } });
  await t.read();
  return t;
};

describe('a journal that cannot be written during a sweep', () => {
  it.each([
    [
      'its folder was moved',
      'JOURNAL_GONE',
      (folder: string) => rename(folder, `${folder}-moved`),
      (folder: string) => rename(`${folder}-moved`, folder),
    ],
    [
      'its file was replaced',
      'JOURNAL_REPLACED',
      async (folder: string) => {
        await copyFile(join(folder, 'job.ndjson'), join(folder, 'new'));
        await rename(join(folder, 'new'), join(folder, 'job.ndjson'));
      },
      () => Promise.resolve(),
    ],
  ])(
    'refuses the reading and opens the output: %s; opened again, it goes on',
    async (_, code, happens, mended) => {
      const t = await sweepingBench();
      const stepId = await t.asked();
      const folder = join(t.jobsFolder, t.desk.jobId);
      const before = t.desk.events;
      expect(t.box.isOpen).toBe(false);
      await happens(folder);
      const answer = { kind: 'give-reading', stepId, reading: t.box.look() } as const;
      expect(await t.refused(answer)).toBe(code);
      await t.desk.idle();
      expect(t.box.isOpen).toBe(true);
      expect(t.desk.isDriving).toBe(false);
      expect(t.desk.events).toEqual(before);
      expect(await t.refused({ kind: 'resume-sweep' })).toBe(code);
      expect(t.desk.live.readOnly).toMatch(/then open the job again$/);
      expect(t.desk.live.owedPause).toMatch(/journal could not be written/);
      await mended(folder);
      let frames = 0;
      t.desk.subscribe(() => (frames += 1));
      expect(await deskOf(t.bench.openJob(t.desk.jobId))).toBe(t.desk);
      expect(t.desk.trouble).toBeUndefined();
      // Every screen is told, not only the one that opened it again.
      await t.pass(1_000);
      expect(frames).toBeGreaterThan(0);
      expect(t.desk.live.readOnly).toBeUndefined();
      expect(t.box.isOpen).toBe(true);
      // Nothing is driven until a person says so.
      await t.do({ kind: 'resume-sweep' });
      await t.read();
      expect(t.box.isOpen).toBe(false);
    },
  );
});
