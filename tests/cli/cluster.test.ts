import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import { scratchFolder } from '../store/scratch';
import { commandLine } from '../support/command-line';
import { inSoak } from '../support/deep';
import { simulatedProgram } from '../support/simulated-program';

simulatedProgram();

const quick = ['--speed', '200', '--seed', '4', '--auto'];
const short = ['--points', '4', '--legs', 'up', '--repeats', '0', '--refinements', '0'];

const Answer = z.looseObject({
  kind: z.literal('cluster'),
  cluster: z.string(),
  simulated: z.boolean(),
  gauges: z.array(z.object({ job: z.string(), place: z.string(), box_serial: z.number().nullable() })),
  neighbours: z
    .looseObject({ verdict: z.string(), suspect: z.string().nullable(), common_ohm: z.number().nullable() })
    .nullable(),
  swept: z.array(
    z.object({
      order: z.string(),
      readings: z.number(),
      minutes: z.number(),
      least_minutes: z.number(),
      doubted: z.number(),
    }),
  ),
});
const Sheet = Answer.extend({
  conditions: z.array(
    z.looseObject({
      place: z.string(),
      as_found: z
        .object({ readings: z.number(), marks: z.array(z.looseObject({ resistance_ohm: z.number() })) })
        .nullable(),
      as_left: z.null(),
    }),
  ),
});

const gaugeFile = (folder: string, name: string): string => {
  mkdirSync(folder, { recursive: true });
  const path = join(folder, name);
  const marks = [0, 50, 100].map((reading, at) => ({
    label: String(reading),
    reading,
    angleFraction: at / 2,
  }));
  writeFileSync(path, JSON.stringify({ quantity: 'fuel', mechanism: 'thermal', unit: '%', marks }));
  return path;
};

describe('cluster', () => {
  inSoak(
    'sweeps a simulated cluster unattended: crossed leads, neighbours, every gauge, the sheet, the table, same again',
    async () => {
      const jobs = join(await scratchFolder(), 'jobs');
      const place = ['--jobs', jobs, '--json'];
      const crossed = ['--order', '1,0', '--common-ground-ohm', '0.4', '--battery-lead', 'bench'];
      const ran = await commandLine([
        'cluster',
        'sweep',
        '--simulate',
        'thermal-cluster',
        ...crossed,
        ...quick,
        ...short,
        ...place,
      ]);
      expect(ran.code, ran.err).toBe(0);
      const sheet = Sheet.parse(ran.json());
      expect(sheet.gauges.map(({ box_serial }) => box_serial)).toEqual([1042, 1041]);
      expect(sheet.neighbours?.suspect).toBe('ground');
      expect(sheet.neighbours?.common_ohm).toBeGreaterThan(0.35);
      expect(sheet.neighbours?.common_ohm).toBeLessThan(0.45);
      expect(sheet.swept[0]).toMatchObject({ order: 'free', readings: 8 });
      expect(sheet.conditions.map(({ as_found }) => as_found?.readings)).toEqual([4, 4]);

      const again = Answer.parse((await commandLine(['cluster', 'again', sheet.cluster, ...place])).json());
      expect(again.cluster).not.toBe(sheet.cluster);
      expect(again.gauges.map((gauge) => [gauge.place, gauge.box_serial])).toEqual(
        sheet.gauges.map((gauge) => [gauge.place, null]),
      );
      expect(again.swept).toEqual([]);
      const shown = Sheet.parse((await commandLine(['cluster', 'sheet', sheet.cluster, ...place])).json());
      expect(shown.conditions).toEqual(sheet.conditions);
      const table = await commandLine(['cluster', 'table', '--csv', '--jobs', jobs]);
      expect(table.out.split('\n')).toHaveLength(1 + 4);
      expect(table.out).toMatch(/^cluster,opened,place,quantity,minutes,as_found_percent,as_left_percent\n/);
    },
  );

  it('opens a cluster from files of gauges, each an ordinary job at its place', async () => {
    const folder = await scratchFolder();
    const files = ['left', 'right'].flatMap((where) => [
      '--gauge',
      `${gaugeFile(folder, `${where}.json`)}:${where}`,
    ]);
    const ran = await commandLine([
      'cluster',
      'open',
      ...files,
      '--jobs',
      join(folder, 'jobs'),
      '--title',
      'Two tanks',
      '--json',
    ]);
    expect(ran.code, ran.err).toBe(0);
    const opened = Answer.parse(ran.json());
    expect(opened).toMatchObject({ simulated: false, neighbours: null, swept: [] });
    expect(opened.gauges.map((gauge) => gauge.place)).toEqual(['left', 'right']);
    const unknown = await commandLine(['cluster', 'sheet', 'no-such', '--jobs', join(folder, 'jobs')]);
    expect([unknown.code, unknown.err]).toEqual([2, expect.stringContaining('no cluster no-such')]);
  });

  it.each([
    [['cluster', 'open'], '--gauge FILE:PLACE'],
    [['cluster', 'open', '--gauge', 'nothing.json:left', '--gauge', 'x:y'], 'no such file'],
    [['cluster', 'sweep', 'x', '--auto'], '--auto is for simulated boxes'],
    [['cluster', 'swep'], 'did you mean sweep'],
  ])('%j is refused in one line', async (argv, words) => {
    const ran = await commandLine([...argv, '--jobs', join(await scratchFolder(), 'jobs')]);
    expect(ran.code).toBe(2);
    expect(ran.err).toContain(words);
  });
});
