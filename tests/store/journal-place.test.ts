import {
  appendFile,
  cp,
  mkdir,
  open,
  readdir,
  readFile,
  rename,
  rm,
  truncate,
  writeFile,
  type FileHandle,
} from 'node:fs/promises';
import { join } from 'node:path';
import { afterEach, describe, expect, it, vi } from 'vitest';
import { JOURNAL_FILE, openJournal, readJournal, type Journal } from '../../host/store';
import { jobWith, journal, journalText, nowIso } from './sample-journal';
import { hopedFor } from './scratch';

const note = (text: string) => [{ kind: 'note', text } as const];
const opens = async (folder: string): Promise<Journal> => {
  const journalNow = hopedFor(await openJournal(folder, nowIso), 'open-journal');
  expect(journalNow.trouble).toBeUndefined();
  return journalNow;
};
const notesIn = async (folder: string): Promise<string[]> => {
  const read = hopedFor(await readJournal(folder), 'journal');
  return read.events.flatMap((event) => (event.kind === 'note' ? [event.text] : [])).slice(1);
};

/** What another program does to the file under an open job, how to mend it, and what the refusal is called. */
const ways: readonly {
  readonly what: string;
  readonly code: string;
  readonly happens: (folder: string) => Promise<unknown>;
  readonly mended: (folder: string) => Promise<unknown>;
}[] = [
  {
    what: 'replaced by rename, as an editor saves',
    code: 'JOURNAL_REPLACED',
    happens: async (folder) => {
      await cp(join(folder, JOURNAL_FILE), join(folder, 'job.new'));
      await rename(join(folder, 'job.new'), join(folder, JOURNAL_FILE));
    },
    mended: () => Promise.resolve(),
  },
  {
    what: 'moved away with its folder',
    code: 'JOURNAL_GONE',
    happens: (folder) => rename(folder, `${folder}-moved`),
    mended: (folder) => rename(`${folder}-moved`, folder),
  },
  {
    what: 'removed',
    code: 'JOURNAL_GONE',
    happens: async (folder) => {
      await cp(join(folder, JOURNAL_FILE), join(folder, 'copy'));
      await rm(join(folder, JOURNAL_FILE));
    },
    mended: (folder) => rename(join(folder, 'copy'), join(folder, JOURNAL_FILE)),
  },
  {
    what: 'removed with its folder, and put back from a copy',
    code: 'JOURNAL_GONE',
    happens: async (folder) => {
      await cp(folder, `${folder}-copy`, { recursive: true });
      await rm(folder, { recursive: true });
    },
    mended: (folder) => rename(`${folder}-copy`, folder),
  },
];

describe('an acknowledged event is on the disk under its own name', () => {
  it.each(ways)('refused when the journal was $what, until the job is opened again', async (way) => {
    const folder = join(await jobWith(''), 'job');
    await mkdir(folder);
    await writeFile(join(folder, JOURNAL_FILE), journalText);
    const open = await opens(folder);
    expect(await open.append(note('before'), 'laptop')).toMatchObject({ kind: 'appended' });
    await way.happens(folder);
    const refused = hopedFor(await open.append(note('lost'), 'laptop'), 'refused');
    expect(refused.code).toBe(way.code);
    expect(refused.message).toContain(join(folder, JOURNAL_FILE));
    expect(refused.message).toContain('open the job again');
    await way.mended(folder);
    // Whatever was mended: nothing is added to a journal that nobody has looked at since.
    expect(await open.append(note('too soon'), 'laptop')).toMatchObject({ code: way.code });
    expect(await open.reopen()).toEqual({ kind: 'reopened', events: [] });
    expect(await open.append(note('after'), 'laptop')).toMatchObject({ kind: 'appended' });
    await open.close();
    expect(await notesIn(folder)).toEqual(['before', 'after']);
    await (await opens(folder)).close();
  });

  it.each([
    ['added to', (path: string) => appendFile(path, 'x')],
    ['shortened', (path: string) => truncate(path, journalText.length - 40)],
  ])('refused when another program has %s it in place', async (_, happens) => {
    const folder = await jobWith(journalText);
    const open = await opens(folder);
    await happens(join(folder, JOURNAL_FILE));
    const before = await readFile(join(folder, JOURNAL_FILE));
    expect(await open.append(note('lost'), 'laptop')).toMatchObject({ code: 'JOURNAL_CHANGED' });
    expect(await readFile(join(folder, JOURNAL_FILE))).toEqual(before);
    await open.close();
  });

  it('is not gone on with when other events lie under its name', async () => {
    const folder = await jobWith(journalText);
    const open = await opens(folder);
    await open.append(note('before'), 'laptop');
    await writeFile(join(folder, 'other'), journalText);
    await rename(join(folder, 'other'), join(folder, JOURNAL_FILE));
    expect(await open.append(note('lost'), 'laptop')).toMatchObject({ code: 'JOURNAL_REPLACED' });
    expect(await open.reopen()).toMatchObject({ kind: 'refused', code: 'JOURNAL_OTHER' });
    await open.close();
    expect((await (await opens(folder)).append(note('x'), 'laptop')).kind).toBe('appended');
  });

  it('tells a reader beside a writer what was added, when he looks again', async () => {
    const folder = await jobWith(journalText);
    const writer = await opens(folder);
    const reader = hopedFor(await openJournal(folder, nowIso), 'open-journal');
    expect(reader.trouble).toMatchObject({ code: 'JOB_IN_USE' });
    await writer.append(note('a'), 'laptop');
    const seen = hopedFor(await reader.reopen(), 'reopened');
    expect(seen.events).toMatchObject([{ n: journal.length + 1, text: 'a' }]);
    expect(await reader.append(note('b'), 'phone')).toMatchObject({ code: 'JOB_IN_USE' });
    await writer.close();
    expect(await reader.reopen()).toEqual({ kind: 'reopened', events: [] });
    expect(await reader.append(note('b'), 'phone')).toMatchObject({ kind: 'appended' });
    await reader.close();
    expect(await notesIn(folder)).toEqual(['a', 'b']);
  });
});

describe('a write that fails', () => {
  afterEach(() => void vi.restoreAllMocks());

  const isFileHandle = (value: unknown): value is FileHandle =>
    typeof value === 'object' && value !== null && 'datasync' in value;
  /** The methods that every open file shares. */
  const ofOpenFiles = async (): Promise<FileHandle> => {
    const file = await open('/dev/null');
    await file.close();
    const shared = Reflect.getPrototypeOf(file);
    if (!isFileHandle(shared)) throw new Error('files are made otherwise in this version of Node');
    return shared;
  };
  const failure = (code: string): Error => Object.assign(new Error(code), { code });
  /** As a disk that fills up: a part of the line is written, then nothing more. */
  const halfWritten = async (folder: string): Promise<void> => {
    const files = await ofOpenFiles();
    vi.spyOn(files, 'appendFile').mockImplementationOnce(async () => {
      await appendFile(join(folder, JOURNAL_FILE), '{"n":6,"at":"2026');
      throw failure('ENOSPC');
    });
  };

  it('is taken back, and the next one is written', async () => {
    const folder = await jobWith(journalText);
    const journalNow = await opens(folder);
    await halfWritten(folder);
    const refused = hopedFor(await journalNow.append(note('a'), 'laptop'), 'refused');
    expect(refused.code).toBe('JOURNAL_WRITE_FAILED');
    expect(refused.message).toMatch(/job\.ndjson: not written, the disk is full \(ENOSPC\)\. Make room/);
    expect(await readFile(join(folder, JOURNAL_FILE), 'utf8')).toBe(journalText);
    expect(await journalNow.append(note('b'), 'laptop')).toMatchObject({ kind: 'appended' });
    await journalNow.close();
    expect(await notesIn(folder)).toEqual(['b']);
  });

  it('and cannot be taken back ends the writing until the job is opened again, which mends it', async () => {
    const folder = await jobWith(journalText);
    const journalNow = await opens(folder);
    await halfWritten(folder);
    const truncating = vi.spyOn(await ofOpenFiles(), 'truncate').mockRejectedValueOnce(failure('EIO'));
    expect(await journalNow.append(note('a'), 'laptop')).toMatchObject({ code: 'JOURNAL_HALF_WRITTEN' });
    expect(truncating).toHaveBeenCalledTimes(1);
    expect(await journalNow.append(note('b'), 'laptop')).toMatchObject({ code: 'JOURNAL_HALF_WRITTEN' });
    const again = hopedFor(await journalNow.reopen(), 'reopened');
    expect(again.events).toMatchObject([{ n: journal.length + 1, kind: 'journal-recovered', by: 'journal' }]);
    const aside = (await readdir(folder)).filter((name) => name.startsWith('job.cut-'));
    expect(await Promise.all(aside.map((name) => readFile(join(folder, name), 'utf8')))).toEqual([
      '{"n":6,"at":"2026',
    ]);
    expect(await journalNow.append(note('c'), 'laptop')).toMatchObject({ kind: 'appended' });
    await journalNow.close();
    expect(await notesIn(folder)).toEqual(['c']);
  });

  it.each(['stat', 'datasync'] as const)('refuses and never throws when %s fails', async (call) => {
    const folder = await jobWith(journalText);
    const journalNow = await opens(folder);
    vi.spyOn(await ofOpenFiles(), call).mockRejectedValueOnce(failure('EIO'));
    expect(await journalNow.append(note('a'), 'laptop')).toMatchObject({ code: 'JOURNAL_WRITE_FAILED' });
    expect(await journalNow.append(note('b'), 'laptop')).toMatchObject({ kind: 'appended' });
    await journalNow.close();
    expect(await notesIn(folder)).toEqual(['b']);
  });
});
