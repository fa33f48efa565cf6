import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import { commandLine } from '../support/command-line';

/** Computed from R = 1000 exp(3800 (1/T - 1/298.15)), rounded to 0.1 ohm. */
const beta = (temperatureCelsius: number): string =>
  (1000 * Math.exp(3800 * (1 / (temperatureCelsius + 273.15) - 1 / 298.15))).toFixed(1);
const temperaturesCelsius = [20, 40, 60, 80, 100];
const rows = temperaturesCelsius.map((value) => `${value},${beta(value)}`);
const good = ['temperature_C,resistance_ohm', ...rows, ''].join('\n');

const Answer = z.object({
  kind: z.literal('sender'),
  unit: z.string(),
  model: z.string(),
  coefficients: z.array(
    z.object({ name: z.string(), value: z.number(), standard_uncertainty: z.number().nullable() }),
  ),
  residuals: z.array(z.object({ residual: z.number(), residual_ohm: z.number() })),
  residual_sum_of_squares: z.number(),
  beta_25_85_K: z.number().nullable(),
  pairwise_beta: z.array(z.object({ beta_K: z.number(), plausible: z.boolean() })),
  points: z.array(z.object({ value: z.number(), resistance_ohm: z.number() })),
  table: z.array(z.object({ value: z.number(), resistance_ohm: z.number(), extrapolated: z.boolean() })),
  warnings: z.array(z.string()),
});

async function answer(argv: readonly string[], text: string): Promise<z.infer<typeof Answer>> {
  const ran = await commandLine(['sender', 'x.csv', '--json', ...argv], { 'x.csv': text });
  expect(ran.err, ran.err).not.toContain('fault of this program');
  expect(ran.code).toBe(0);
  return Answer.parse(ran.json());
}

describe('sender', () => {
  it('finds the Beta that made the points and looks up both ways', async () => {
    const found = await answer(['--model', 'beta', '--at', '50', '--ohm', beta(70)], good);
    expect(found.coefficients.find(({ name }) => /beta/i.test(name))?.value).toBeCloseTo(3800, -1);
    expect(found.beta_25_85_K).toBeCloseTo(3800, -1);
    expect(found.table[0]?.resistance_ohm).toBeCloseTo(Number(beta(50)), 0);
    expect(found.table[1]?.value).toBeCloseTo(70, 1);
  });

  it('takes Fahrenheit, kilo-ohm, brackets and capitals by the header alone', async () => {
    const plain = await answer(['--model', 'beta'], good);
    const text = ['Temperature (°F);Resistance [kOhm]']
      .concat(
        temperaturesCelsius.map((value) =>
          `${value * 1.8 + 32};${(Number(beta(value)) / 1000).toFixed(4)}`.replaceAll('.', ','),
        ),
      )
      .join('\r\n');
    const other = await answer(['--model', 'beta'], text);
    expect(other.unit).toBe('degF');
    expect(other.points[0]).toEqual({ value: 68, resistance_ohm: Number(beta(20)) });
    expect(other.beta_25_85_K).toBeCloseTo(plain.beta_25_85_K ?? 0, 0);
  });

  it('reads its own JSON back to the same answer', async () => {
    const first = await commandLine(['sender', 'x.csv', '--json'], { 'x.csv': good });
    const second = await commandLine(['sender', 'x.json', '--json'], { 'x.json': first.out });
    const asSender = (text: string) => Answer.parse(JSON.parse(text));
    expect(asSender(second.out).coefficients).toEqual(asSender(first.out).coefficients);
  });

  it('reads standard input for a file named -', async () => {
    expect((await commandLine(['sender', '-', '--json'], { '-': good })).code).toBe(0);
  });

  it('uses a level sender in percent and a pressure sender in psi', async () => {
    expect((await answer([], 'level (%),ohm\n0,240\n50,103\n100,33\n')).unit).toBe('%');
    expect((await answer([], 'psi,ohm\n0,240\n40,103\n80,33\n')).unit).toBe('psi');
  });

  it('says so, on standard error and in the JSON, when Beta is not plausible', async () => {
    const ran = await commandLine(['sender', 'x.csv', '--json'], {
      'x.csv': 'temperature_C,resistance_ohm\n20,1000\n40,300\n60,100\n80,38\n',
    });
    const found = Answer.parse(ran.json());
    expect(found.pairwise_beta.some(({ plausible }) => !plausible)).toBe(true);
    expect(found.warnings.join(' ')).toMatch(/B|beta/i);
    for (const warning of found.warnings) expect(ran.err).toContain(warning);
  });

  it('keeps a remark beyond the last column out and says so', async () => {
    const found = await answer([], good.replace(rows[1] ?? '', `${rows[1]},fan came on`));
    expect(found.points).toHaveLength(5);
    expect(found.warnings).toContain(
      'x.csv, row 3: "fan came on" stands beyond the last column and is not used',
    );
  });

  it('says which column it does not use', async () => {
    const found = await answer([], 'temperature_C,resistance_ohm,who\n20,1000,A\n40,440,B\n60,210,A\n');
    expect(found.warnings).toContain('x.csv: column "who" is not used');
  });
});

describe('a sender file with a fault', () => {
  const zoo: readonly (readonly [string, string, string])[] = [
    ['nothing', '', 'x.csv: the file is empty'],
    ['a header alone', 'temperature_C,resistance_ohm\n', 'x.csv: there is a header row and nothing below it'],
    ['no header', '20,1000\n40,400\n', 'x.csv, row 1: the header row is missing'],
    [
      'no resistance',
      'temperature_C,ohmz\n20,1\n',
      'x.csv, row 1: there is no column resistance_ohm; the columns are "temperature_C", "ohmz"',
    ],
    [
      'a misspelt column',
      'temperature_C,resistence\n20,1\n',
      'there is no column resistance_ohm; the columns are "temperature_C", "resistence"',
    ],
    [
      'a column without unit',
      'temperature,resistance_ohm\n20,1\n',
      'x.csv, row 1, column temperature: this column does not say its unit; name it temperature_C or temperature_F or temperature_K',
    ],
    [
      'a column twice',
      'temperature_C,temp_F,resistance_ohm\n20,68,1\n',
      'columns "temperature_C" and "temp_F" mean the same',
    ],
    ['two kinds of value', 'temperature_C,psi,resistance_ohm\n20,68,1\n', 'both give the value of a sender'],
    [
      'a word for a number',
      'temperature_C,resistance_ohm\n20,1000\n40,open\n',
      'x.csv, row 3, column resistance_ohm: "open" is not a number',
    ],
    [
      'an empty cell',
      'temperature_C,resistance_ohm\n20,\n40,400\n',
      'x.csv, row 2, column resistance_ohm: the cell is empty',
    ],
    [
      'a row that ends early',
      'temperature_C,resistance_ohm\n20\n40,400\n',
      'x.csv, row 2, column resistance_ohm: the cell is empty',
    ],
    [
      'a negative resistance',
      'temperature_C,resistance_ohm\n20,-5\n40,400\n',
      'row 2, column resistance_ohm: -5: it cannot be negative',
    ],
    [
      'decimal commas between commas',
      'temperature_C,resistance_ohm\n20,5,1000,2\n',
      'with decimal commas, separate the columns by semicolons',
    ],
    [
      'a number that can mean two',
      'temperature_C\tresistance_ohm\n20\t1,200\n40\t400\n',
      '"1,200" can mean 1200 or 1.200',
    ],
    [
      'a point among decimal commas',
      'temperature_C;resistance_ohm\n20,5;1.200\n40;400\n',
      '"1.200" can mean 1200 or 1.200',
    ],
    [
      'an open quote',
      'temperature_C,resistance_ohm\n"20,1000\n',
      'row 2: a quote is opened and never closed',
    ],
    [
      'several bad cells',
      'temperature_C,resistance_ohm\nx,1\ny,2\n30,z\n',
      'column temperature_C: "x" is not a number; type it like 120, 1.2k or 1k2 (also bad: row 3 temperature_C, row 4 resistance_ohm)',
    ],
    [
      'less than absolute zero',
      'temperature_F,resistance_ohm\n\n68,1000\n-460,2000\n',
      'row 4, column temperature_F: -460 degF is below absolute zero',
    ],
    [
      'a shorted thermistor',
      'R (ohm),T (C)\n1000,20\n0,40\n',
      'row 3, column R (ohm): The resistance is 0 ohm. A temperature sender has more',
    ],
    [
      'ohms among temperatures',
      'temperature_C,resistance_ohm\n20,1k\n40 ohm,400\n',
      'row 3, column temperature_C: "40 ohm" is in ohm; this column is in degC',
    ],
    ['broken JSON', '{"kind": "sender",', 'x.csv: this is not valid JSON'],
    [
      'JSON of another kind',
      '{"kind": "curve", "points": []}',
      'this holds a curve, a sender is needed here; are two files swapped?',
    ],
    ['JSON of no kind', '[1, 2]', 'this JSON is not what "needlewright sender --json" writes'],
  ];

  it.each(zoo)('(%s) exits 2 with one line that names the place', async (_, text, why) => {
    const { code, out, err } = await commandLine(['sender', 'x.csv', '--json'], { 'x.csv': text });
    expect(err).toContain(why);
    expect(err.split('\n')).toHaveLength(1);
    expect(code).toBe(2);
    expect(out).toBe('');
  });

  it('covers the whole zoo', () => expect(zoo).toHaveLength(23));

  it('exits 3 when the points are read and no law fits them', async () => {
    const turning = 'temperature_C,resistance_ohm\n20,1000\n40,400\n60,900\n80,200\n';
    const { code, json, err } = await commandLine(['sender', 'x.csv', '--json'], { 'x.csv': turning });
    expect(code).toBe(3);
    expect(json()).toMatchObject({ refused: { code: 'SENDER_NOT_MONOTONE' } });
    expect(err).toContain('x.csv: ');
  });
});

describe('a table asked beyond its ends', () => {
  const far = 'temperature_C,resistance_ohm\n0,357012\n10,209710\n20,127080\n25,100000\n30,79222\n40,50677\n';

  it('answers what it can and names what it cannot', async () => {
    const ran = await commandLine(['sender', 'x.csv', '--model', 'table', '--ohm', '100000,1', '--json'], {
      'x.csv': far,
    });
    expect(ran.code, ran.err).toBe(0);
    expect(Answer.parse(ran.json()).table.map(({ value }) => value)).toEqual([25]);
    expect(ran.err).toContain('not answered: --ohm 1:');
  });

  it('exits 3 where nothing could be answered', async () => {
    const ran = await commandLine(['sender', 'x.csv', '--model', 'table', '--ohm', '1'], { 'x.csv': far });
    expect(ran.code).toBe(3);
  });
});

describe('sender: what a table likely is instead', () => {
  it.each([
    ['degrees Fahrenheit', 'temperature_C,resistance_ohm\n68,1249\n104,532.5\n176,126.2\n248,39.15', /_F/],
    ['swapped columns', 'temperature_C,resistance_ohm\n1249,20\n532.5,40\n248.7,60', /columns are swapped/],
    ['psi', 'pressure_bar,resistance_ohm\n0,240\n30,150\n60,100\n100,33', /_psi/],
  ])('%s', async (_, text, hint) => {
    expect((await answer(['--model', 'table'], text)).warnings.join('\n')).toMatch(hint);
  });

  it('keeps quiet about values that senders have', async () => {
    const text = 'pressure_bar,resistance_ohm\n0,10\n5,100\n10,180';
    expect((await answer(['--model', 'table'], text)).warnings.join('\n')).not.toMatch(/more than|swapped/);
  });

  it('says of a unit that is not known which are', async () => {
    const ran = await commandLine(['sender', 'x.csv'], {
      'x.csv': 'pressure_MPa,resistance_ohm\n0,10\n1,180',
    });
    expect(ran.code).toBe(2);
    expect(ran.err).toMatch(/the unit MPa of "pressure_MPa" is not known here: kPa, bar, psi are/);
  });
});

describe('a command without what it needs', () => {
  it.each(['sender', 'curve'])('%s says that the file is missing', async (name) => {
    const ran = await commandLine([name], {});
    expect(ran.code).toBe(2);
    expect(ran.err).toMatch(/the file is missing \(\w+\.csv\); usage/);
  });
});
