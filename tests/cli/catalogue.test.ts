import { mkdir, mkdtemp, rm, writeFile } from 'node:fs/promises';
import { readFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { z } from 'zod';
import { commandLine, type Files, type Ran } from '../support/command-line';

let folder = '';
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'catalogue-'));
});
afterEach(() => rm(folder, { recursive: true, force: true }));

/** A gauge with two coils: the needle stands by R / (R + r). */
const csv = (ohmAtMiddle: number, shift = 0): string =>
  [
    'resistance_ohm,reading_percent',
    ...[8, 15, 30, 60, 120, 240].map(
      (ohm) => `${ohm},${((100 * ohm) / (ohm + ohmAtMiddle) + shift).toFixed(1)}`,
    ),
  ].join('\n');
const sender = 'level_percent,resistance_ohm\n0,3\n25,25\n50,48\n75,70\n100,92\n';
const demo = readFileSync(new URL('../../demo-sessions/tern-1100-fuel/job.ndjson', import.meta.url), 'utf8');

const run = (words: readonly string[], files: Files = {}): Promise<Ran> =>
  commandLine(['catalogue', ...words, '--catalogue', folder], files);

const Cards = z.looseObject({ cards: z.array(z.looseObject({ id: z.string() })) });
const idsOf = (ran: Ran): string[] => Cards.parse(ran.json()).cards.map(({ id }) => id);
const add = async (files: Files, ...options: string[]): Promise<string[]> =>
  idsOf(await run(['add', ...Object.keys(files), ...options, '--json'], files));

describe('catalogue add', () => {
  it('keeps a curve once, and knows it again', async () => {
    const [id] = await add({ 'a.csv': csv(40) });
    const again = await run(['add', 'a.csv', '--json'], { 'a.csv': csv(40) });
    expect(again.json()).toMatchObject({
      schema: 'needlewright/catalogue-add/1',
      cards: [{ id, new: false, what: 'fuel gauge', points: 6 }],
    });
    expect(idsOf(await run(['list', '--json']))).toEqual([id]);
  });

  it('keeps gauge and sender of a job, marked as simulated and left out of lists for ever', async () => {
    const ran = await run(['add', 'job.ndjson'], { 'job.ndjson': demo });
    expect(ran.code).toBe(0);
    expect(ran.out).toMatch(/kept {2}\w{10} {2}fuel gauge, \d+ points {2}SIMULATED/);
    expect(ran.out).toMatch(/fuel sender/);
    const list = await run(['list']);
    expect(list.out).toMatch(/no such card/);
    expect(list.err).toMatch(/2 simulated cards are left out; --simulated shows them/);
    expect((await run(['list', '--simulated'])).out).toMatch(/SIMULATED/);
  });

  it('leaves a bad row out, says which and why, and keeps the others', async () => {
    const bad = csv(40).replace('30,', 'thirty,');
    const ran = await run(['add', 'a.csv', '--json'], { 'a.csv': bad });
    expect(ran.code).toBe(0);
    expect(ran.json()).toMatchObject({ cards: [{ points: 5 }], left_out: [{ file: 'a.csv', row: 4 }] });
    expect(ran.err).toMatch(/a\.csv, row 4: left out, resistance_ohm: "thirty" is not a number/);
  });

  const rows = (ohmAtMiddle: number, from = ''): string[] =>
    csv(ohmAtMiddle)
      .split('\n')
      .slice(1)
      .map((row) => `${from}${row}`);
  const descriptions = async (): Promise<string[]> => {
    const Listed = z.looseObject({ cards: z.array(z.looseObject({ description: z.string() })) });
    return Listed.parse((await run(['list', '--json'])).json())
      .cards.map(({ description }) => description)
      .sort();
  };

  it('takes several curves from one table that says which part a row is of', async () => {
    const table = ['part,resistance_ohm,reading_percent', ...rows(40, '"white one",'), ...rows(60, 'black,')];
    table[3] = table[3]!.replace(/,[^,]*,/, ',thirty,');
    const ran = await run(['import', 'shop.csv', '--json'], { 'shop.csv': table.join('\n') });
    expect(ran.json()).toMatchObject({
      cards: [{ points: 5 }, { points: 6 }],
      left_out: [{ file: 'shop.csv', row: 4 }],
    });
    expect(await descriptions()).toEqual(['shop, black', 'shop, white one']);
  });

  it('takes tables that stand below each other, and keeps the good where one is none', async () => {
    const text = [
      'Tern, first',
      'resistance_ohm,reading_percent',
      ...rows(40),
      '',
      'Coolant sender',
      'temperature_degC;resistance_ohm',
      ...['40;1200', '60;600', '80;300', '100;160'],
      '',
      'colour,shape',
      'red,round',
    ]
      .join('\n')
      .replace('Tern, first', 'Tern first');
    const ran = await run(['import', '-', '--json'], { '-': text });
    expect(ran.json()).toMatchObject({
      cards: [
        { what: 'fuel gauge', points: 6 },
        { what: 'temperature sender', points: 4 },
      ],
      left_out: [{ file: 'standard input' }],
    });
    expect((await descriptions()).some((each) => /Coolant sender$/.test(each))).toBe(true);
  });

  it.each([
    ['a file that is not there', ['add', 'none.csv'], 2, /none.csv: there is no such file/],
    ['nothing named', ['add'], 2, /usage: needlewright catalogue add JOB\|FILE/],
    ['a word that is none', ['lsit'], 2, /did you mean list/],
    [
      'a card that is not there: CARD_UNKNOWN',
      ['show', 'abc'],
      3,
      /No card of the catalogue is called "abc"/,
    ],
    [
      'a model that is not there: MODEL_UNKNOWN',
      ['model', 'Harrow'],
      3,
      /No card belongs to a model "Harrow"/,
    ],
    ['a withdrawal without a reason', ['withdraw', 'abc'], 2, /--because is missing/],
    ['a family that is none', ['list', '--family', 'low'], 2, /such as 240-33/],
  ])('refuses %s', async (_, words, code, message) => {
    const ran = await run(words);
    expect(ran.code).toBe(code);
    expect(ran.err).toMatch(message);
    expect(ran.err.split('\n')).toHaveLength(1);
  });

  it('refuses a job without a finished sweep: CATALOGUE_NOTHING_FINISHED', async () => {
    const opened = `${demo.split('\n')[0] ?? ''}\n`;
    const ran = await run(['add', 'job.ndjson', '--json'], { 'job.ndjson': opened });
    expect(ran.code).toBe(3);
    expect(ran.json()).toMatchObject({ refused: { code: 'CATALOGUE_NOTHING_FINISHED' } });
  });
});

describe('catalogue list, show and find', () => {
  it('shows the readings as they were given, and the curve as this program fits it', async () => {
    const [id = ''] = await add({ 'a.csv': csv(40) }, '--description', 'Tern 1100, part 4711');
    const ran = await run(['show', id.slice(0, 4).toUpperCase(), '--json']);
    expect(ran.json()).toMatchObject({
      id,
      description: 'Tern 1100, part 4711',
      card: { points: [{ resistance_ohm: 8, reading: 16.7 }, {}, {}, {}, {}, {}] },
      curve: { kind: 'curve', unit: '%' },
    });
    expect((await run(['show', id])).out).toMatch(/law through 6 readings/);
  });

  it('lists by kind and by the ohms at the ends', async () => {
    const [gauge] = await add({ 'a.csv': csv(40) });
    const [level] = await add({ 's.csv': sender });
    expect(idsOf(await run(['list', '--kind', 'sender', '--json']))).toEqual([level]);
    expect(idsOf(await run(['list', '--family', '3-92', '--json']))).toEqual([level]);
    expect(idsOf(await run(['list', '--family', '240-33', '--json']))).toEqual([]);
    expect(idsOf(await run(['list', '--json'])).sort()).toEqual([gauge, level].sort());
  });

  it('finds by words and by ohms with their places, and says because of which', async () => {
    await add({ 'a.csv': csv(40) }, '--description', 'thread M14x1.5, Harrow');
    const [level] = await add({ 's.csv': sender }, '--description', 'Wren tank unit, two terminals');
    const ran = await run(['find', '90 ohm full, 3 empty, two terminals', '--json']);
    expect(idsOf(ran)[0]).toBe(level);
    expect(ran.json()).toMatchObject({
      cards: [{ matched: ['2', 'terminals', '90 ohm at the high end', '3 ohm at the low end'] }],
    });
    expect((await run(['find', 'm14x1.5'])).out).toMatch(/because of: m14x1.5/);
    expect((await run(['find', 'zeppelin'])).out).toBe('no card has any of these words');
  });
});

describe('catalogue model', () => {
  const files: Files = { 'a.csv': csv(40), 'b.csv': csv(40, 1.5), 'c.csv': csv(40, -1) };

  it('says how far the next specimen may differ', async () => {
    await add(files, '--model', 'Tern 1100 fuel');
    const ran = await run(['model', 'tern  1100 FUEL', '--json']);
    const { counted, marks } = z
      .looseObject({
        counted: z.number(),
        marks: z.array(
          z.looseObject({
            at: z.number(),
            middle: z.number(),
            next_95: z.object({ from: z.number(), to: z.number() }),
          }),
        ),
      })
      .parse(ran.json());
    expect(counted).toBe(3);
    expect(marks.length).toBeGreaterThan(3);
    for (const { at, middle, next_95: next } of marks) {
      expect(Math.abs(middle - (100 * at) / (at + 40))).toBeLessThan(2);
      expect(next.from).toBeLessThan(middle - 1);
      expect(next.to).toBeGreaterThan(middle + 1);
      expect(next.to - next.from).toBeLessThan(30);
    }
  });

  it('names what is no specimen of it, and counts no more what is withdrawn', async () => {
    const ids = await add({ ...files, 'd.csv': csv(40, 0.7), 'e.csv': csv(160) });
    await run(['model', 'Tern 1100 fuel', ...ids]);
    const odd = ids[4] ?? '';
    expect((await run(['model', 'Tern 1100 fuel'])).out).toContain(
      `${odd} lies where the others would not have put it`,
    );
    expect((await run(['withdraw', odd, '--because', 'another gauge'])).code).toBe(0);
    const after = await run(['model', 'Tern 1100 fuel']);
    expect(after.out).toMatch(/^Tern 1100 fuel: 4 specimens/);
    expect(after.out).toMatch(/withdrawn: another gauge/);
    expect(after.out).not.toMatch(/lies where the others/);
  });

  it('counts a specimen once that was measured twice, and knows a model by its other name', async () => {
    const ids = await add(files, '--model', 'Tern 1100 fuel');
    await run(['same', ids[0] ?? '', ids[1] ?? '']);
    await run(['model', 'Tern 1100 fuel', '--also', 'Gauge 30']);
    const ran = await run(['model', 'gauge 30', '--json']);
    expect(ran.json()).toMatchObject({ marks: [{ specimens: 2 }, {}, {}, {}, {}] });
  });
});

describe('catalogue import', () => {
  it('takes a folder in, file by file and row by row', async () => {
    const inbox = join(folder, 'inbox');
    await mkdir(join(inbox, 'deep'), { recursive: true });
    const files: Record<string, string> = {
      [join(inbox, 'a.csv')]: csv(40),
      [join(inbox, 'b.csv')]: csv(55).replace('60,', '-60,'),
      [join(inbox, 'deep', 'c.csv')]: sender,
      [join(inbox, 'notes.txt')]: 'call the shop on Monday',
    };
    for (const [path, text] of Object.entries(files)) await writeFile(path, text);
    const dry = await run(['import', inbox, '--dry-run', '--json'], files);
    expect(dry.json()).toMatchObject({ dry_run: true, cards: [{}, {}, {}] });
    expect(idsOf(await run(['list', '--json']))).toEqual([]);
    const ran = await run(['import', inbox], files);
    expect(ran.code).toBe(0);
    expect(ran.out).toMatch(/3 cards kept, 2 rows or files left out/);
    expect(ran.err).toMatch(/b\.csv, row 5: left out, resistance_ohm: -60: it cannot be negative/);
    expect(ran.err).toMatch(/notes\.txt: left out/);
    expect(idsOf(await run(['list', '--json']))).toHaveLength(3);
    expect((await run(['import', inbox], files)).out).toMatch(/0 cards kept, 3 known already, 2 rows/);
  });

  it('is bad input where no curve is in it', async () => {
    const ran = await run(['import', 'x.csv'], { 'x.csv': 'a,b\nc,d\n' });
    expect(ran.code).toBe(2);
    expect(ran.err).toMatch(/no curve in it/);
  });
});

describe('identify from the catalogue', () => {
  const Found = z.looseObject({
    verdict: z.string(),
    ranking: z.array(
      z.object({ names: z.array(z.string()), probability: z.number(), cards: z.array(z.string()) }),
    ),
    none: z.object({ probability: z.number(), prior: z.number() }),
    next: z
      .looseObject({ at: z.number(), expected: z.array(z.object({ name: z.string(), value: z.number() })) })
      .nullable(),
  });
  const ask = async (text: string): Promise<z.infer<typeof Found>> =>
    Found.parse(
      (await commandLine(['identify', 'q.csv', '--catalogue', folder, '--json'], { 'q.csv': text })).json(),
    );
  const three = (ohmAtMiddle: number): string =>
    `resistance_ohm,reading_percent\n${[20, 50, 110].map((ohm) => `${ohm},${((100 * ohm) / (ohm + ohmAtMiddle) + 0.6).toFixed(1)}`).join('\n')}\n`;

  it('names the model, not one of its cards, and says what else it may be', async () => {
    await add({ 'a.csv': csv(40), 'b.csv': csv(40, 1) }, '--model', 'Tern 1100 fuel');
    await add({ 'c.csv': csv(90) }, '--model', 'Harrow fuel');
    const { ranking, none } = await ask(three(40));
    expect(ranking[0]?.names).toEqual(['Tern 1100 fuel']);
    expect(ranking[0]?.cards).toHaveLength(2);
    expect((ranking[0]?.probability ?? 0) + (ranking[1]?.probability ?? 0) + none.probability).toBeCloseTo(
      1,
      6,
    );
    const text = await commandLine(['identify', 'q.csv', '--catalogue', folder], { 'q.csv': three(40) });
    expect(text.out).toMatch(/none of these/);
  });

  it('says none of these for a gauge that is like no other', async () => {
    await add({ 'a.csv': csv(40) }, '--model', 'Tern 1100 fuel');
    const { none, verdict } = await ask('resistance_ohm,reading_percent\n10,95\n40,50\n200,4\n');
    expect(none.probability).toBeGreaterThan(0.9);
    expect(verdict).not.toBe('clear');
  });

  it('advises the reading that tells most between what is left, and no lower ohms than were dared', async () => {
    await add({ 'a.csv': csv(40) }, '--model', 'Tern 1100 fuel');
    await add({ 'b.csv': csv(62) }, '--model', 'Harrow fuel');
    const { next } = await ask('resistance_ohm,reading_percent\n30,38\n');
    expect(next?.at ?? 0).toBeGreaterThanOrEqual(29.9);
    expect(next?.expected.map(({ name }) => name).sort()).toEqual(['Harrow fuel', 'Tern 1100 fuel']);
  });

  it('knows a sender by a few points, in whatever unit they are', async () => {
    const [warm] = await add({ 's.csv': 'temperature_C,resistance_ohm\n20,1200\n60,290\n90,105\n110,60\n' });
    await add({ 't.csv': 'temperature_C,resistance_ohm\n20,500\n60,110\n90,40\n110,22\n' });
    const { ranking } = await ask('temperature_F,resistance_ohm\n104,580\n176,141\n');
    expect(ranking[0]?.names).toEqual([warm]);
  });

  it('refuses where the catalogue has nothing of the kind', async () => {
    const ran = await commandLine(['identify', 'q.csv', '--catalogue', folder, '--json'], {
      'q.csv': three(40),
    });
    expect(ran.code).toBe(3);
    expect(ran.json()).toMatchObject({ refused: { code: 'IDENTIFY_NO_CURVES' } });
  });
});

describe('the care of a catalogue', () => {
  it('verify finds it sound, rebuild gives the same', async () => {
    await add({ 'a.csv': csv(40), 's.csv': sender });
    const before = (await run(['list', '--json'])).out;
    expect((await run(['verify'])).out).toMatch(/^2 documents are sound; 2 cards fitted again gave the same/);
    expect((await run(['rebuild'])).out).toBe('2 cards worked out');
    expect((await run(['list', '--json'])).out).toBe(before);
  });

  it('erases the slip of a job and keeps its card: CARD_HAS_NO_SLIP afterwards', async () => {
    const [id = ''] = await add({ 'job.ndjson': demo });
    expect((await run(['show', id])).out).toMatch(/note: Vehicle: Tern 1100 van/);
    expect((await run(['erase-slip', id])).code).toBe(0);
    expect((await run(['show', id])).out).not.toMatch(/Vehicle/);
    const again = await run(['erase-slip', id, '--json']);
    expect(again.json()).toMatchObject({ refused: { code: 'CARD_HAS_NO_SLIP' } });
  });

  it('takes the demo in for who has nothing yet, marked, and out again with one word', async () => {
    await add({ 'a.csv': csv(40) });
    expect((await run(['demo'])).out).toMatch(/^\d+ new documents; its cards are marked "demo"/);
    const listed = (await run(['list', '--kind', 'gauge'])).out.split('\n');
    expect(listed.filter((line) => /\bdemo\b/.test(line)).length).toBeGreaterThanOrEqual(60);
    expect((await run(['demo'])).out).toMatch(/^0 new documents/);
    expect((await run(['demo', '--remove'])).out).toMatch(/nothing else was touched$/);
    expect((await run(['list'])).out.split('\n').filter((line) => /gauge/.test(line))).toHaveLength(1);
  });
});

describe('a card in place of a file', () => {
  const Ranked = z.looseObject({
    senders: z.array(
      z.looseObject({ sender: z.string(), worst_error_alone: z.number(), worst_error: z.number() }),
    ),
  });
  const home = (): Record<string, string> => ({ NEEDLEWRIGHT_HOME: folder });

  it('is the curve of its readings, and its sender the best of the catalogue for the gauge it belongs to', async () => {
    const [gauge = ''] = await add({ 'g.csv': csv(60) });
    // The float that gauge was made for: ohms at the level at which each reading of the table was taken.
    const own = [8, 30, 60, 120].map((ohm) => `${((100 * ohm) / (ohm + 60)).toFixed(2)},${ohm}`);
    const ownCsv = ['level_percent,resistance_ohm', ...own].join('\n');
    await add({ 'own.csv': ownCsv }, '--model', 'Own float');
    await add({ 'other.csv': sender }, '--model', 'Other float');
    const curve = await commandLine(['curve', gauge, '--json'], {}, [], home());
    expect(curve.code).toBe(0);
    expect(curve.json()).toMatchObject({ unit: '%' });
    const ranked = await commandLine(['match', '--gauge', gauge, '--json'], {}, [], home());
    const { senders } = Ranked.parse(ranked.json());
    expect(senders.map(({ sender: name }) => name)).toEqual(['Own float', 'Other float']);
    expect(senders[0]?.worst_error_alone).toBeLessThan(3);
    expect(senders[1]?.worst_error).toBeGreaterThan(senders[0]?.worst_error ?? Infinity);
  });

  it('is said to be of the other kind, or not there, as a file would be', async () => {
    const [gauge = ''] = await add({ 'g.csv': csv(60) });
    const asSender = await commandLine(['sender', gauge], {}, [], home());
    expect([asSender.code, asSender.err]).toEqual([2, expect.stringContaining('this card is of a gauge')]);
    const gone = await commandLine(['curve', 'zzzzzzzzzz'], {}, [], home());
    expect([gone.code, gone.err]).toEqual([2, expect.stringContaining('there is no such file')]);
    const none = await commandLine(['match', '--gauge', gauge, '--json'], {}, [], home());
    expect([none.code, none.json()]).toMatchObject([3, { refused: { code: 'IDENTIFY_NO_CURVES' } }]);
  });
});
