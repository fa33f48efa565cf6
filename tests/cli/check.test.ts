import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import { commandLine } from '../support/command-line';

const Check = z.object({
  verdict: z.string(),
  sentence: z.string(),
  named: z.array(z.object({ part: z.string(), cause: z.string() })),
  next: z.object({ test: z.string(), why: z.string(), load_ohm: z.number().nullable() }).nullable(),
  evidence: z.array(z.object({ test: z.string(), weight: z.string(), value: z.number() })),
  others: z.array(z.object({ test: z.string() })),
  not_looked_at: z.array(z.string()),
  minutes: z.number(),
});

const FAMILY = ['--gauge', 'thermal-temperature', '--stands-at', '30'];
const check = async (rows: string, ...more: string[]) =>
  commandLine(['check', 'f.csv', ...FAMILY, ...more], { 'f.csv': rows });
const answer = async (rows: string, ...more: string[]) =>
  Check.parse((await check(rows, ...more, '--json')).json());

const CORRODED = [
  'test,value,unit',
  'as-found,11,%',
  'sender-plug,125,ohm',
  'middle-load,14,%',
  'loaded-volt,5.07,V',
  'open-volt,9.98,V',
  'wire-ohm,0.049,kohm',
  'wire-ohm,49.2 ohm,',
].join('\n');

describe('check', () => {
  it('starts from nothing with a test and what to expect of it', async () => {
    const { code, out } = await commandLine(['check', ...FAMILY]);
    expect(code).toBe(0);
    expect(out).toMatch(/Next: /);
    expect(out).not.toMatch(/\d+ ?% (sure|likely|chance)/);
  });

  it('names a corroded wire by its ohms, in any unit, with the evidence', async () => {
    const found = await answer(CORRODED);
    expect(found.named).toEqual([{ part: 'wire', cause: 'wire-corroded' }]);
    expect(found.sentence).toBe('It is the sender wire: corroded.');
    expect(found.next).toBeNull();
    expect(found.evidence.find(({ test }) => test === 'wire-ohm')).toMatchObject({ weight: 'strong' });
    expect(found.evidence.find(({ test }) => test === 'wire-ohm')?.value).toBeCloseTo(49.1, 1);
  });

  it('asks for a value again that hardly anybody expected', async () => {
    const rows = 'test;value;unit\nsender-plug;125;ohm\nsender-body;124,5;ohm\nbattery;1,25;V';
    expect((await answer(rows)).next).toMatchObject({ test: 'battery', why: 'read-again' });
  });

  it('tells a program and a person what cannot be looked at', async () => {
    const found = await answer('test,value,unit\nas-found,25,%', '--cannot', 'sender-plug,hex-ohm');
    expect(found.not_looked_at).toEqual(['sender-plug', 'hex-ohm']);
    expect(found.others.map(({ test }) => test)).not.toContain('sender-plug');
    const { out } = await check('test,value,unit\nas-found,25,%', '--cannot', 'sender-plug');
    expect(out).toMatch(/Not looked at: sender/);
  });

  it('keeps to what a person works with', async () => {
    const looking = await answer('test,value,unit\nas-found,25,%', '--way', 'looking');
    expect(looking.others.map(({ test }) => test)).not.toContain('middle-load');
    const resistors = await answer('test,value,unit\nas-found,25,%', '--way', 'resistors');
    expect(resistors.others.map(({ test }) => test)).toContain('middle-load');
    expect(resistors.others.map(({ test }) => test)).not.toContain('loaded-volt');
  });

  it('answers as its schema says', async () => {
    const schema = z.fromJSONSchema(z.looseObject({}).parse((await commandLine(['schema', 'check'])).json()));
    for (const more of [[], ['--way', 'meter'], ['--cannot', 'wire-ohm']])
      expect(
        schema.safeParse((await check('test,value,unit\nas-found,25,%', ...more, '--json')).json()).success,
      ).toBe(true);
    const simulated = await commandLine(['check', ...FAMILY, '--simulate', 'sender-open', '--json']);
    expect(schema.safeParse(simulated.json()).success).toBe(true);
  });

  it.each([
    ['wire-corroded', /It is the sender wire/],
    ['sender-open', /It is the sender: open/],
    ['stabiliser-closed', /It is the stabiliser/],
  ])('takes a simulated vehicle with %s from the start to the end', async (fault, words) => {
    const { code, out } = await commandLine(['check', ...FAMILY, '--simulate', fault, '--seed', '4']);
    expect(code).toBe(0);
    expect(out).toMatch(/^SIMULATED/);
    expect(out).toMatch(words);
    expect(out).toContain('Mend this, then check again');
  });
});

describe('positive ground', () => {
  const rows = 'test,value,unit\nas-found,25,%\nbattery,-12.5,V';

  it('is asked for by the sign, and is a fact once it is said', async () => {
    expect((await answer(rows)).next).toMatchObject({ test: 'grounded-post', why: 'sign' });
    const { out } = await check(`${rows}\ngrounded-post,yes,`);
    expect(out).toContain('Positive ground: a fact of this car, no fault.');
    const no = await answer(`${rows}\ngrounded-post,no,`);
    expect(no.next).toMatchObject({ test: 'battery', why: 'sign' });
  });

  it('is found out by itself in a simulated vehicle, and hides no fault', async () => {
    const argv = ['check', ...FAMILY, '--simulate', 'wire-corroded', '--seed', '4', '--positive-ground'];
    const { code, out } = await commandLine(argv);
    expect(code).toBe(0);
    expect(out).toMatch(/positive post is ground: yes/);
    expect(out).toMatch(/It is the sender wire/);
  });
});

describe('what check cannot use', () => {
  it.each([
    ['as-fond,25,%', /row 2, column test: .*did you mean as-found/],
    ['as-found,25,', /row 2, column unit: the unit is missing: %/],
    ['battery,12.4,ohm', /row 2, column unit: "ohm" does not fit: V or mV/],
    ['hex-loaded,20,V', /row 2, column value: .*another unit/],
    ['sender-plug,abc,ohm', /row 2, column value/],
    ['other-gauges,maybe,', /row 2, column value: "maybe": other-gauges is answered yes or no/],
    ['flat-step,3,%', /row 2, column test: .*cannot be done on this gauge/],
    ['case-loaded,30,mV', /row 2, column test: .*cannot be done on this gauge/],
  ])('is refused with its place: %s', async (row, words) => {
    const { code, err, out } = await check(`test,value,unit\n${row}`);
    expect(code).toBe(2);
    expect(err).toMatch(words);
    expect(err).toContain('f.csv');
    expect(out).toBe('');
  });

  it.each([
    [['check'], /--gauge is missing/],
    [['check', ...FAMILY, '--simulate', 'wire-corodded'], /did you mean wire-corroded/],
    [['check', ...FAMILY, '--simulate', 'case-wire'], /the faults are/],
    [['check', ...FAMILY, '--cannot', 'wire-ohms'], /did you mean wire-ohm/],
    [['check', ...FAMILY, '--ends', '40'], /two numbers of ohms/],
    [['check', 'f.csv', ...FAMILY], /no such file/],
  ])('is refused: %s', async (argv, words) => {
    const { code, err } = await commandLine(argv);
    expect(code).toBe(2);
    expect(err).toMatch(words);
  });
});
