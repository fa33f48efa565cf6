import { join } from 'node:path';
import { isDeepStrictEqual } from 'node:util';
import type { Refused } from '../core/result';
import { refuse } from '../refusals';
import type { EventBody, JobEvent } from '../job';
import { troubleSentence } from './file-trouble';
import { openJournalFile, type OpenedFile, type WritableFile } from './journal-file';
import { asReadBack, journalLine } from './journal-line';
import { placeTrouble } from './journal-place';
import type { JournalTrouble } from './journal-trouble';
import { JOURNAL_FILE, type ReadRefused } from './read-journal';

export type AppendRefused = JournalTrouble | Refused<'JOURNAL_WRITE_FAILED' | 'EVENT_UNREADABLE'>;
export type Appended = { readonly kind: 'appended'; readonly events: readonly JobEvent[] };
export type JournalRefused = ReadRefused;

/** What a second look at the file found: more of the same, or the events of something else. */
export type Reopened =
  | { readonly kind: 'reopened'; readonly events: readonly JobEvent[] }
  | Refused<'JOURNAL_OTHER'>
  | JournalRefused;

export type Journal = {
  readonly kind: 'open-journal';
  readonly folder: string;
  /** Every event on disk, oldest first. */
  readonly events: readonly JobEvent[];
  /** Why it can be read and not written, now or from the start; undefined while it can be written. */
  readonly trouble: JournalTrouble | undefined;
  /** Numbers, dates, signs and writes the events, all of them or none; answers when they are on the disk. Never throws. */
  append(bodies: readonly EventBody[], by: string): Promise<Appended | AppendRefused>;
  /** Looks whether the file still lies where its name says, as it was left; undefined while it does. Never throws. */
  look(): Promise<AppendRefused | undefined>;
  /** With a trouble: tries anew, and answers with the events that are new. Refuses JOURNAL_OTHER: close this, open anew. */
  reopen(): Promise<Reopened>;
  /** Resolves when everything given so far is on the disk. */
  written(): Promise<void>;
  close(): Promise<void>;
};

const isContinued = (known: readonly JobEvent[], found: readonly JobEvent[]): boolean =>
  known.length <= found.length && isDeepStrictEqual(known.at(-1), found[known.length - 1]);

class JobJournal implements Journal {
  readonly kind = 'open-journal';
  readonly folder: string;
  readonly events: JobEvent[] = [];
  readonly #path: string;
  readonly #nowIso: () => string;
  #writable: WritableFile | undefined;
  #size = 0;
  #trouble: JournalTrouble | undefined;
  #owed: readonly EventBody[] = [];
  #queue: Promise<unknown> = Promise.resolve();
  #isClosed = false;

  constructor(folder: string, nowIso: () => string, opened: OpenedFile) {
    this.folder = folder;
    this.#path = join(folder, JOURNAL_FILE);
    this.#nowIso = nowIso;
    this.#take(opened);
  }

  get trouble(): JournalTrouble | undefined {
    return this.#isClosed ? refuse('JOURNAL_CLOSED', { path: this.folder }) : this.#trouble;
  }

  append(bodies: readonly EventBody[], by: string): Promise<Appended | AppendRefused> {
    return this.#inTurn(() => this.#append(bodies, by));
  }

  look(): Promise<AppendRefused | undefined> {
    return this.#inTurn(() => this.#look());
  }

  reopen(): Promise<Reopened> {
    return this.#inTurn(() => this.#reopen());
  }

  async written(): Promise<void> {
    await this.#queue;
  }

  async close(): Promise<void> {
    await this.#inTurn(async () => {
      this.#isClosed = true;
      await this.#letGo();
    });
  }

  #inTurn<Answer>(action: () => Promise<Answer>): Promise<Answer> {
    const answer = this.#queue.then(action);
    this.#queue = answer.catch(() => undefined);
    return answer;
  }

  #take({ events, writable, trouble, recovered }: OpenedFile): void {
    for (const event of events.slice(this.events.length)) this.events.push(event);
    this.#writable = writable;
    this.#size = writable?.size ?? 0;
    this.#trouble = trouble;
    this.#owed = recovered;
  }

  async #letGo(): Promise<void> {
    const writable = this.#writable;
    this.#writable = undefined;
    await writable?.file.close().catch(() => undefined);
    await writable?.lock.release();
  }

  async #look(): Promise<AppendRefused | undefined> {
    const writable = this.#writable;
    if (this.trouble !== undefined || writable === undefined) return this.trouble;
    try {
      this.#trouble = await placeTrouble({ path: this.#path, file: writable.file }, this.#size);
      return this.#trouble;
    } catch (error) {
      const why = troubleSentence(this.#path, 'not to be looked at', error);
      return refuse('JOURNAL_WRITE_FAILED', { why });
    }
  }

  async #reopen(): Promise<Reopened> {
    const known = this.events.length;
    if (this.#isClosed || this.#trouble === undefined) return { kind: 'reopened', events: [] };
    await this.#letGo();
    const opened = await openJournalFile(this.folder);
    if (opened.kind === 'refused') return opened;
    if (!isContinued(this.events, opened.events)) {
      await opened.writable?.file.close();
      await opened.writable?.lock.release();
      return refuse('JOURNAL_OTHER', { path: this.#path });
    }
    this.#take(opened);
    await this.#append([], '');
    return { kind: 'reopened', events: this.events.slice(known) };
  }

  async #append(bodies: readonly EventBody[], by: string): Promise<Appended | AppendRefused> {
    if (this.trouble !== undefined) return this.trouble;
    const at = this.#nowIso();
    const signed = [
      ...this.#owed.map((body) => ({ by: 'journal', body })),
      ...bodies.map((body) => ({ by, body })),
    ];
    const added: JobEvent[] = [];
    for (const { by: signature, body } of signed) {
      // A line that cannot be read would close the whole job for good.
      const event = asReadBack({ n: this.events.length + added.length + 1, at, by: signature, ...body });
      if (event.kind === 'refused') return event;
      added.push(event);
    }
    const refused = added.length === 0 ? undefined : await this.#write(added.map(journalLine).join(''));
    if (refused !== undefined) return refused;
    this.#owed = [];
    this.events.push(...added);
    return { kind: 'appended', events: added };
  }

  /** Undefined once the lines are on the disk under the journal's own name. */
  async #write(lines: string): Promise<AppendRefused | undefined> {
    const writable = this.#writable;
    if (writable === undefined) return refuse('JOURNAL_CLOSED', { path: this.folder });
    const { file } = writable;
    const size = this.#size + Buffer.byteLength(lines);
    const place = { path: this.#path, file };
    try {
      this.#trouble = await placeTrouble(place, this.#size);
      if (this.#trouble !== undefined) return this.#trouble;
      await file.appendFile(lines);
      await file.datasync();
      this.#trouble = await placeTrouble(place, size);
    } catch (error) {
      const refused = refuse('JOURNAL_WRITE_FAILED', {
        why: troubleSentence(this.#path, 'not written', error),
      });
      return (await this.#takeBack(writable, refused.message)) ?? refused;
    }
    if (this.#trouble !== undefined)
      return (await this.#takeBack(writable, this.#trouble.message)) ?? this.#trouble;
    this.#size = size;
    return undefined;
  }

  /** What was refused must not stand in the file. Where it cannot be taken back, a reopening puts it aside. */
  async #takeBack({ file }: WritableFile, why: string): Promise<JournalTrouble | undefined> {
    try {
      await file.truncate(this.#size);
      await file.datasync();
      return undefined;
    } catch {
      this.#trouble = refuse('JOURNAL_HALF_WRITTEN', { why });
      return this.#trouble;
    }
  }
}

/**
 * Opens a job's journal: locks it, reads it, puts a tail that was cut mid-line aside (and says so in a
 * `journal-recovered` event), and appends from then on. Every accepted event is on the disk, under the journal's own
 * name, before it is answered. Where it cannot be written (another program writes it, a read-only medium, a newer
 * program's lines) it can be read all the same, and `trouble` is the reason. Never throws.
 * Refuses: everything `readJournal` refuses; then the lock is given back and no byte was changed.
 */
export const openJournal = async (
  folder: string,
  nowIso: () => string,
): Promise<Journal | JournalRefused> => {
  const opened = await openJournalFile(folder);
  if (opened.kind === 'refused') return opened;
  const journal = new JobJournal(folder, nowIso, opened);
  await journal.append([], '');
  return journal;
};
