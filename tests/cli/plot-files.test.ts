import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { answerShapes } from '../../host/cli/output/schemas';
import { commandLine } from '../support/command-line';

/** A coolant gauge as somebody wrote it down. Made for this test: no vehicle behind it. */
const GAUGE = `resistance_ohm,reading_C,leg,u_reading,u_resistance_ohm
450,40,up,0.8,20
220,59,up,0.8,20
100,84,up,0.8,9
70,96,up,0.8,9
40,118,up,0.8,9
100,82.5,down,0.8,9
`;
const SENDER = 'temperature_C,resistance_ohm\n30,700\n60,235\n80,122\n100,68\n120,40\n';
const PAIRS = 'reading_C,temperature_C,u_temperature_C\n58,60,0.5\n81,80,0.5\n112,110,0.5\n';
const files = { 'gauge.csv': GAUGE, 'sender.csv': SENDER, 'pairs.csv': PAIRS, '-': GAUGE };

const plot = (argv: readonly string[], more: Readonly<Record<string, string>> = {}) =>
  commandLine(['plot', ...argv], { ...files, ...more });

/** Heights of level lines in the colour of a limit, from the top. */
const limitHeights = (svg: string): number[] =>
  [...svg.matchAll(/<path d="M([\d.]+) ([\d.]+)L([\d.]+) \2" fill="none" stroke="#b01e0e"/g)]
    .map(([, , y]) => Number(y))
    .sort((one, other) => one - other);

/** Height of a figure of the upright axis. */
const heightOf = (svg: string, figure: string): number => {
  const found = new RegExp(`y="([\\d.]+)"[^>]*>${figure.replace('+', '\\+')}</text>`).exec(svg);
  return Number(found?.[1]);
};

describe('plot of what is no job', () => {
  it.each([
    ['a table of ohms and readings', ['gauge.csv'], 'what the gauge wants'],
    ['a pasted table', ['-'], 'Pasted table'],
    ['a sender', ['sender.csv'], 'Ohms the sender gives'],
    ['a gauge and a sender', ['gauge.csv', '--sender', 'sender.csv'], 'what the sender gives'],
    [
      'what trim reckons',
      ['--gauge', 'gauge.csv', '--sender', 'sender.csv', '--of', 'errors'],
      'limit \u00b1',
    ],
    ['pairs of reference and needle', ['pairs.csv', '--scale', '40,120'], 'limit 5 % of the scale'],
  ])('draws %s as one SVG with title, unit and letters within', async (_, argv, says) => {
    const { code, out, err } = await plot([...argv, '--title', 'Bench <3>']);
    expect(err.replaceAll(/^warning: .*$/gm, '').trim()).toBe('');
    expect(code).toBe(0);
    expect(out).toMatch(/^<svg xmlns="http:\/\/www\.w3\.org\/2000\/svg" width="640" [\s\S]*<\/svg>$/);
    expect(out).toContain('>Bench &lt;3&gt;</text>');
    expect(out).toContain('\u00b0C</text>');
    expect(out).toContain('@font-face');
    expect(out).not.toMatch(/NaN|Infinity|SIMULATED/);
    if (says !== 'Pasted table') expect(out).toContain(says);
  });

  it('answers in JSON by its schema, warnings and all', async () => {
    const { json } = await plot(['gauge.csv', '--json']);
    const { of, svg, written } = answerShapes.plot.strict().parse(json());
    expect([of, written, svg.slice(0, 4)]).toEqual(['curve', null, '<svg']);
  });

  it('calls a pasted table one, and a file by its name', async () => {
    expect((await plot(['-'])).out).toContain('>Pasted table</text>');
    expect((await plot(['gauge.csv'])).out).toContain('>gauge</text>');
  });

  it('draws each reading, and a bar where its uncertainty was given', async () => {
    const { out } = await plot(['gauge.csv']);
    const circles = (fill: string): number =>
      out.match(new RegExp(`<path d="M[^"]*a3\\.2 3\\.2[^"]*" fill="${fill}"`, 'g'))?.length ?? 0;
    expect([circles('#15201b'), circles('#ffffff')]).toEqual([5, 1]);
    const bars = (svg: string): number =>
      svg.match(/M[\d. ]+L[\d. ]+M[\d. ]+[hv]6M[\d. ]+[hv]6/g)?.length ?? 0;
    // One level and one upright bar a reading.
    expect(bars(out)).toBe(12);
    const bare = await plot(['bare.csv'], {
      'bare.csv': 'resistance_ohm,reading_C\n450,40\n100,84\n40,118\n',
    });
    expect(bars(bare.out)).toBe(0);
    expect(bare.out).not.toContain('Bars:');
  });

  it('lays the dial out in its own marks', async () => {
    const { out } = await plot(['gauge.csv', '--marks', 'C=40,1/2=80,H=120']);
    for (const mark of ['C', '1/2', 'H']) expect(out).toContain(`>${mark}</text>`);
    // Round figures where nobody said them, and the last encloses what was read.
    expect((await plot(['gauge.csv'])).out).toMatch(/>120 \u00b0C<\/text>/);
  });

  it('draws a limit where it stands: to both sides, lopsided, or stepped where a needle hides a danger', async () => {
    const lopsided = (await plot(['pairs.csv', '--scale', '40,120', '--limit', '-2,+4'])).out;
    const [upper = NaN, lower = NaN, ...none] = limitHeights(lopsided);
    expect(none).toEqual([]);
    const perDegree = (heightOf(lopsided, '0') - heightOf(lopsided, '+2')) / 2;
    expect((lower - upper) / perDegree).toBeCloseTo(6, 0);
    // 5 % of 80 degC is 4, and 2.5 % is 2: above both, below the second only where it is hot.
    const stepped = (await plot(['pairs.csv', '--marks', '40,80,120'])).out;
    const [top = NaN, alsoTop = NaN, tight = NaN, wide = NaN] = limitHeights(stepped);
    expect(alsoTop).toBe(top);
    const each = (heightOf(stepped, '0') - heightOf(stepped, '+2')) / 2;
    expect((tight - top) / each).toBeCloseTo(6, 0);
    expect((wide - top) / each).toBeCloseTo(8, 0);
  });

  it('draws the points alone where no curve can be had, and says why', async () => {
    const { code, out, err } = await plot(['two.csv'], {
      'two.csv': 'resistance_ohm,reading_C\n450,40\n100,84\n',
    });
    expect(code).toBe(0);
    expect(err).toMatch(/two\.csv: .*the points are drawn without a curve/);
    expect(out).toContain('no curve goes through them');
    expect(out.match(/a3\.2 3\.2/g)?.length).toBeGreaterThanOrEqual(2);
  });

  it.each([
    ['resistance_ohm,reading_C\n450,40\nabout 100,84\n', 'row 3, column resistance_ohm'],
    ['resistance_ohm,reading_C\n450,40\n100\n', 'row 3'],
    ['ohms of it,needle shows\n450,40\n', 'row 1'],
    ['temperature_C,resistance_ohm\n30,700\n40,-3\n', 'row 3, column resistance_ohm'],
    ['', 'mess.csv'],
  ])('refuses a messy file with its place: %j', async (text, place) => {
    const { code, out, err } = await plot(['mess.csv'], { 'mess.csv': text });
    expect(code).toBe(2);
    expect(out).toBe('');
    expect(err).toContain('mess.csv');
    expect(err).toContain(place);
    expect(err.split('\n')).toHaveLength(1);
  });

  it.each([
    [[], 'usage: needlewright plot'],
    [['gauge.csv', '--of', 'circuit'], 'a circuit is drawn of a job'],
    [['gauge.csv', '--of', 'errors'], '--sender CURVE'],
    [['pairs.csv', '--of', 'curve'], 'without ohms'],
    [['pairs.csv'], '--scale is missing'],
    [['gauge.csv', '--gauge', 'gauge.csv'], 'one thing is drawn at a time'],
    [['sender.csv', '--sender', 'sender.csv'], 'a gauge is named first'],
    [['gauge.csv', '--marks', '40'], 'at least two marks'],
    [['gauge.csv', '--marks', '40,x'], '--marks, "x"'],
    [['gauge.csv', '--marks', '40,40'], 'stands there twice'],
    [['gauge.csv', '--unit', 'psi'], 'the file says degC'],
    [['gauge.csv', '--sender', 'oil.csv'], 'into the unit of the other'],
  ])('refuses %j and says what to do', async (argv, says) => {
    const { code, err } = await plot(argv, { 'oil.csv': 'pressure_bar,resistance_ohm\n0,10\n5,180\n' });
    expect(err).toContain(says);
    expect(code).toBe(2);
  });
});

describe('plot of the catalogue', () => {
  let home = '';
  const run = (argv: readonly string[], more: Readonly<Record<string, string>> = {}) =>
    commandLine(argv, more, [], { NEEDLEWRIGHT_HOME: home });
  const shifted = (by: number): string =>
    `resistance_ohm,reading_percent\n${[240, 160, 110, 75, 50, 33].map((ohm, i) => `${ohm},${20 * i + by}`).join('\n')}\n`;
  beforeAll(async () => {
    home = await mkdtemp(join(tmpdir(), 'needlewright-plot-'));
    const names = { 'a.csv': shifted(0), 'b.csv': shifted(2), 'c.csv': shifted(-1) };
    for (const file of ['a.csv', 'b.csv'])
      await run(['catalogue', 'add', file, '--model', 'Bench fuel gauge'], names);
    await run(['catalogue', 'add', 'c.csv', '--model', 'Bench fuel gauge', '--simulated'], names);
    await run(['catalogue', 'add', 's.csv', '--model', 'Bench sender'], { 's.csv': SENDER });
  });
  afterAll(() => rm(home, { recursive: true }));

  it('draws a model: its specimens one over the other, and from their middle with the band of the next', async () => {
    const model = ['plot', '--model', 'Bench fuel gauge'];
    const curves = await run(model);
    expect(curves.err).toContain('1 simulated card is left out');
    for (const says of ['>Bench fuel gauge</text>', 'A: a', 'B: b', '>100 %</text>', '\u03a9</text>'])
      expect(curves.out).toContain(says);
    expect(curves.out).not.toContain('SIMULATED');
    expect((await run([...model, '--simulated'])).out).toContain('>SIMULATED</text>');
    const errors = await run([...model, '--of', 'errors']);
    expect(errors.out).toContain('holds the next specimen 95 times of 100');
    expect(errors.out).not.toContain('NaN');
    const sender = await run(['plot', '--model', 'Bench sender', '--of', 'errors']);
    expect(sender).toMatchObject({ code: 3, out: '' });
  });

  it('draws a card, by its name', async () => {
    const list = await run(['catalogue', 'list', '--json']);
    const id = /"id": "([a-z2-7]+)"/.exec(list.out)?.[1] ?? '';
    expect(await run(['plot', id])).toMatchObject({ code: 0 });
  });

  it('refuses a model that nobody has, with the nearest name', async () => {
    const { code, err } = await run(['plot', '--model', 'Bench fuel gauges']);
    expect(code).toBe(3);
    expect(err).toContain('Bench fuel gauge');
  });
});
