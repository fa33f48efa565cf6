import { execFile, execFileSync } from 'node:child_process';
import { chmod, mkdir, readFile, readdir, rmdir, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { promisify } from 'node:util';
import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import { jobFolder, jobsPlace, JobList, JOURNAL_FILE, openJournal, readJournal } from '../../host/store';
import { fileTrouble } from '../../host/store/file-trouble';
import { jobWith, journal, journalText, nowIso } from './sample-journal';
import { builtProgram } from './programs';
import { hopedFor, scratchFolder } from './scratch';

const NOBODY = 65_534;
const told = z.object({
  events: z.number().optional(),
  code: z.string().optional(),
  message: z.string().optional(),
  append: z.string().optional(),
});

/** Runs a program on a folder as a user who does not own it: rights bind everybody but the administrator. */
async function asStranger(name: string, folder: string): Promise<unknown> {
  const place = await scratchFolder();
  await chmod(place, 0o755);
  const program = await builtProgram(name, place);
  const asOther = process.getuid?.() === 0 ? { uid: NOBODY, gid: NOBODY } : {};
  const { stdout } = await promisify(execFile)(process.execPath, [program, folder], asOther);
  return JSON.parse(stdout);
}

const openAsStranger = async (folder: string): Promise<z.infer<typeof told>> =>
  told.parse(await asStranger('open-job-program', folder));

describe('a jobs folder', () => {
  const place = z.object({
    kind: z.string(),
    readOnly: z.string().optional(),
    message: z.string().optional(),
  });
  const seenBy = async (folder: string, mode: number): Promise<z.infer<typeof place>> => {
    await chmod(folder, mode);
    const found = place.parse(await asStranger('jobs-place-program', folder));
    await chmod(folder, 0o755);
    return found;
  };

  it('that takes no new file is told as read only, one that cannot even be read is refused', async () => {
    const folder = await scratchFolder();
    expect(await seenBy(folder, 0o777)).toEqual({ kind: 'jobs-place' });
    const readOnly = await seenBy(folder, 0o555);
    expect(readOnly.readOnly).toMatch(
      /: read only: its jobs can be looked at, .*may not write there, EACCES\)/,
    );
    expect(readOnly.readOnly).toMatch(/choose another folder with --jobs$/);
    expect(await seenBy(folder, 0o000)).toMatchObject({ kind: 'refused' });
    expect(await readdir(folder)).toEqual([]);
  });

  it('that is a file, or lies below one, is refused; one that is not there is made', async () => {
    const folder = await scratchFolder();
    await writeFile(join(folder, 'file'), '');
    for (const name of ['file', 'file/jobs'])
      expect(await jobsPlace(join(folder, name))).toMatchObject({ code: 'JOBS_FOLDER' });
    expect(await jobsPlace(join(folder, 'new/jobs'))).toEqual({ kind: 'jobs-place' });
    expect(await readdir(join(folder, 'new/jobs'))).toEqual([]);
  });
});

describe('a job that cannot be written', () => {
  it.each([
    {
      what: 'its folder takes no new file',
      folderMode: 0o555,
      fileMode: 0o666,
      code: 'JOB_NOT_WRITABLE',
      file: 'job.lock',
    },
    {
      what: 'its journal may only be read',
      folderMode: 0o777,
      fileMode: 0o444,
      code: 'JOURNAL_NOT_WRITABLE',
      file: JOURNAL_FILE,
    },
  ])(
    'is read all the same, and says which file, why and what helps: $what',
    async ({ folderMode, fileMode, code, file }) => {
      const folder = await jobWith(journalText);
      // Where the test's user is the stranger himself, the journal must not be his to write either.
      await chmod(join(folder, JOURNAL_FILE), process.getuid?.() === 0 ? fileMode : 0o444);
      await chmod(folder, folderMode);
      const opened = await openAsStranger(folder);
      await chmod(folder, 0o755);
      expect(opened).toMatchObject({ events: journal.length, append: 'refused' });
      if (process.getuid?.() === 0) {
        expect(opened.code).toBe(code);
        expect(opened.message).toContain(join(folder, file));
      }
      expect(opened.message).toMatch(/may not write there \(EACCES\)\. .*copy the folder/);
      expect(await readFile(join(folder, JOURNAL_FILE), 'utf8')).toBe(journalText);
      expect(await readdir(folder)).toEqual([JOURNAL_FILE]);
    },
  );

  it('is written once the cause is mended, without another start of the program', async () => {
    const folder = await jobWith(journalText);
    // A folder under the lock's name: no lock can be made, whoever asks.
    await mkdir(join(folder, 'job.lock'));
    const open = hopedFor(await openJournal(folder, nowIso), 'open-journal');
    expect(open.trouble?.message).toMatch(/job\.lock: not made, a folder lies in its place/);
    expect(open.events).toEqual(journal);
    await rmdir(join(folder, 'job.lock'));
    expect(await open.reopen()).toEqual({ kind: 'reopened', events: [] });
    expect(await open.append([{ kind: 'note', text: 'a' }], 'laptop')).toMatchObject({ kind: 'appended' });
    await open.close();
  });

  it.each([
    ['EROFS', 'can only be read'],
    ['ENOSPC', 'the disk is full'],
    ['EDQUOT', 'no room left'],
    ['EACCES', 'may not write'],
    ['ENAMETOOLONG', 'too long'],
  ])('names a cause and a remedy for %s', (code, cause) => {
    const trouble = fileTrouble(Object.assign(new Error('x'), { code }));
    expect(trouble.cause).toContain(cause);
    expect(trouble.remedy.length).toBeGreaterThan(10);
  });
});

describe('what lies in the place of a journal', () => {
  const odd = async (make: (path: string) => unknown): Promise<string> => {
    const folder = join(await scratchFolder(), 'odd');
    await mkdir(folder);
    await make(join(folder, JOURNAL_FILE));
    return folder;
  };

  it.each([
    ['a pipe without another end', (path: string) => execFileSync('mkfifo', [path])],
    ['a folder', (path: string) => mkdir(path)],
  ])('is refused at once, opened, read and listed: %s', async (_, make) => {
    const folder = await odd(make);
    const refusal = { kind: 'refused', code: 'JOURNAL_NOT_A_FILE' };
    expect(await openJournal(folder, nowIso)).toMatchObject(refusal);
    expect(await readJournal(folder)).toMatchObject(refusal);
    const { jobs, unreadable } = await new JobList(join(folder, '..')).list();
    expect(jobs).toEqual([]);
    expect(unreadable).toMatchObject([{ folder: 'odd', code: 'JOURNAL_NOT_A_FILE' }]);
    expect(await readdir(folder)).toEqual([JOURNAL_FILE]);
  });

  it('may have a folder with a name as long as the disk takes, and no longer', async () => {
    const jobs = await scratchFolder();
    const longest = 'ö'.repeat(127);
    await mkdir(join(jobs, longest));
    await writeFile(join(jobs, longest, JOURNAL_FILE), journalText);
    const { jobs: listed } = await new JobList(jobs).list();
    expect(listed.map(({ jobId }) => jobId)).toEqual([longest]);
    const folder = jobFolder(jobs, longest);
    if (typeof folder !== 'string') throw new Error(folder.message);
    await hopedFor(await openJournal(folder, nowIso), 'open-journal').close();
    expect(jobFolder(jobs, 'ö'.repeat(128))).toMatchObject({ kind: 'refused', code: 'JOB_ID' });
    expect(await openJournal(join(jobs, 'x'.repeat(300)), nowIso)).toMatchObject({ kind: 'refused' });
  });
});
