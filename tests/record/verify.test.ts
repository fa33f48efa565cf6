import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { beforeAll, describe, expect, it } from 'vitest';
import { JOURNAL_SCHEMA, type JobEvent } from '../../host/job/schema/events';
import { recordOfJournal } from '../../host/record/record-file';
import { readMark, typedMark } from '../../host/record/record-mark';
import { belongingOf, belongingOfFile } from '../../host/record/verify';
import { findingsOfJob } from '../../host/server/findings/findings-of-job';
import { parseJournal } from '../../host/store';
import { oilByHand } from './record-jobs';

const fixture = (name: string): Uint8Array =>
  readFileSync(fileURLToPath(new URL(`fixtures/schema-1/${name}`, import.meta.url)));

const events = oilByHand();
let pdf: Uint8Array;
beforeAll(async () => {
  const record = recordOfJournal({ events, findings: findingsOfJob, program: '0.1.0' });
  if (record === undefined) throw new Error('no record');
  pdf = await record.pdf('letter');
});

const note = (n: number): JobEvent => ({
  n,
  at: '2026-05-20T08:00:00.000Z',
  by: 'desk',
  kind: 'note',
  text: 'later',
});

describe('a record belongs to its job', () => {
  it('as it stands, and as it was when more was entered since', () => {
    expect(belongingOfFile(pdf, events)).toMatchObject({ kind: 'belongs', since: [] });
    const later = note(events.length + 1);
    expect(belongingOfFile(pdf, [...events, later])).toMatchObject({ kind: 'belongs', since: [later] });
  });

  it('by what is printed on its last sheet, as somebody types it', () => {
    const mark = readMark(pdf);
    const sum = mark?.sum ?? '';
    const fours = sum.slice(0, 16).match(/.{4}/g)?.join(' ') ?? '';
    for (const typed of [
      `${events.length} entries, sum ${fours}`,
      `${events.length} ${fours.toUpperCase()}`,
    ]) {
      const read = typedMark(typed);
      expect(read).toEqual({ entries: events.length, sum: sum.slice(0, 16) });
      expect(read && belongingOf(read, events).kind).toBe('belongs');
    }
  });

  it('and not once an entry it speaks of was changed, or is gone', () => {
    const changed = events.map((event) =>
      event.kind === 'reading' && event.readingId === 'r2'
        ? { ...event, reading: event.reading + 0.1 }
        : event,
    );
    expect(belongingOfFile(pdf, changed).kind).toBe('journal-changed');
    expect(belongingOfFile(pdf, events.slice(0, -1)).kind).toBe('journal-changed');
  });

  it('and is no record of no entry, whose sum would be that of every job', () => {
    // SHA-256 of nothing. Source: FIPS 180-4, the examples published beside it.
    const typed = typedMark('0 entries, sum e3b0 c442 98fc 1c14');
    expect(typed && belongingOf(typed, events).kind).toBe('journal-changed');
  });

  it('and to no other', () => {
    const other = events.map((event) =>
      event.kind === 'job-opened' ? { ...event, jobId: 'another' } : event,
    );
    expect(belongingOfFile(pdf, other)).toMatchObject({ kind: 'other-job', jobId: 'another' });
  });

  it.each(['', '%PDF-1.7 nothing', '{"schema":"needlewright/record/1"}', 'needlewright/record/1 entries=x'])(
    'which %j is not',
    (text) => {
      expect(belongingOfFile(new TextEncoder().encode(text), events).kind).toBe('no-record');
    },
  );
});

describe('a fixture is kept', () => {
  const folder = fileURLToPath(new URL('fixtures', import.meta.url));
  /** Of the journal, raised only when an old program could misread a new one; of the record, its own. */
  const versions = Array.from({ length: JOURNAL_SCHEMA }, (_, index) => `schema-${index + 1}`);

  it('of every version of the journal there has been, and each still opens with its record', () => {
    expect(readdirSync(folder).sort()).toEqual(versions.sort());
    for (const version of versions) {
      const journal = parseJournal(readFileSync(join(folder, version, 'job.ndjson')), 'job.ndjson');
      if (journal.kind === 'refused') throw new Error(journal.message);
      expect(journal.newer).toBeUndefined();
      const record = readFileSync(join(folder, version, 'record.pdf'));
      expect(belongingOfFile(record, journal.events).kind).toBe('belongs');
    }
  });

  it('of every version of the record: the one that is made now is among them', () => {
    const made = recordOfJournal({ events, findings: findingsOfJob, program: 'later' })?.model.schema;
    const kept = versions.map(
      (version) =>
        /needlewright\/record\/\d+/.exec(readFileSync(join(folder, version, 'record.pdf'), 'latin1'))?.[0],
    );
    expect(kept).toContain(made);
  });
});

describe('a record made under journal schema 1', () => {
  const journal = parseJournal(fixture('job.ndjson'), 'job.ndjson');

  it('still opens, and belongs to its job', () => {
    if (journal.kind === 'refused') throw new Error(journal.message);
    expect(journal.events.length).toBeGreaterThan(10);
    expect(belongingOfFile(fixture('record.pdf'), journal.events)).toMatchObject({
      kind: 'belongs',
      since: [],
    });
    expect(
      recordOfJournal({ events: journal.events, findings: findingsOfJob, program: 'later' })?.model.pairs,
    ).toHaveLength(6);
  });
});
