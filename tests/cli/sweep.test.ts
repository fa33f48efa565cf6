import { execFileSync } from 'node:child_process';
import { cpSync, existsSync, mkdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import { simulatedGauge } from '../../host/job/wire/host-messages';
import { scratchFolder } from '../store/scratch';
import { commandLine } from '../support/command-line';
import { simulatedProgram } from '../support/simulated-program';

simulatedProgram();

const LONG_MS = 120_000;
const quick = ['--simulate', 'moving-coil-pressure', '--speed', '200', '--seed', '5'];
const short = ['--points', '4', '--legs', 'up', '--repeats', '0', '--refinements', '0'];

const Answer = z.looseObject({
  kind: z.literal('curve'),
  unit: z.string(),
  quantity: z.string(),
  job: z.string(),
  simulated: z.literal(true),
  sweep: z.string(),
  points: z.array(z.looseObject({ resistance_ohm: z.number(), reading: z.number(), leg: z.string() })),
});

const kindsIn = (folder: string): string[] =>
  readFileSync(join(folder, 'job.ndjson'), 'utf8')
    .trim()
    .split('\n')
    .map((line) => z.object({ kind: z.string() }).parse(JSON.parse(line)).kind);

describe('sweep', () => {
  it(
    'lets a simulated person read a simulated gauge to the end and prints its curve, marked as simulated',
    async () => {
      const folder = join(await scratchFolder(), 'oil');
      const ran = await commandLine(['sweep', ...quick, ...short, '--auto', '--job', folder, '--json']);
      expect(ran.code, ran.err).toBe(0);
      const found = Answer.parse(ran.json());
      expect(found).toMatchObject({ unit: 'kPa', quantity: 'pressure', sweep: 'finished', job: folder });
      expect(found.points).toHaveLength(4);
      const readings = found.points.map(({ reading }) => reading);
      expect([...readings].sort((a, b) => a - b)).toEqual(readings);
      expect(kindsIn(folder)).toContain('sweep-finished');
    },
    LONG_MS,
  );

  it(
    'asks a person in the terminal, keeps what was answered when the terminal closes, and goes on where it was',
    async () => {
      const folder = join(await scratchFolder(), 'oil');
      const argv = ['sweep', ...quick, ...short, '--job', folder];
      const first = await commandLine(argv, {}, ['what?', '60', 'u', '55']);
      expect(first.err).toContain('"what?" is not a number');
      const before = kindsIn(folder);
      expect(before.filter((kind) => kind === 'reading')).toHaveLength(2);
      expect(before).toContain('undone');
      expect(before.at(-1)).toBe('sweep-paused');
      const second = await commandLine([...argv, '--auto', '--json']);
      expect(second.code, second.err).toBe(0);
      const found = Answer.parse(second.json());
      expect(found.points.map(({ reading }) => reading)).toContain(55);
      expect(found.points.map(({ reading }) => reading)).not.toContain(60);
      expect(found.sweep).toBe('finished');
      expect(kindsIn(folder)).toContain('sweep-resumed');
    },
    LONG_MS,
  );

  it.each(['two-coil-fuel', 'moving-coil-pressure'])(
    'does not close the output on %s in a car before the safety statements were made',
    async (gauge) => {
      const folder = join(await scratchFolder(), 'car');
      const argv = [
        'sweep',
        '--simulate',
        gauge,
        '--speed',
        '200',
        '--auto',
        '--place',
        'car',
        '--job',
        folder,
      ];
      const { code, err, json } = await commandLine([...argv, '--json']);
      expect(code).toBe(3);
      expect(json()).toMatchObject({ refused: { code: 'CONFIRM_FIRST' } });
      expect(err).toContain('--confirm');
      expect(kindsIn(folder)).toEqual(['job-opened']);
    },
    LONG_MS,
  );

  it(
    'sweeps a simulated gauge in a car by itself once they are made as options',
    async () => {
      const folder = join(await scratchFolder(), 'car');
      const said = ['--place', 'car', '--confirm', 'connected-ignition-off'];
      const ran = await commandLine(['sweep', ...quick, ...short, ...said, '--auto', '--job', folder]);
      expect(ran.code, ran.err).toBe(0);
      expect(kindsIn(folder)).toContain('safety-confirmed');
    },
    LONG_MS,
  );

  it.each([
    [['--auto'], '--auto is for a simulated box'],
    [['--simulate', 'two-coil-fuel', '--port', '/dev/ttyACM0'], 'either --port or --simulate'],
    [['--simulate', 'no-such-gauge'], 'choose one of thermal-temperature'],
    [['--port', '/dev/needlewright-is-not-there'], 'there is no port /dev/needlewright-is-not-there'],
    [
      ['--simulate', 'two-coil-fuel', '--confirm', 'whatever'],
      '--confirm whatever: choose one of fuel-dash-end',
    ],
  ])('exits 2 on %j', async (argv, why) => {
    const folder = join(await scratchFolder(), 'job');
    const { code, out, err } = await commandLine(['sweep', ...argv, '--job', folder, '--json']);
    expect(err).toContain(why);
    expect([code, out]).toEqual([2, '']);
  });

  it('never takes over a folder that is there and holds no job', async () => {
    const folder = join(await scratchFolder(), 'holiday-pictures');
    mkdirSync(folder);
    const { code, err } = await commandLine(['sweep', ...quick, '--auto', '--job', folder]);
    expect(code).toBe(2);
    expect(err).toContain('this folder is there already');
    expect(existsSync(join(folder, 'job.ndjson'))).toBe(false);
  });
});

describe('job', () => {
  const opening = JSON.stringify({
    title: 'Marlow Tourer, oil',
    vehicle: 'Marlow Tourer (1958)',
    place: 'bench',
    simulated: true,
    gauge: {
      quantity: 'pressure',
      mechanism: 'moving-coil',
      unit: 'kPa',
      marks: [
        { label: '0', reading: 0, angleFraction: 0 },
        { label: '6', reading: 600, angleFraction: 1 },
      ],
    },
  });
  const note = JSON.stringify({ kind: 'add-note', text: 'loom renewed in 1998' });

  it('opens a job from a document, makes entries, and shows its headlines', async () => {
    const folder = join(await scratchFolder(), 'oil');
    const files = { 'o.json': opening, 'c.ndjson': `${note}\n\n# a remark\n${note}\n` };
    const { code, json, err } = await commandLine(
      ['job', folder, '--open', 'o.json', '--tell', 'c.ndjson', '--json'],
      files,
    );
    expect(code, err).toBe(0);
    expect(json()).toMatchObject({
      title: 'Marlow Tourer, oil',
      simulated: true,
      events: 3,
      trim_chosen: null,
    });
    expect(kindsIn(folder)).toEqual(['job-opened', 'note', 'note']);
    expect((await commandLine(['job', folder])).out).toContain('SIMULATED Marlow Tourer, oil');
  });

  it('tells what a sender must have at each mark: as the simulated dial was drawn for, within what it says', async () => {
    const folder = join(await scratchFolder(), 'harrow');
    cpSync(fileURLToPath(new URL('../../demo-sessions/harrow-six-coolant', import.meta.url)), folder, {
      recursive: true,
    });
    const text = await commandLine(['job', folder]);
    expect(text.code, text.err).toBe(0);
    expect(text.out).toContain('what a sender must have at each mark');
    const { json } = await commandLine(['job', folder, '--json']);
    const Wanted = z.object({
      wanted_ohm: z.array(
        z.object({
          mark: z.string(),
          reading: z.number(),
          resistance_ohm: z.number(),
          expanded_uncertainty_ohm: z.number(),
          note: z.enum(['measured', 'between', 'beyond', 'plateau', 'at stop']),
        }),
      ),
    });
    const { wanted_ohm: wanted } = Wanted.parse(json());
    // The sender this dial was drawn for: the simulated vehicle's table, which the program that fits never sees.
    const described: unknown = JSON.parse(
      execFileSync(process.execPath, [simulatedProgram(), '--describe'], { encoding: 'utf8' }),
    );
    const gauge = z
      .array(simulatedGauge)
      .parse(described)
      .find((each) => each.name === 'thermal-temperature');
    const truth = new Map(gauge?.originalSender.map((row) => [row.value, row.ohm]));
    expect(wanted.length).toBeGreaterThanOrEqual(5);
    for (const { reading, resistance_ohm: ohm, expanded_uncertainty_ohm: sure } of wanted)
      expect(Math.abs(ohm - (truth.get(reading) ?? NaN)), String(reading)).toBeLessThan(1.5 * sure);
  });

  it('makes nothing at all when one of its files is bad, and names the row', async () => {
    const folder = join(await scratchFolder(), 'oil');
    const bad = { 'o.json': opening, 'c.ndjson': `${note}\n{"kind":"add-note","txt":"x"}\n` };
    const { code, err } = await commandLine(['job', folder, '--open', 'o.json', '--tell', 'c.ndjson'], bad);
    expect(code).toBe(2);
    expect(err).toContain('c.ndjson, row 2: ');
    expect(existsSync(folder)).toBe(false);
  });

  it.each([
    [['--choose-trim'], 3, 'a trim needs readings'],
    [['--tell', 'sweep.ndjson'], 3, 'sweep.ndjson, row 1: '],
    [['--open', 'o.json'], 2, 'this folder is there already'],
    [['--open', 'half.json'], 2, 'half.json: '],
  ])('refuses %j with code %d', async (argv, expected, why) => {
    const folder = join(await scratchFolder(), 'oil');
    const files = {
      'o.json': opening,
      'half.json': '{"title": "x"}',
      'sweep.ndjson': JSON.stringify({ kind: 'start-sweep', choice: { mode: 'step-and-read' } }),
    };
    await commandLine(['job', folder, '--open', 'o.json'], files);
    const { code, err } = await commandLine(['job', folder, ...argv], files);
    expect(err).toContain(why);
    expect(code).toBe(expected);
  });

  it('says so when there is no job', async () => {
    const { code, err } = await commandLine(['job', join(await scratchFolder(), 'nothing')]);
    expect(code).toBe(2);
    expect(err).toContain('there is no job here; --open makes one');
  });
});
