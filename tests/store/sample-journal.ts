import { writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { JOURNAL_FILE, journalLine } from '../../host/store';
import { opened, readingOf, stamped, sweepStarted } from '../job/sample';
import { scratchFolder } from './scratch';

export const nowIso = (): string => '2026-03-01T09:30:00.000Z';

/** Five events, one of them with letters of more than one byte. */
export const journal = stamped([
  opened,
  sweepStarted,
  readingOf(1, 52),
  { kind: 'note', text: 'Zeiger schwingt, 90 °C "fast"\nzweite Zeile' },
  readingOf(2, 88),
]);
export const journalText = journal.map(journalLine).join('');

/** The same as older programs wrote it: lines without a checksum. */
export const unsignedText = journal.map((event) => `${JSON.stringify(event)}\n`).join('');

/** A job's folder with this journal in it; gone when the test is over. */
export const jobWith = async (content: string | Uint8Array): Promise<string> => {
  const folder = await scratchFolder();
  await writeFile(join(folder, JOURNAL_FILE), content);
  return folder;
};
