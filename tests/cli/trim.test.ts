import { beforeAll, describe, expect, it } from 'vitest';
import { z } from 'zod';
import { commandLine, type Files } from '../support/command-line';

// Check values of the trade, common practice, no source: a sender of 3000 ohm at 40 degF and 110 ohm at 195 degF (B near
// 3,900 K). The gauge is marked for exactly that sender; the sender in hand is a fifth low, so the gauge reads high.
const kelvin = (fahrenheit: number): number => ((fahrenheit - 32) * 5) / 9 + 273.15;
const BETA_KELVIN = Math.log(3000 / 110) / (1 / kelvin(40) - 1 / kelvin(195));
const properOhm = (fahrenheit: number): number =>
  110 * Math.exp(BETA_KELVIN * (1 / kelvin(fahrenheit) - 1 / kelvin(195)));
const ohmLowBy = (part: number) => (fahrenheit: number) => properOhm(fahrenheit) * (1 - part);
/** A gauge that reads 15 degF high at 195 degF sees the resistance of 210 degF there. */
const LOW_PART = 1 - properOhm(210) / properOhm(195);
const marksFahrenheit = [120, 140, 160, 180, 195, 210, 230, 250];

const gaugeFile = (title: string): string =>
  [`resistance_ohm,${title}`, ...marksFahrenheit.map((mark) => `${properOhm(mark).toFixed(2)},${mark}`)].join(
    '\n',
  );
const senderFile = (ohm: (fahrenheit: number) => number): string =>
  [
    'temperature_F,resistance_ohm',
    ...[100, ...marksFahrenheit, 260].map((at) => `${at},${ohm(at).toFixed(2)}`),
  ].join('\n');
const inCelsius = (text: string): string =>
  text
    .split('\n')
    .map((line, index) => {
      const [first, second] = line.split(',');
      return index === 0
        ? 'temperature_C,resistance_ohm'
        : `${((Number(first) - 32) / 1.8).toFixed(4)},${second}`;
    })
    .join('\n');

/** The dial follows the sender it was marked for exactly, which no law of a mechanism does: through every reading. */
let exactGauge = '';
beforeAll(async () => {
  exactGauge = (await commandLine(['curve', 'gauge.csv', '--law', 'interpolant', '--json'], files)).out;
});

const files: Files = {
  'gauge.csv': gaugeFile('reading_F'),
  'plain.csv': gaugeFile('reading'),
  'low.csv': senderFile(ohmLowBy(LOW_PART)),
  'low-C.csv': inCelsius(senderFile(ohmLowBy(LOW_PART))),
  'good.csv': senderFile(properOhm),
};

const Part = z.object({
  place: z.string(),
  resistance_ohm: z.number(),
  tolerance_percent: z.number(),
  power_W_worst: z.number(),
  power_worst_when: z.string(),
  rating_W: z.number().nullable(),
});
const Row = z.object({
  true_value: z.number(),
  indicated: z.number(),
  error: z.number(),
  expanded_uncertainty: z.number(),
});
const Candidate = z.object({
  topology: z.string(),
  parts: z.array(Part),
  worst_error: z.number(),
  rms_error: z.number(),
  keeps_rule: z.boolean(),
  tolerance: z.object({ monte_carlo: z.object({ trials: z.number(), seed: z.number() }) }),
  error_table: z.array(Row),
  failures: z.array(
    z.object({ place: z.string(), fails: z.string(), needle: z.string(), danger: z.boolean() }),
  ),
});
const Answer = z.object({
  unit: z.string(),
  recommended: z.number(),
  candidates: z.array(Candidate),
  without_rule: Candidate.nullable(),
  certificate: z.object({
    optimal: z.literal(true),
    networks: z.number(),
    best_bound: z.number(),
    values_searched: z.string(),
  }),
  warnings: z.array(z.string()),
});

async function trim(argv: readonly string[], extra: Files = {}) {
  const ran = await commandLine(['trim', ...argv, '--json'], {
    ...files,
    'exact.json': exactGauge,
    ...extra,
  });
  expect(ran.err).not.toContain('fault of this program');
  expect(ran.code, ran.err).toBe(0);
  return Answer.parse(ran.json());
}

const band = ['--from', '140', '--to', '230', '--max-parts', '2'];
const pair = ['--gauge', 'exact.json', '--sender', 'low.csv'];
const lowSender = [...pair, ...band];

describe('trim', () => {
  it('finds Beta of the check values inside the plausible range', () => {
    expect(BETA_KELVIN).toBeGreaterThan(3850);
    expect(BETA_KELVIN).toBeLessThan(3950);
  });

  it('recommends about 24 ohm in series for a gauge that reads 15 degF high at 195 degF: its sender is a fifth low there', async () => {
    expect(LOW_PART).toBeCloseTo(0.2, 1);
    const found = await trim([...pair, '--max-parts', '1', '--from', '190', '--to', '200']);
    expect(found.candidates[found.recommended]?.topology).toBe('series');
    expect([22, 24]).toContain(found.candidates[found.recommended]?.parts[0]?.resistance_ohm);
  });

  it('leaves far less error than the bare sender and shows both', async () => {
    const found = await trim(lowSender);
    const bare = found.candidates.find(({ topology }) => topology === 'none');
    const best = found.candidates[0];
    expect(bare?.worst_error).toBeGreaterThan(10);
    expect(best?.worst_error).toBeLessThan((bare?.worst_error ?? 0) / 1.5);
    expect(found.certificate.best_bound).toBeCloseTo(best?.worst_error ?? 0, 6);
    for (const row of best?.error_table ?? [])
      expect(row.indicated - row.true_value).toBeCloseTo(row.error, 9);
  });

  it('answers the same in the unit of the dial when the sender was measured in the other unit', async () => {
    const one = await trim(lowSender);
    const other = await trim(['--gauge', 'exact.json', '--sender', 'low-C.csv', ...band]);
    expect(other.unit).toBe('degF');
    expect(other.candidates[0]?.parts).toEqual(one.candidates[0]?.parts);
    expect(other.candidates[0]?.worst_error).toBeCloseTo(one.candidates[0]?.worst_error ?? 0, 1);
  });

  it('takes a dial that does not say its unit to be marked as the sender, with a warning; --gauge-unit settles it', async () => {
    const assumed = await trim(['--gauge', 'plain.csv', '--sender', 'low.csv', ...band]);
    expect(assumed.unit).toBe('degF');
    expect(assumed.warnings.join(' ')).toContain('plain.csv: the readings do not say their unit');
    const said = await trim(['--gauge', 'plain.csv', '--sender', 'low-C.csv', '--gauge-unit', 'F', ...band]);
    expect(said.unit).toBe('degF');
    expect(said.warnings.join(' ')).not.toContain('do not say their unit');
  });

  it('needs nothing for the sender the gauge was marked for', async () => {
    const found = await trim(['--gauge', 'exact.json', '--sender', 'good.csv', ...band]);
    expect(found.candidates[found.recommended]?.topology).toBe('none');
    expect(found.candidates[found.recommended]?.worst_error).toBeLessThan(1);
  });

  it('takes the JSON of curve and sender in place of their files', async () => {
    const sender = await commandLine(['sender', 'low.csv', '--json'], files);
    const saved = { 'g.json': exactGauge, 's.json': sender.out };
    const found = await trim(['--gauge', 'g.json', '--sender', 's.json', ...band], saved);
    expect(found.candidates).toEqual((await trim(lowSender)).candidates);
  });

  it('uses only what is in the drawer, and no more of it than there is', async () => {
    const stock = 'resistance_ohm,count\n22,1\n33,2\n1k,5\n';
    const found = await trim([...lowSender, '--stock', 'drawer.csv'], { 'drawer.csv': stock });
    const used = found.candidates.flatMap(({ parts }) => parts.map(({ resistance_ohm: ohm }) => ohm));
    expect(used.length).toBeGreaterThan(0);
    for (const ohm of used) expect([22, 33, 1000]).toContain(ohm);
    for (const { parts } of found.candidates)
      expect(parts.filter(({ resistance_ohm: ohm }) => ohm === 22).length).toBeLessThan(2);
  });

  it('follows weights: the heavy end is served first', async () => {
    const heavy = (at: number): Files => ({
      'w.csv': `value,weight\n140,${at === 140 ? 1 : 0.01}\n230,${at === 230 ? 1 : 0.01}\n`,
    });
    const errorAt = async (at: number, end: number): Promise<number> => {
      const found = await trim(
        [
          ...pair,
          '--from',
          '140',
          '--to',
          '230',
          '--max-parts',
          '1',
          '--weights',
          'w.csv',
          '--rule-limit',
          '90',
        ],
        heavy(at),
      );
      return Math.abs(
        found.candidates[0]?.error_table.find(({ true_value: value }) => value === end)?.error ?? Infinity,
      );
    };
    expect(await errorAt(230, 230)).toBeLessThan(await errorAt(140, 230));
  });

  it('states power, rating and what each failing part does', async () => {
    const found = await trim([
      ...lowSender,
      '--gauge-ohm',
      '65',
      '--supply-V',
      '13.8',
      '--mechanism',
      'thermal',
    ]);
    const best = found.candidates.find(({ parts }) => parts.length > 0);
    for (const part of best?.parts ?? []) {
      expect(part.power_W_worst).toBeGreaterThan(0);
      expect(part.rating_W ?? Infinity).toBeGreaterThan(part.power_W_worst);
    }
    expect(best?.failures).toHaveLength(2 * (best?.parts.length ?? 0));
  });

  it('buys nothing below --lowest-ohm or above --highest-ohm', async () => {
    const found = await trim([...lowSender, '--lowest-ohm', '47', '--highest-ohm', '330']);
    const used = found.candidates.flatMap(({ parts }) => parts.map(({ resistance_ohm: ohm }) => ohm));
    expect(used.length).toBeGreaterThan(0);
    for (const ohm of used) expect(ohm >= 47 && ohm <= 330).toBe(true);
    expect(found.certificate.values_searched).toBe('E24, 47 to 330 ohm');
  });

  it('reports only the arrangements asked for, as many of each as asked for', async () => {
    const found = await trim([...lowSender, '--topologies', 'shunt,series', '--per-topology', '3']);
    const count = (topology: string): number =>
      found.candidates.filter((candidate) => candidate.topology === topology).length;
    expect([count('series'), count('shunt'), found.candidates.length]).toEqual([3, 3, 6]);
  });

  it('rates the parts for the worst feed that was stated', async () => {
    const worst = async (volt: string): Promise<number> => {
      const asked = [...lowSender, '--topologies', 'series', '--highest-supply-V', volt];
      const [part] = (await trim(asked)).candidates[0]?.parts ?? [];
      expect(part?.power_worst_when).toContain(`${volt} V`);
      return part?.power_W_worst ?? 0;
    };
    // Watts go with the square of the feed.
    expect((await worst('28')) / (await worst('14'))).toBeCloseTo(4, 6);
  });

  it('simulates as many jobs as asked for, from the seed given', async () => {
    const found = await trim([...lowSender, '--topologies', 'series', '--trials', '50', '--seed', '7']);
    expect(found.candidates[0]?.tolerance.monte_carlo).toMatchObject({ trials: 50, seed: 7 });
  });

  it('names the network that would win without the rule, and nothing where the rule costs nothing', async () => {
    const strict = await trim([...lowSender, '--rule-limit', '0']);
    expect(strict.candidates[0]?.keeps_rule).toBe(true);
    expect(strict.without_rule?.keeps_rule).toBe(false);
    expect(strict.without_rule?.worst_error).toBeLessThan(strict.candidates[0]?.worst_error ?? 0);
    const { out } = await commandLine(['trim', ...lowSender, '--rule-limit', '0'], {
      ...files,
      'exact.json': exactGauge,
    });
    expect(out).toContain('without that rule: ');
    expect((await trim([...lowSender, '--rule-limit', '90'])).without_rule).toBeNull();
  });

  it('reports the nearest network instead of refusing where --acceptable-error allows so much', async () => {
    const wide = { 'x.csv': senderFile((at) => 200 + 0.1 * properOhm(at)) };
    const found = await trim(
      ['--gauge', 'gauge.csv', '--sender', 'x.csv', '--acceptable-error', '200'],
      wide,
    );
    expect(found.candidates[0]?.worst_error).toBeGreaterThan(20);
  });

  it('exits 3 and names the theorem when no resistors can help, telling how near they come', async () => {
    const wide = senderFile((at) => 200 + 0.1 * properOhm(at));
    const { code, json } = await commandLine(
      ['trim', '--gauge', 'gauge.csv', '--sender', 'x.csv', '--json'],
      { ...files, 'x.csv': wide },
    );
    expect(code).toBe(3);
    const Refusal = z.object({
      refused: z.object({
        code: z.enum(['SPAN_OHM', 'SPAN_SIEMENS', 'RATIO', 'SENSE']),
        message: z.string(),
      }),
      nearest: z.looseObject({ worst_error: z.number() }),
      certificate: z.looseObject({ networks: z.number().positive() }),
    });
    expect(Refusal.parse(json()).nearest.worst_error).toBeGreaterThan(0);
  });

  it.each([
    [['--sender', 'low.csv'], '--gauge is missing'],
    [['--gauge', 'gauge.csv'], '--sender is missing'],
    [['--gauge', 'low.csv', '--sender', 'low.csv'], 'low.csv, row 1: there is no column reading'],
    [['--gauge', 'no.csv', '--sender', 'low.csv'], 'no.csv: there is no such file'],
    [[...lowSender, '--series', 'E23'], '--series E23: choose one of'],
    [[...pair, '--max-parts', '4'], '--max-parts 4: the value must lie between 0 and 3'],
    [[...lowSender, '--series', 'E24', '--stock', 'drawer.csv'], 'either --series or --stock'],
    [['--gauge', 'gauge.csv', '--sender', 'low.csv', '--gauge-unit', 'C'], 'the file says degF'],
    [[...pair, '--from', '230', '--to', '140'], '--from 230 must be below --to 140'],
    [[...lowSender, '--lowest-ohm', '100', '--highest-ohm', '10'], 'must be below --highest-ohm 10'],
    [[...lowSender, '--lowest-ohm', '10', '--stock', 'drawer.csv'], 'either --lowest-ohm or --stock'],
    [[...lowSender, '--topologies', 'series,star'], '--topologies star: choose one of none, series'],
    [[...lowSender, '--highest-supply-V', '12'], 'cannot be below the usual feed of 13.8 V'],
  ])('exits 2 on %j', async (argv, why) => {
    const { code, out, err } = await commandLine(['trim', ...argv, '--json'], {
      ...files,
      'exact.json': exactGauge,
    });
    expect(err.split('\n').at(-1)).toContain(why);
    expect([code, out]).toEqual([2, '']);
  });
});

describe('match', () => {
  const Matched = z.object({
    senders: z.array(
      z.object({
        sender: z.string(),
        worst_error_alone: z.number(),
        worst_error: z.number(),
        keeps_rule: z.boolean(),
      }),
    ),
    unusable: z.array(z.object({ sender: z.string(), refused: z.object({ code: z.string() }) })),
  });

  it('ranks the sender the gauge was marked for before one that is a fifth low, and names what cannot be compared', async () => {
    const oil = 'pressure_kPa,resistance_ohm\n0,240\n300,100\n600,33\n';
    const { code, json } = await commandLine(
      ['match', '--gauge', 'gauge.csv', 'low.csv', 'oil.csv', 'turns.csv', 'good.csv', ...band, '--json'],
      { ...files, 'oil.csv': oil, 'turns.csv': 'temperature_C,resistance_ohm\n20,100\n40,50\n60,99\n' },
    );
    expect(code).toBe(0);
    const { senders, unusable } = Matched.parse(json());
    expect(senders.map(({ sender }) => sender)).toEqual(['good.csv', 'low.csv']);
    expect(senders[1]?.worst_error_alone).toBeGreaterThan(10);
    expect(senders[1]?.worst_error).toBeLessThan((senders[1]?.worst_error_alone ?? 0) / 1.5);
    expect(unusable).toMatchObject([
      { sender: 'turns.csv', refused: { code: 'SENDER_NOT_MONOTONE' } },
      { sender: 'oil.csv', refused: { code: 'UNIT' } },
    ]);
  });
});
