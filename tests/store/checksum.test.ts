import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import type { EventBody } from '../../host/job';
import { JOURNAL_FILE, journalLine, openJournal, parseJournal } from '../../host/store';
import { opened, stamped } from '../job/sample';
import { jobWith, journal, journalText, nowIso, unsignedText } from './sample-journal';
import { hopedFor } from './scratch';

const BITS_IN_A_BYTE = 8;

/** CRC-32/ISO-HDLC bit by bit, as its parameters are published: reflected polynomial EDB88320, all ones in and out. */
const crc32Of = (bytes: Uint8Array): number => {
  let rest = 0xffff_ffff;
  for (const byte of bytes) {
    rest ^= byte;
    for (let bit = 0; bit < BITS_IN_A_BYTE; bit += 1)
      rest = rest & 1 ? (rest >>> 1) ^ 0xedb8_8320 : rest >>> 1;
  }
  return (rest ^ 0xffff_ffff) >>> 0;
};
const encode = (text: string): Uint8Array => new TextEncoder().encode(text);

/** A line as some other program signs it. */
const signedLine = (content: object): string => {
  const begun = JSON.stringify(content).slice(0, -1);
  return `${begun},"crc":"${crc32Of(encode(begun)).toString(16).padStart(8, '0')}"}\n`;
};

const codeOf = (content: string | Uint8Array): string => {
  const read = parseJournal(typeof content === 'string' ? encode(content) : content, 'job.ndjson');
  return read.kind === 'refused' ? read.code : read.kind;
};

describe('the checksum of a line', () => {
  it('is the CRC-32 of the catalogue: "123456789" gives cbf43926', () => {
    // Source: the check value of CRC-32/ISO-HDLC in the catalogue of parametrised CRC algorithms.
    expect(crc32Of(encode('123456789'))).toBe(0xcbf4_3926);
    for (const event of journal) expect(journalLine(event)).toBe(signedLine(event));
  });

  it('finds every single wrong bit of a journal, at the line it is on', () => {
    const note: EventBody = { kind: 'note', text: 'Öl 90 °C @ 2 bar, "warm"\\' };
    const bytes = encode(
      stamped([opened, note, { ...note, text: 'letzte Zeile' }])
        .map(journalLine)
        .join(''),
    );
    const unseen: string[] = [];
    let line = 1;
    for (let at = 0; at < bytes.length; at += 1) {
      const right = bytes[at] ?? 0;
      for (let bit = 0; bit < BITS_IN_A_BYTE; bit += 1) {
        bytes[at] = right ^ (1 << bit);
        const read = parseJournal(bytes, 'job.ndjson');
        const isFound = read.kind === 'refused' && read.message.startsWith(`job.ndjson, line ${line}:`);
        if (!isFound) unseen.push(`byte ${at} bit ${bit} of line ${line}`);
      }
      bytes[at] = right;
      if (right === 0x0a) line += 1;
    }
    expect(unseen).toEqual([]);
    expect(line).toBe(4);
  });

  it('is missing in old journals, which open, and go on with it', async () => {
    const folder = await jobWith(unsignedText);
    const open = hopedFor(await openJournal(folder, nowIso), 'open-journal');
    expect(open.events).toEqual(journal);
    await open.append([{ kind: 'note', text: 'now with a checksum' }], 'laptop');
    await open.close();
    const text = await readFile(join(folder, JOURNAL_FILE), 'utf8');
    expect(text.startsWith(unsignedText)).toBe(true);
    expect(text.slice(unsignedText.length)).toMatch(/,"crc":"[0-9a-f]{8}"\}\n$/);
    expect(codeOf(text)).toBe('journal');
    expect(codeOf(text.replace('now with', 'not with'))).toBe('JOURNAL_DAMAGED');
  });
});

describe('a journal of a newer program', () => {
  const newer = { n: journal.length + 1, at: nowIso(), by: 'laptop', kind: 'needle-filmed', seconds: 4 };
  const known = { n: 3, at: nowIso(), by: 'laptop', kind: 'note', text: 'a', mood: 'fine' };

  it.each([
    ['an event nobody here knows', journalText + signedLine(newer), journal.length],
    ['the same, cut of its line end', (journalText + signedLine(newer)).trimEnd(), journal.length],
    [
      'a known event with a field more',
      stamped([opened, { kind: 'note', text: 'a' }])
        .map(journalLine)
        .join('') + signedLine(known),
      2,
    ],
  ])('is read as far as it is understood: %s', (_, text, understood) => {
    const read = hopedFor(parseJournal(encode(text), 'job.ndjson'), 'journal');
    expect(read.events).toHaveLength(understood);
    expect(read.newer).toMatchObject({ code: 'JOURNAL_LINE_NEWER' });
    expect(read.newer?.message).toMatch(
      new RegExp(`^job.ndjson, line ${understood + 1}: .*newer Needlewright`),
    );
  });

  it('is not written', async () => {
    const text = journalText + signedLine(newer);
    const folder = await jobWith(text);
    const open = hopedFor(await openJournal(folder, nowIso), 'open-journal');
    expect(open.events).toEqual(journal);
    expect(await open.append([{ kind: 'note', text: 'mine' }], 'laptop')).toMatchObject({
      kind: 'refused',
      code: 'JOURNAL_LINE_NEWER',
    });
    await open.close();
    expect(await readFile(join(folder, JOURNAL_FILE), 'utf8')).toBe(text);
  });

  it('is told from damage by its checksum', () => {
    expect(codeOf(journalText + signedLine(newer).replace('filmed', 'filled'))).toBe('JOURNAL_DAMAGED');
    expect(codeOf(journalText + `${JSON.stringify(newer)}\n`)).toBe('JOURNAL_DAMAGED');
    expect(codeOf(signedLine({ ...stamped([opened])[0], schema: 2 }))).toBe('JOURNAL_NEWER');
  });
});
