import { cp, mkdtemp, readdir, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { answerShapes } from '../../host/cli/output/schemas';
import { commandLine } from '../support/command-line';
import { LATITUDE, png, SECRETS, telephoneJpeg } from '../support/pictures';

/** Six, of which two pictures make twelve. */
const SUBJECTS = ['vehicle', 'gauge', 'sender', 'wiring', 'as-found', 'as-left'];
const OLD_JOB = fileURLToPath(new URL('../record/fixtures/schema-1', import.meta.url));

describe('job photograph', () => {
  let home = '';
  let job = '';
  beforeEach(async () => {
    home = await mkdtemp(join(tmpdir(), 'needlewright-photograph-'));
    job = join(home, 'job');
    await cp(OLD_JOB, job, { recursive: true });
  });
  afterEach(() => rm(home, { recursive: true }));

  const files = { 'dial.jpg': telephoneJpeg(), 'sender.png': png(), 'notes.jpg': 'these are words' };
  const keep = (...more: readonly string[]) => commandLine(['job', 'photograph', job, ...more], files);
  const pictures = async (): Promise<string[]> =>
    (await readdir(job)).filter((name) => name.startsWith('photograph-')).sort();

  it('keeps the pixels and nothing that the camera wrote, and the record shows it', async () => {
    const { code, out, err } = await keep('dial.jpg', '--of', 'gauge', '--title', 'the dial', '--by', 'Ines');
    expect(err).toBe('');
    expect(code).toBe(0);
    const [name = ''] = await pictures();
    expect(out).toContain(name);
    const bytes = await readFile(join(job, name));
    for (const secret of [...SECRETS, LATITUDE]) expect(bytes.includes(secret)).toBe(false);
    const journal = await readFile(join(job, 'job.ndjson'), 'utf8');
    const last: unknown = JSON.parse(journal.trim().split('\n').at(-1)?.replace(/\t.*$/, '') ?? '');
    expect(last).toMatchObject({ kind: 'photograph-added', by: 'Ines', of: 'gauge', title: 'the dial' });
    const record = await commandLine(['record', job, '--json']);
    expect(record.out).toContain('the dial');
  });

  it('answers in JSON, and takes a PNG too', async () => {
    const { json } = await keep('sender.png', '--of', 'sender', '--json');
    const answer = answerShapes['job-photograph'].strict().parse(json());
    expect([answer.of, answer.file]).toEqual(['sender', (await pictures())[0]]);
  });

  it.each([
    [['notes.jpg'], 'notes.jpg', 'neither those of a JPEG nor those of a PNG'],
    [['none.jpg'], 'none.jpg', 'there is no such file'],
    [['dial.jpg', '--of', 'cat'], '--of cat', 'choose one of'],
    [[], '', 'job photograph DIR FILE.jpg'],
  ])('refuses %j and leaves nothing behind', async (given, place, says) => {
    const { code, err } = await keep(...given);
    expect(code).toBe(2);
    expect(err).toContain(place);
    expect(err).toContain(says);
    expect(await pictures()).toEqual([]);
  });

  it('keeps to what the page keeps: twelve in a job', async () => {
    for (const file of ['sender.png', 'dial.jpg'])
      for (const of of SUBJECTS) expect((await keep(file, '--of', of)).code).toBe(0);
    const { code, err } = await keep('sender.png', '--of', 'other');
    expect(code).toBe(3);
    expect(err).toContain('12');
    expect(await pictures()).toHaveLength(12);
  });

  it('keeps the same picture of the same thing once', async () => {
    await keep('sender.png');
    expect((await keep('sender.png')).out).toContain('already');
    expect(await pictures()).toHaveLength(1);
  });

  it('does not make a job, and says where its options belong', async () => {
    expect(await commandLine(['job', 'photograph', join(home, 'none'), 'dial.jpg'], files)).toMatchObject({
      code: 2,
    });
    expect((await commandLine(['job', job, '--of', 'gauge'])).err).toContain('job photograph DIR FILE');
  });
});
