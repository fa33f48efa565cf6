import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import { scratchFolder } from '../store/scratch';
import { commandLine } from '../support/command-line';
import { simulatedProgram } from '../support/simulated-program';

simulatedProgram();

const LONG_MS = 120_000;
const drawer = '2 x 10 5W\n22 5W\n47 2W\n68 1W\n100 1W\n150 1W\n220 1W\n330 1W\n470 1W\n';
const files = { 'drawer.txt': drawer };
const gauge = ['--type', 'fuel', '--unit', '%', '--marks', '0,50,100', '--mechanism', 'thermal'];
const byHand = ['sweep', '--by-hand', '--parts', 'drawer.txt', '--settle-s', '0.1'];
const family = ['--from-ohm', '73', '--to-ohm', '10'];

const Event = z.looseObject({ kind: z.string() });
const eventsIn = (folder: string) =>
  readFileSync(join(folder, 'job.ndjson'), 'utf8')
    .trim()
    .split('\n')
    .map((line) => Event.parse(JSON.parse(line)));

describe('sweep --by-hand', () => {
  it(
    'is done by a simulated person with parts, without asking anything of the simulated box, and gives a curve',
    async () => {
      const folder = join(await scratchFolder(), 'coolant');
      const how = ['--simulate', 'thermal-temperature', '--speed', '400', '--seed', '3', '--auto'];
      const argv = ['sweep', '--by-hand', '--parts', 'drawer.txt', ...how, '--job', folder, '--json'];
      const ran = await commandLine(argv, files);
      expect(ran.code, ran.err).toBe(0);
      expect(ran.json()).toMatchObject({ kind: 'curve', sweep: 'finished', simulated: true, by_hand: true });
      const events = eventsIn(folder);
      expect(events.map(({ kind }) => kind)).not.toContain('box-connected');
      const readings = events.filter(({ kind }) => kind === 'reading');
      expect(readings.length).toBeGreaterThan(6);
      for (const reading of readings) expect(reading).toMatchObject({ source: 'hand', leg: 'up' });
      const curve = await commandLine(['curve', join(folder, 'job.ndjson')], {
        [join(folder, 'job.ndjson')]: readFileSync(join(folder, 'job.ndjson')),
      });
      expect(curve.code, curve.err).toBe(0);
    },
    LONG_MS,
  );

  it(
    'is done by a simulated person with a potentiometer, both ways',
    async () => {
      const folder = join(await scratchFolder(), 'coolant');
      const pot = [
        '--potentiometer-ohm',
        '500',
        '--potentiometer-watt',
        '25',
        '--fixed-ohm',
        '47',
        '--fixed-watt',
        '3',
      ];
      const how = ['--simulate', 'thermal-temperature', '--speed', '600', '--seed', '4', '--auto'];
      const ran = await commandLine(['sweep', '--by-hand', ...pot, ...how, '--job', folder, '--json']);
      expect(ran.code, ran.err).toBe(0);
      const events = eventsIn(folder);
      const legs = events.filter(({ kind }) => kind === 'reading').map(({ leg }) => leg);
      expect(new Set(legs)).toEqual(new Set(['up', 'down']));
      expect(events.map(({ kind }) => kind)).toContain('needle-noted');
    },
    LONG_MS,
  );

  it('says which part to put on, keeps what was typed when the terminal closes, and goes on from there', async () => {
    const folder = join(await scratchFolder(), 'fuel');
    const argv = [...byHand, ...gauge, ...family, '--job', folder];
    const first = await commandLine(argv, files, ['red', '67.9', '4', '46.8']);
    expect(first.err).toContain('Nothing below 10 ohm is put on by hand.');
    expect(first.err).toContain('"red" is not a number');
    expect(eventsIn(folder).filter(({ kind }) => kind === 'reading')).toHaveLength(1);
    expect(eventsIn(folder).at(-1)?.kind).toBe('sweep-paused');
    const second = await commandLine(['sweep', '--by-hand', '--job', folder], {}, ['47.1', '30', 'q']);
    expect(second.code, second.err).toBe(0);
    expect(eventsIn(folder).filter(({ kind }) => kind === 'reading')).toHaveLength(2);
    const withBox = await commandLine(['sweep', '--simulate', 'two-coil-fuel', '--job', folder]);
    expect(withBox.err).toContain('the open sweep is one by hand: add --by-hand');
  });

  it('asks back where the needle would go the other way, takes what is typed then, and a tank in parts', async () => {
    const asked = ['67.9', '4', '46.8', '1/4', '32', '3', '42', '22', '5', '', 'p'];
    const folder = join(await scratchFolder(), 'fuel');
    const ran = await commandLine([...byHand, ...gauge, ...family, '--job', folder], files, asked);
    const readings = eventsIn(folder).flatMap((event) => (event.kind === 'reading' ? [event.reading] : []));
    expect(readings, ran.err).toEqual([4, 25, 42, 5]);
  });

  it('refuses what must not be put on, and asks again', async () => {
    const folder = join(await scratchFolder(), 'fuel');
    const ran = await commandLine([...byHand, ...gauge, ...family, '--job', folder], files, ['3', 'p']);
    expect(ran.err).toContain('3 ohm is less than 10 ohm, the least that a sender of this family has.');
    expect(eventsIn(folder).map(({ kind }) => kind)).not.toContain('reading');
  });

  it.each([
    [['--by-hand'], 'give one of --parts FILE (resistors), --potentiometer-ohm R, --decade-ohm R', 2],
    [['--by-hand', '--port', '/dev/ttyACM0'], '--by-hand works without a box', 2],
    [['--by-hand', '--parts', 'bad.txt'], 'bad.txt: line 2: "two red ones" is no resistance', 2],
    [['--by-hand', '--potentiometer-ohm', '500'], 'the fixed resistor stays in series with it', 2],
    [['--by-hand', '--parts', 'low.txt'], 'the first resistance is 1000 ohm or more', 3],
    [['--by-hand', '--parts', 'one.txt', ...family], 'a curve needs 3', 3],
  ])('answers %j with what is wrong', async (argv, why, code) => {
    const folder = join(await scratchFolder(), 'job');
    const given = { ...files, 'bad.txt': '150\ntwo red ones', 'one.txt': '47 2W', 'low.txt': '47\n68\n100' };
    const ran = await commandLine(['sweep', ...argv, ...gauge, '--job', folder], given);
    expect(ran.err).toContain(why);
    expect(ran.code).toBe(code);
  });
});
