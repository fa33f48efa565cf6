import { mkdirSync, readFileSync, readdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import { scratchFolder } from '../store/scratch';
import { commandLine } from '../support/command-line';
import { inSoak } from '../support/deep';
import { simulatedProgram } from '../support/simulated-program';

simulatedProgram();

const drawer = '2 x 10 5W\n22 5W\n47 2W\n68 1W\n';
const files = { 'drawer.txt': drawer };
const byHand = ['--by-hand', '--parts', 'drawer.txt', '--settle-s', '0.1', '--feed-V', '12'];
const short = ['--points', '4', '--legs', 'up', '--repeats', '0', '--refinements', '0'];

const Sheet = z.looseObject({
  cluster: z.string(),
  swept: z.array(z.unknown()),
  swept_by_hand: z.array(z.object({ job: z.string(), minutes: z.number(), readings: z.number() })),
  conditions: z.array(
    z.looseObject({
      place: z.string(),
      as_found: z.looseObject({ readings: z.number() }).nullable(),
      as_left: z.looseObject({ readings: z.number() }).nullable(),
    }),
  ),
});
const Opened = z.looseObject({
  cluster: z.string(),
  gauges: z.array(z.looseObject({ place: z.string(), job: z.string() })),
});
const Event = z.looseObject({ kind: z.string() });

const eventsIn = (file: string) =>
  readFileSync(file, 'utf8')
    .trim()
    .split('\n')
    .map((line) => Event.parse(JSON.parse(line)));

/** Two fuel gauges of an invented cluster, as files; answers what opens it. */
const openedAt = async (folder: string) => {
  mkdirSync(folder, { recursive: true });
  const marks = [0, 50, 100].map((reading, at) => ({
    label: String(reading),
    reading,
    angleFraction: at / 2,
  }));
  const family = { lowEndOhm: 73, highEndOhm: 10 };
  writeFileSync(
    join(folder, 'g.json'),
    JSON.stringify({ quantity: 'fuel', mechanism: 'two-coil', unit: '%', marks, family }),
  );
  const gauges = ['left', 'right'].flatMap((place) => ['--gauge', `${join(folder, 'g.json')}:${place}`]);
  const jobs = join(folder, 'jobs');
  const ran = await commandLine(['cluster', 'open', ...gauges, '--jobs', jobs, '--json']);
  expect(ran.code, ran.err).toBe(0);
  return { jobs, ...Opened.parse(ran.json()) };
};

describe('cluster sweep --by-hand', () => {
  it('goes from gauge to gauge, keeps what was read when the terminal closes, and goes on with the next', async () => {
    const { jobs, cluster, gauges } = await openedAt(await scratchFolder());
    const argv = ['cluster', 'sweep', cluster, ...byHand, ...short, '--jobs', jobs, '--json'];
    const needle = (ohm: string): string => ((100 * (73 - Number(ohm))) / 63).toFixed(0);
    const of = (...ohms: string[]): string[] => ohms.flatMap((ohm) => [ohm, needle(ohm)]);
    // Two of the left one, and the terminal is closed.
    const first = await commandLine(argv, files, of('69', '42'));
    expect(first.code, first.err).toBe(0);
    expect(Sheet.parse(first.json()).swept_by_hand).toEqual([]);
    // The rest of it, and one of the right one.
    const second = await commandLine(argv, files, [...of('22', '10', '42', '69', '10'), ...of('69')]);
    const sheet = Sheet.parse(second.json());
    const [left, right] = gauges;
    expect(sheet.swept_by_hand, second.err).toMatchObject([{ job: left?.job, readings: 7 }]);
    expect(sheet.conditions.map(({ as_found }) => as_found?.readings)).toEqual([7, 1]);
    const kinds = eventsIn(join(jobs, right?.job ?? '', 'job.ndjson')).map(({ kind }) => kind);
    expect(kinds).not.toContain('box-connected');
    expect(kinds.at(-1)).toBe('sweep-paused');
    const shown = await commandLine(['cluster', 'sheet', cluster, '--jobs', jobs]);
    expect(shown.out).toMatch(/swept by hand, left: 7 readings in \d+\.\d min/);
  });

  inSoak(
    'of a simulated cluster is done by a simulated hand, no box driven, to a sheet as left',
    async () => {
      const jobs = join(await scratchFolder(), 'jobs');
      const parts = '2 x 10 5W\n22 5W\n47 2W\n68 1W\n100 1W\n150 1W\n220 1W\n330 1W\n470 1W\n';
      const simulated = [
        '--simulate',
        'mixed-cluster',
        '--boxes',
        '2',
        '--speed',
        '400',
        '--seed',
        '3',
        '--auto',
      ];
      const how = ['--by-hand', '--parts', 'drawer.txt', ...simulated, '--jobs', jobs, '--json'];
      const found = await commandLine(['cluster', 'sweep', ...how], { 'drawer.txt': parts });
      expect(found.code, found.err).toBe(0);
      const { cluster, swept_by_hand: byHands, conditions } = Sheet.parse(found.json());
      expect(byHands).toHaveLength(2);
      for (const { as_found } of conditions) expect(as_found?.readings).toBeGreaterThan(5);
      const left = await commandLine(['cluster', 'sweep', cluster, '--state', 'as-left', ...how], {
        'drawer.txt': parts,
      });
      expect(left.code, left.err).toBe(0);
      const sheet = Sheet.parse(left.json());
      expect(sheet.swept_by_hand).toHaveLength(4);
      for (const { as_left } of sheet.conditions) expect(as_left?.readings).toBeGreaterThan(5);
      for (const folder of readdirSync(jobs).filter((name) => !name.startsWith('.')))
        expect(eventsIn(join(jobs, folder, 'job.ndjson')).map(({ kind }) => kind)).not.toContain(
          'box-connected',
        );
    },
  );

  it.each([
    [['--by-hand'], 'give one of --parts FILE'],
    [['--by-hand', '--port', '/dev/ttyACM0'], '--by-hand works without boxes'],
    [['--by-hand', '--parts', 'drawer.txt', '--auto'], '--auto is for a simulated cluster'],
  ])('%j is refused with what is wrong', async (argv, why) => {
    const { jobs, cluster } = await openedAt(await scratchFolder());
    const ran = await commandLine(['cluster', 'sweep', cluster, ...argv, '--jobs', jobs], files);
    expect(ran.err).toContain(why);
    expect(ran.code).toBe(2);
  });
});
