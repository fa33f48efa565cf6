import { truncate, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { expect } from 'vitest';
import { JOURNAL_FILE, openJournal, readJournal } from '../../host/store';
import { jobWith, journal, journalText, nowIso } from './sample-journal';
import { hopedFor } from './scratch';

const bytes = new TextEncoder().encode(journalText);
const firstLine = journalText.indexOf('\n');

/** The power went after so many bytes: every whole line before is there, and the job goes on. */
async function survivesCut(folder: string, cut: number): Promise<void> {
  const path = join(folder, JOURNAL_FILE);
  await writeFile(path, bytes);
  await truncate(path, cut);
  const before = hopedFor(await readJournal(folder), 'journal').events;
  expect(before).toEqual(journal.slice(0, before.length));
  const open = hopedFor(await openJournal(folder, nowIso), 'open-journal');
  await open.append([{ kind: 'note', text: 'after' }], 'phone');
  await open.close();
  const after = hopedFor(await readJournal(folder), 'journal').events;
  expect(after.slice(0, before.length)).toEqual(before);
  expect(after.at(-1)).toMatchObject({ kind: 'note', text: 'after' });
}

/** Cuts a journal at `count` places between its first line and its end, drawn by `uniform` (0 to 1). */
export async function survivesCuts(count: number, uniform: () => number): Promise<void> {
  const folder = await jobWith(bytes);
  for (let round = 0; round < count; round += 1)
    await survivesCut(folder, firstLine + Math.floor(uniform() * (bytes.length + 1 - firstLine)));
}
