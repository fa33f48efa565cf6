import { appendFileSync, cpSync, existsSync, mkdtempSync, readFileSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { beforeEach, describe, expect, it } from 'vitest';
import { z } from 'zod';
import { commandLine } from '../support/command-line';

const FIXTURE = fileURLToPath(new URL('../record/fixtures/schema-1/', import.meta.url));

let folder: string;
let job: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'record-'));
  job = join(folder, 'job');
  cpSync(FIXTURE, job, { recursive: true });
});

const record = (...argv: string[]) => commandLine(['record', job, ...argv]);
/** The command reads what is in memory: the file that was written is laid there. */
const verify = (file: string) =>
  commandLine(['record', job, '--verify', file], existsSync(file) ? { [file]: readFileSync(file) } : {});

const Model = z.object({
  schema: z.literal('needlewright/record/1'),
  found: z.object({ sign: z.string() }),
  pairs: z.array(z.object({ error: z.number(), expandedUncertainty: z.number() })),
});

describe('record', () => {
  it('gives its data, with each error and its expanded uncertainty', async () => {
    const read = Model.parse((await record('--json')).json());
    expect(read.found.sign).toBe('within');
    // 62.5 shown at 60: 2.5 high. u = hypot(5 / (2 sqrt 3), 0.5), U = 2 u = 3.055.
    expect(read.pairs[2]?.error).toBeCloseTo(2.5, 9);
    expect(read.pairs[2]?.expandedUncertainty).toBeCloseTo(3.055, 3);
  });

  it('writes the sheets and the label, and nothing over a file that is there', async () => {
    const [pdf, label, drawn] = ['a.pdf', 'label.pdf', 'label.svg'].map((name) => join(folder, name));
    if (pdf === undefined || label === undefined || drawn === undefined) throw new Error('no names');
    expect((await record('--pdf', pdf, '--label', label)).code).toBe(0);
    expect((await record('--label', drawn)).code).toBe(0);
    expect(readFileSync(pdf).subarray(0, 5).toString()).toBe('%PDF-');
    // 50 mm x 25 mm at 96 to the inch.
    expect(readFileSync(drawn, 'utf8')).toMatch(/width="188.98" height="94.49"/);
    const before = readFileSync(pdf);
    const again = await record('--pdf', pdf);
    expect(again.code).toBe(2);
    expect(again.err).toContain('there already');
    expect(readFileSync(pdf).equals(before)).toBe(true);
  });

  it('only looks at the job: no byte of it changes, and no lock is left', async () => {
    const before = readFileSync(join(job, 'job.ndjson'));
    await record('--pdf', join(folder, 'b.pdf'));
    expect(readFileSync(join(job, 'job.ndjson')).equals(before)).toBe(true);
    expect(existsSync(join(job, 'job.lock'))).toBe(false);
  });

  it('refuses a folder without a job, and a file that is no journal', async () => {
    expect((await commandLine(['record', join(folder, 'none')])).code).toBe(2);
    expect((await commandLine(['record', join(job, 'record.pdf')])).err).toContain('job.ndjson');
  });
});

describe('record --verify', () => {
  it('knows the file it wrote, and the same one with a byte changed', async () => {
    const pdf = join(folder, 'c.pdf');
    await record('--pdf', pdf, '--paper', 'letter');
    const same = await verify(pdf);
    expect([same.code, same.out]).toEqual([0, expect.stringContaining('byte for byte')]);
    appendFileSync(pdf, ' ');
    const altered = await verify(pdf);
    expect([altered.code, altered.err]).toEqual([3, expect.stringContaining('altered')]);
  });

  it('knows the data it wrote, in whatever order, and the same with one figure changed', async () => {
    const file = join(folder, 'record.json');
    const { out } = await record('--json');
    writeFileSync(file, out);
    const same = await verify(file);
    expect([same.code, same.out]).toEqual([0, expect.stringContaining('These data are')]);
    const said = z.record(z.string(), z.unknown()).parse(JSON.parse(out));
    writeFileSync(file, JSON.stringify(Object.fromEntries(Object.entries(said).reverse())));
    expect((await verify(file)).code).toBe(0);
    writeFileSync(file, out.replace('LQV 164', 'LQV 165'));
    const altered = await verify(file);
    expect([altered.code, altered.err]).toEqual([3, expect.stringContaining('altered')]);
  });

  it('says what was entered since', async () => {
    const pdf = join(folder, 'd.pdf');
    await record('--pdf', pdf);
    const told = await commandLine(['job', job, '--tell', 'tell.ndjson'], {
      'tell.ndjson': '{"kind":"add-note","text":"Customer called."}\n',
    });
    expect(told.code).toBe(0);
    const later = await verify(pdf);
    expect([later.code, later.out]).toEqual([0, expect.stringContaining('1 entry came after it: 1 note')]);
  });

  it('refuses what is no record, and a file that is not there', async () => {
    const text = join(folder, 'text.txt');
    writeFileSync(text, 'nothing');
    expect((await verify(text)).code).toBe(2);
    expect((await verify(join(folder, 'none.pdf'))).code).toBe(2);
  });
});
