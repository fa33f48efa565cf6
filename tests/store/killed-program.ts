import { appendFile } from 'node:fs/promises';
import { writeSync } from 'node:fs';
import { join } from 'node:path';
import type { EventBody, JobEvent } from '../../host/job';
import { JOURNAL_FILE, openJournal, type Journal } from '../../host/store';

/** A program that writes a journal until it is killed, and says each event that was acknowledged in a line. */
const [, , folder = '', way = ''] = process.argv;

const say = (told: unknown): void => void writeSync(1, `${JSON.stringify(told)}\n`);

const opens = async (): Promise<Journal> => {
  const opened = await openJournal(folder, () => new Date().toISOString());
  if (opened.kind === 'refused') throw new Error(opened.message);
  if (opened.trouble !== undefined) throw new Error(opened.trouble.message);
  return opened;
};

const adds = async (journal: Journal, bodies: readonly EventBody[]): Promise<readonly JobEvent[]> => {
  const added = await journal.append(bodies, 'laptop');
  if (added.kind === 'refused') throw new Error(added.message);
  for (const event of added.events) say(event);
  return added.events;
};

const note = (length: number): EventBody => ({ kind: 'note', text: 'ä'.repeat(length) });

const LONGEST_NOTE = 4_000;
const NOTES_AT_ONCE = 3;

/** Notes of every length, by turns alone and several at once. */
const append = async (): Promise<void> => {
  const journal = await opens();
  for (let round = 1; ; round += 1) {
    const count = 1 + (round % NOTES_AT_ONCE);
    await adds(
      journal,
      Array.from({ length: count }, (_, index) => note(((round * 97 + index) % LONGEST_NOTE) + 1)),
    );
  }
};

/** Each note is taken back, and every other one brought back. */
const undo = async (): Promise<void> => {
  const journal = await opens();
  for (let round = 0; ; round += 1) {
    const [noted] = await adds(journal, [note(1 + (round % LONGEST_NOTE))]);
    const [undone] = await adds(journal, [{ kind: 'undone', undoes: noted?.n ?? 1 }]);
    if (round % 2 === 0) await adds(journal, [{ kind: 'undone', undoes: undone?.n ?? 1 }]);
  }
};

/** Opened, left with a line that the power cut, opened again: each time a tail is put aside. */
const recover = async (): Promise<void> => {
  for (;;) {
    const journal = await opens();
    const last = journal.events.at(-1);
    if (last !== undefined) say(last);
    await adds(journal, [note(1)]);
    await journal.close();
    await appendFile(join(folder, JOURNAL_FILE), '{"n":9,"at":"2026-');
  }
};

const ways: Readonly<Record<string, () => Promise<void>>> = { append, undo, recover };
await ways[way]?.();
