import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import { commandLine } from '../support/command-line';

/** A thermal gauge by its law, readings in degC: reading = 10 + 90 * (70 / (60 + R))^2. */
const reading = (resistanceOhm: number): number => 10 + 90 * (70 / (60 + resistanceOhm)) ** 2;
const resistancesOhm = [10, 16, 25, 40, 65, 100, 160, 250];
const file = ['resistance_ohm,reading_C,leg']
  .concat(resistancesOhm.map((ohm) => `${ohm},${(reading(ohm) - 0.2).toFixed(2)},up`))
  .concat([...resistancesOhm].reverse().map((ohm) => `${ohm},${(reading(ohm) + 0.2).toFixed(2)},down`))
  .join('\n');

const Answer = z.object({
  kind: z.literal('curve'),
  unit: z.string(),
  quantity: z.string(),
  law: z.object({
    name: z.string(),
    forced: z.boolean(),
    parameters: z.array(
      z.object({ name: z.string(), value: z.number(), standard_uncertainty: z.number().nullable() }),
    ),
  }),
  points: z.array(
    z.object({ resistance_ohm: z.number(), reading: z.number(), residual: z.number(), role: z.string() }),
  ),
  marks: z.array(
    z.object({
      reading: z.number(),
      resistance_ohm: z.number(),
      expanded_uncertainty_ohm: z.number(),
      coverage_factor: z.number(),
    }),
  ),
  hysteresis: z.looseObject({
    measured: z.boolean(),
    largest: z.number().optional(),
    percent_of_span: z.number().optional(),
  }),
  repeatability: z.object({ standard_deviation: z.number(), degrees_of_freedom: z.number() }),
  plateaus: z.array(z.object({ from_ohm: z.number(), to_ohm: z.number(), reading: z.number() })),
  stops: z.array(z.looseObject({ side: z.string() })),
  predict: z.array(
    z.object({ resistance_ohm: z.number(), reading: z.number(), expanded_uncertainty: z.number() }),
  ),
  warnings: z.array(z.string()),
});

async function curve(text: string, ...argv: string[]): Promise<z.infer<typeof Answer>> {
  const ran = await commandLine(['curve', 'g.csv', '--json', ...argv], { 'g.csv': text });
  expect(ran.err).not.toContain('fault of this program');
  return Answer.parse(ran.json());
}

describe('curve', () => {
  it('gives each asked mark the resistance that the law says, within its stated uncertainty', async () => {
    const found = await curve(file, '--marks', '20,50,90');
    expect(found.marks.map(({ reading: mark }) => mark)).toEqual([20, 50, 90]);
    for (const mark of found.marks) {
      expect(Math.abs(reading(mark.resistance_ohm) - mark.reading)).toBeLessThan(0.6);
      expect(mark.expanded_uncertainty_ohm).toBeGreaterThan(0);
    }
    expect(found.quantity).toBe('temperature');
    expect(found.unit).toBe('degC');
  });

  it('reports every reading with its residual, up and down apart, and the reading at a resistance', async () => {
    const found = await curve(file, '--at', '50,120');
    expect(found.points).toHaveLength(16);
    expect(found.hysteresis.measured).toBe(true);
    expect(found.hysteresis.largest).toBeCloseTo(0.4, 1);
    expect(found.predict.map(({ resistance_ohm: ohm }) => ohm)).toEqual([50, 120]);
    for (const row of found.predict)
      expect(Math.abs(row.reading - reading(row.resistance_ohm))).toBeLessThan(0.5);
  });

  it('uses a law that is asked for by name and says so', async () => {
    const found = await curve(file, '--law', 'thermal');
    expect(found.law).toMatchObject({ name: 'thermal', forced: true });
    expect(found.law.parameters.length).toBeGreaterThan(0);
  });

  it('keeps readings at a stop as bounds, not as points of the curve', async () => {
    const stopped = `${file.replace('leg', 'leg,at_stop').replace(/(up|down)$/gm, '$1,')}\n1000,18,up,low\n`;
    const found = await curve(stopped);
    expect(found.points.filter(({ role }) => role === 'bound')).toHaveLength(1);
    expect(found.stops).toHaveLength(1);
  });

  it('reads its own JSON back to the same curve', async () => {
    const first = await commandLine(['curve', 'g.csv', '--json', '--law', 'thermal'], { 'g.csv': file });
    const second = await commandLine(['curve', 'g.json', '--json'], { 'g.json': first.out });
    const [one, other] = [first, second].map((ran) => Answer.parse(ran.json()));
    expect(other?.law).toEqual(one?.law);
    expect(other?.marks).toEqual(one?.marks);
  });

  it('takes typed ohms to be known as a handheld meter knows them, unless file or option says better', async () => {
    const usual = await curve(file, '--marks', '50');
    const better = await curve(file, '--marks', '50', '--ohmmeter-percent', '0.05', '--ohmmeter-ohm', '0.02');
    const own = await curve(
      file.replace('leg', 'leg,u_resistance_ohm').replace(/(up|down)$/gm, '$1,0.01'),
      '--marks',
      '50',
    );
    const [wide, narrow, said] = [usual, better, own].map(
      (found) => found.marks[0]?.expanded_uncertainty_ohm,
    );
    // 0.8 % and 0.3 ohm of 45 ohm, rectangular, are 0.27 ohm: twice that and more.
    expect(wide).toBeGreaterThan(0.5);
    expect(narrow).toBeLessThan(0.75 * wide!);
    expect(said).toBeLessThan(0.75 * wide!);
    const again = await commandLine(['curve', 'g.json', '--json', '--marks', '50'], {
      'g.json': (await commandLine(['curve', 'g.csv', '--json'], { 'g.csv': file })).out,
    });
    expect(Answer.parse(again.json()).marks[0]?.expanded_uncertainty_ohm).toBeCloseTo(wide!, 9);
  });

  it('takes the unit of the dial from the option when the column does not say it, and refuses two that differ', async () => {
    const plain = file.replace('reading_C', 'Reading');
    expect((await curve(plain)).unit).toBe('');
    expect(await curve(plain, '--unit', '°F')).toMatchObject({ unit: 'degF', quantity: 'temperature' });
    expect(await curve(plain, '--unit', 'psi', '--type', 'other')).toMatchObject({ quantity: 'other' });
    const ran = await commandLine(['curve', 'g.csv', '--unit', 'F'], { 'g.csv': file });
    expect(ran).toMatchObject({
      code: 2,
      err: 'needlewright: g.csv: --unit F: the file says degC; correct the one that is wrong',
    });
  });

  it.each([
    ['resistance_ohm\n10\n', 'there is no column reading'],
    ['resistance_ohm,reading,leg\n10,50,sideways\n', 'row 2, column leg: "sideways" is neither up nor down'],
    ['resistance_ohm,reading,at_stop\n10,50,left\n', 'row 2, column at_stop: "left" is neither low nor high'],
    ['resistance_ohm,reading,supply_V\n10,50,0\n', 'row 2, column supply_V: 0: it must be above 0'],
    [
      'resistance_ohm,reading,supply\n10,50,12\n',
      'column supply: this column does not say its unit; name it supply_V',
    ],
    ['resistance_ohm,reading,u_reading\n10,50,-1\n', 'column u_reading: -1: it must be above 0'],
    ['resistance_ohm,reading,u_reading\n10,50,0\n', 'row 2, column u_reading: 0: it must be above 0'],
    ['resistance_ohm,reading\n10,50,7\n', 'row 2, column 3: there are 3 cells where the header names 2'],
    ['resistance_ohm,reading\n10,1k2\n', 'row 2, column reading: "1k2" is how resistances are written'],
  ])('exits 2 on %j', async (text, why) => {
    const { code, out, err } = await commandLine(['curve', 'g.csv', '--json'], { 'g.csv': text });
    expect(err).toContain(why);
    expect([code, out, err.split('\n').length]).toEqual([2, '', 1]);
  });

  it('exits 3 when there are too few readings for any curve', async () => {
    const { code, json, err } = await commandLine(['curve', 'g.csv', '--json'], {
      'g.csv': 'resistance_ohm,reading\n10,50\n',
    });
    expect(code).toBe(3);
    expect(json()).toMatchObject({ refused: { code: 'CURVE_TOO_FEW' } });
    expect(err).toContain('g.csv: ');
  });
});

describe('curve: what a table likely is instead', () => {
  const refused = async (text: string): Promise<string> => {
    const ran = await commandLine(['curve', 'g.csv'], { 'g.csv': text });
    expect(ran.code).toBe(2);
    return ran.err;
  };

  it('asks whether a few ohms at every reading are kilohms, and takes them where each says ohm', async () => {
    const kilo = 'resistance_ohm,reading_C\n0.455,40\n0.230,60\n0.126,80\n0.073,100\n0.045,120';
    expect(await refused(kilo)).toMatch(/0\.045 to 0\.455 ohm.*kilohms; name the column resistance_kohm/);
    const meant = kilo.replace(/^(0\.\d+)/gm, '$1 ohm');
    expect((await curve(meant)).points).toHaveLength(5);
  });

  it('asks about points that may part thousands', async () => {
    const text = 'resistance_ohm;reading_C\n1.455;40\n1.230;60\n1.126;80';
    expect(await refused(text)).toMatch(/"1\.455" can mean 1455 or 1\.455/);
  });

  it('says that columns may be swapped', async () => {
    const swapped = 'resistance_ohm,reading_C\n40,455\n60,230\n80,126\n100,73\n120,45';
    expect((await curve(swapped)).warnings.join('\n')).toMatch(/455 degC is no temperature.*swapped/);
  });

  it('reads the marks of a fuel dial as parts of the whole, and names a fraction where it cannot', async () => {
    const dial = (heading: string, ends: readonly [string, string]) =>
      `resistance_ohm,${heading}\n73,${ends[0]}\n50,1/4\n31,1/2\n18,3/4\n10,${ends[1]}`;
    const parts = await curve(dial('reading_fraction', ['0', '1']));
    expect(parts.points.map((point) => point.reading)).toEqual([0, 25, 50, 75, 100]);
    const own = await curve(dial('reading', ['0', '1']));
    expect(own.points.map((point) => point.reading)).toEqual([0, 0.25, 0.5, 0.75, 1]);
    expect(await refused(dial('reading', ['E', 'F']))).toMatch(
      /"E" is not a number; type it like 1\/4 or 0\.25/,
    );
    expect(await refused(dial('reading_percent', ['0', '100']))).toMatch(/"1\/4" .* in percent/);
  });

  it('names what a column of readings may be called', async () => {
    const text = 'Widerstand Ohm;Anzeige \u00b0C\n455,4;40\n230,4;60\n125,7;80';
    expect(await refused(text)).toMatch(/under reading, needle, gauge or indicated.*reading_C/);
  });
});
