import { appendFile, copyFile, open, rename, type FileHandle } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { setImmediate as nextTurn } from 'node:timers/promises';
import { describe, expect, it, onTestFinished, vi } from 'vitest';
import { deskOf, testBench, type TestBench } from './setup';

const sweepingBench = async (): Promise<TestBench> => {
  const t = await testBench();
  await t.do({ kind: 'start-sweep', choice: { mode: 'step-and-read', refinements: 0, repeats: 0 } });
  await t.read();
  return t;
};

const isFileHandle = (value: unknown): value is FileHandle =>
  typeof value === 'object' && value !== null && 'datasync' in value;

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
      expect(t.desk.live.readOnly).toMatch(/Then open the job again\.$/);
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

  it.each([
    ['its folder was moved', (folder: string) => rename(folder, `${folder}-moved`)],
    [
      'the folder of all jobs was renamed',
      (folder: string) => rename(dirname(folder), `${dirname(folder)}-2`),
    ],
    ['another program wrote into it', (folder: string) => appendFile(join(folder, 'job.ndjson'), 'x')],
  ])('opens the output within seconds, though nobody enters anything: %s', async (_, happens) => {
    const t = await sweepingBench();
    await t.asked();
    await t.pass(60_000);
    expect(t.box.isOpen).toBe(false);
    let frames = 0;
    t.desk.subscribe(() => (frames += 1));
    await happens(join(t.jobsFolder, t.desk.jobId));
    expect(await t.pass(5_000, () => t.box.isOpen)).toBe(true);
    expect(t.desk.isDriving).toBe(false);
    await t.pass(1_000);
    expect(frames).toBeGreaterThan(0);
    expect(t.desk.live.owedPause).toMatch(/the output was opened, since the journal could not be written/);
    expect(t.desk.live.readOnly).toMatch(/job\.ndjson: (it was moved or removed|another program changed it)/);
  });

  it('beside a disk that does not answer, goes on beating and has one look at work', async () => {
    const t = await sweepingBench();
    await t.asked();
    let looks = 0;
    const file = await open('/dev/null');
    const shared = Reflect.getPrototypeOf(file);
    await file.close();
    if (!isFileHandle(shared)) throw new Error('files are made otherwise in this version of Node');
    let answered: () => void = () => undefined;
    const stat = vi.spyOn(shared, 'stat').mockImplementation(() => {
      looks += 1;
      return new Promise((_, reject) => (answered = () => reject(new Error('gone'))));
    });
    onTestFinished(() => stat.mockRestore());
    for (let step = 0; step < 200 && t.clock.step(30_000); step += 1) await nextTurn();
    expect(looks).toBe(1);
    expect(t.box.isOpen).toBe(false);
    answered();
    await t.desk.idle();
    expect(t.box.isOpen).toBe(true);
  });
});
