import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdir, readdir, readFile, writeFile } from 'node:fs/promises';
import { hostname } from 'node:os';
import { join } from 'node:path';
import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { randomSource } from '../../host/core/numeric/random';
import { JOURNAL_FILE, journalLine, openJournal, parseJournal, readJournal } from '../../host/store';
import { survivesCuts } from './cuts';
import { jobWith, journal, journalText as text, nowIso, unsignedText as old } from './sample-journal';
import { hopedFor, scratchFolder } from './scratch';

const opensAndCloses = async (folder: string): Promise<void> => {
  const open = hopedFor(await openJournal(folder, nowIso), 'open-journal');
  expect(open.trouble).toBeUndefined();
  await open.close();
};

describe('reading a journal', () => {
  it('gives the whole events before the cut, for a cut at every byte, and the cut bytes themselves', () => {
    const bytes = new TextEncoder().encode(text);
    const lengths = journal.map((event) => new TextEncoder().encode(journalLine(event)).length);
    const firstWhole = (lengths[0] ?? 0) - 1;
    let checked = 0;
    for (let cut = 0; cut <= bytes.length; cut += 1) {
      const read = parseJournal(bytes.subarray(0, cut), 'job.ndjson');
      checked += 1;
      if (cut < firstWhole) {
        expect(read.kind === 'refused' ? read.code : read.kind).toBe('JOURNAL_EMPTY');
        continue;
      }
      const found = hopedFor(read, 'journal');
      // A line is whole with or without its line end.
      let whole = 0;
      let used = 0;
      while (whole < lengths.length && used + (lengths[whole] ?? 0) - 1 <= cut) used += lengths[whole++] ?? 0;
      expect(found.events).toEqual(journal.slice(0, whole));
      expect(found.cutTail?.length ?? 0).toBe(Math.max(0, cut - used));
    }
    expect(checked).toBe(bytes.length + 1);
  });

  it.each([
    ['JOURNAL_DAMAGED', 'line 3', old.replace('"r1"', 'r1')],
    ['JOURNAL_DAMAGED', '"colour"', old.replace('"readingId":"r1"', '"readingId":"r1","colour":"red"')],
    ['JOURNAL_ORDER', 'line 2', `${text.split('\n')[0]}\n${text.split('\n').slice(2).join('\n')}`],
    ['JOURNAL_NEWER', 'newer Needlewright', old.replace('"schema":1', '"schema":2')],
    [
      'JOURNAL_NOT_A_JOB',
      '"note"',
      journalLine({ n: 1, at: nowIso(), by: 'x', kind: 'note', text: 'hello' }),
    ],
    ['JOURNAL_EMPTY', 'never opened', ''],
  ])('refuses with %s and names %s', (code, told, content) => {
    const read = parseJournal(new TextEncoder().encode(content), 'jobs/a/job.ndjson');
    expect(read).toMatchObject({ kind: 'refused', code });
    if (read.kind === 'refused') {
      expect(read.message).toContain('jobs/a/job.ndjson');
      expect(read.message).toContain(told);
    }
  });

  it('takes any bytes without throwing', () => {
    fc.assert(fc.property(fc.uint8Array({ maxLength: 300 }), (bytes) => void parseJournal(bytes, 'f')));
  });

  it('takes a last line filled with zeros for a cut tail, as a file system leaves it after a power cut', () => {
    const zeroed = `${text}\0\0\0\0\0\0\n`;
    const read = hopedFor(parseJournal(new TextEncoder().encode(zeroed), 'f'), 'journal');
    expect(read.events).toHaveLength(journal.length);
    expect(read.cutTail?.length).toBe(7);
  });

  it('says which file is missing', async () => {
    const folder = await scratchFolder();
    expect(await readJournal(folder)).toMatchObject({ kind: 'refused', code: 'JOURNAL_MISSING' });
  });
});

describe('writing a journal', () => {
  it('has the event in the file when it answers that it was accepted', async () => {
    const folder = await jobWith(text);
    const open = hopedFor(await openJournal(folder, nowIso), 'open-journal');
    const added = hopedFor(await open.append([{ kind: 'note', text: 'a' }], 'phone'), 'appended');
    const onDisk = await readFile(join(folder, JOURNAL_FILE), 'utf8');
    expect(onDisk).toBe(text + journalLine(added.events[0]!));
    expect(added.events[0]).toMatchObject({ n: journal.length + 1, by: 'phone', at: nowIso() });
    await open.close();
  });

  it('numbers events without a gap when many are asked for at once', async () => {
    const folder = await jobWith(text);
    const open = hopedFor(await openJournal(folder, nowIso), 'open-journal');
    await Promise.all(
      Array.from({ length: 30 }, (_, index) =>
        open.append([{ kind: 'note', text: `note ${index}` }], 'phone'),
      ),
    );
    await open.close();
    const read = hopedFor(await readJournal(folder), 'journal');
    expect(read.events.map((event) => event.n)).toEqual(read.events.map((_, index) => index + 1));
    expect(read.events).toHaveLength(journal.length + 30);
  });

  it('keeps a cut tail in a file of its own, says so in the journal, and goes on', async () => {
    const cut = text.slice(0, -10);
    const folder = await jobWith(cut);
    const open = hopedFor(await openJournal(folder, nowIso), 'open-journal');
    await open.append([{ kind: 'note', text: 'after' }], 'phone');
    await open.close();
    const aside = (await readdir(folder)).filter((file) => file.startsWith('job.cut-'));
    expect(aside).toHaveLength(1);
    const keptText = await readFile(join(folder, aside[0]!), 'utf8');
    expect(text.startsWith(text.slice(0, cut.length - keptText.length) + keptText)).toBe(true);
    const read = hopedFor(await readJournal(folder), 'journal');
    expect(read.events.map((event) => event.kind)).toEqual([
      'job-opened',
      'sweep-started',
      'reading',
      'note',
      'journal-recovered',
      'note',
    ]);
  });

  it('loses no acknowledged event for a cut at any of twenty places', async () => {
    await survivesCuts(20, randomSource(20260301).uniform);
  });

  it('writes no event that it could not read back, and goes on with the next', async () => {
    const folder = await jobWith(text);
    const open = hopedFor(await openJournal(folder, nowIso), 'open-journal');
    const point = {
      kind: 'sender-point',
      pointId: 'p1',
      senderId: 'a',
      resistanceOhm: 70,
      source: 'box',
    } as const;
    // 1.7e308 degC typed for a sender in degF.
    expect(await open.append([{ ...point, value: Infinity }], 'laptop')).toMatchObject({
      kind: 'refused',
      code: 'EVENT_UNREADABLE',
    });
    expect(await readFile(join(folder, JOURNAL_FILE), 'utf8')).toBe(text);
    expect(await open.append([{ ...point, value: 90 }], 'laptop')).toMatchObject({ kind: 'appended' });
    await open.close();
    await opensAndCloses(folder);
  });

  it('appends nothing after it was closed', async () => {
    const open = hopedFor(await openJournal(await jobWith(text), nowIso), 'open-journal');
    await open.close();
    await open.close();
    expect(await open.append([{ kind: 'note', text: 'late' }], 'x')).toMatchObject({
      code: 'JOURNAL_CLOSED',
    });
  });
});

describe('the lock of a job', () => {
  it('lets only one of many open the journal for writing', async () => {
    const folder = await jobWith(text);
    const all = await Promise.all(Array.from({ length: 8 }, () => openJournal(folder, nowIso)));
    const open = all.map((each) => hopedFor(each, 'open-journal'));
    const writers = open.filter(({ trouble }) => trouble === undefined);
    expect(writers).toHaveLength(1);
    expect(open.filter(({ trouble }) => trouble?.code === 'JOB_IN_USE')).toHaveLength(7);
    for (const each of open) await each.close();
    await opensAndCloses(folder);
  });

  it('is taken over, by one of many, when the program that held it is gone', async () => {
    const gone = spawn(process.execPath, ['-e', '']);
    await once(gone, 'exit');
    const folder = await jobWith(text);
    const left = JSON.stringify({ pid: gone.pid, host: hostname(), started: '1' });
    await writeFile(join(folder, 'job.lock'), left);
    const all = await Promise.all(Array.from({ length: 8 }, () => openJournal(folder, nowIso)));
    const open = all.map((each) => hopedFor(each, 'open-journal'));
    expect(open.filter(({ trouble }) => trouble === undefined)).toHaveLength(1);
    for (const each of open) await each.close();
  });

  it('is taken over when its process number now belongs to another program', async () => {
    const folder = await jobWith(text);
    await writeFile(
      join(folder, 'job.lock'),
      JSON.stringify({ pid: process.pid, host: hostname(), started: '7' }),
    );
    await opensAndCloses(folder);
  });

  it('of another computer is respected, and the sentence names what to delete', async () => {
    const folder = await jobWith(text);
    const lock = join(folder, 'job.lock');
    await writeFile(lock, JSON.stringify({ pid: 1, host: 'barn-laptop', started: '7' }));
    const { trouble } = hopedFor(await openJournal(folder, nowIso), 'open-journal');
    expect(trouble?.code).toBe('JOB_IN_USE');
    expect(trouble?.message).toContain('barn-laptop');
    expect(trouble?.message).toContain(lock);
  });

  it('is given back when the journal turns out to be damaged', async () => {
    const folder = await jobWith('{"not":"a job"}\n');
    expect((await openJournal(folder, nowIso)).kind).toBe('refused');
    expect(await readdir(folder)).toEqual([JOURNAL_FILE]);
  });

  it('that a program left unsigned when it was killed a moment ago is waited for, and taken over', async () => {
    const folder = await jobWith(text);
    await writeFile(join(folder, 'job.lock'), '');
    await opensAndCloses(folder);
  });

  it('whose taking over was cut short a moment ago is waited for, and taken over', async () => {
    const folder = await jobWith(text);
    await writeFile(
      join(folder, 'job.lock'),
      JSON.stringify({ pid: process.pid, host: hostname(), started: '7' }),
    );
    await mkdir(join(folder, 'job.lock.taking-over'));
    await opensAndCloses(folder);
  });
});
