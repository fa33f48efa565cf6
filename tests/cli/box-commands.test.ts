import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import { scratchFolder } from '../store/scratch';
import { commandLine } from '../support/command-line';
import { startProgram } from '../support/running-host';
import { simulatedProgram } from '../support/simulated-program';

simulatedProgram();

describe('watch', () => {
  it('shows the frames of a simulated box, decoded, and ends after as many as asked', async () => {
    const { code, out } = await commandLine(['watch', '--simulate', 'two-coil-fuel', '--frames', '6']);
    expect(code).toBe(0);
    const frames = out.split('\n').filter((line) => /-->|<--/.test(line));
    expect(frames).toHaveLength(6);
    expect(frames[0]).toMatch(/--> hello #\d+ protocolMajorMin=1 protocolMajorMax=1 hostNonce=\d+/);
  });

  // A busy machine says hello many times before the box answers: how many frames come before the link lives is not known.
  it('goes on until it is interrupted, and says when the link lives', async () => {
    const { child, out, ended } = startProgram(['watch', '--simulate', 'two-coil-fuel']);
    await expect.poll(out).toContain('link live');
    expect(out()).toMatch(/<-- hello #\d+ .*bootNonce=\d+/);
    child.kill('SIGINT');
    await ended;
  });

  it('writes one JSON object a line with --json', async () => {
    const { out } = await commandLine(['watch', '--simulate', 'two-coil-fuel', '--frames', '4', '--json']);
    const Line = z.looseObject({
      kind: z.string(),
      name: z.string().optional(),
      fields: z.record(z.string(), z.number()).optional(),
    });
    const lines = out.split('\n').map((line) => Line.parse(JSON.parse(line)));
    expect(lines.filter(({ kind }) => kind === 'frame').map(({ name }) => name)).toContain('hello');
  });

  it('exits 2 with one sentence when the port is not there', async () => {
    const { code, err } = await commandLine(['watch', '--port', '/dev/needlewright-is-not-there']);
    expect(code).toBe(2);
    expect(err).toContain('there is no port /dev/needlewright-is-not-there');
  });
});

describe('--box', () => {
  it('says that no box of that number is plugged in, and wants no port beside it', async () => {
    const absent = await commandLine(['watch', '--box', '4242']);
    expect([absent.code, absent.err]).toEqual([2, expect.stringContaining('no port with box 4242')]);
    const both = await commandLine(['watch', '--box', '4242', '--port', 'a']);
    expect([both.code, both.err]).toEqual([2, expect.stringContaining('without --port')]);
  });
});

describe('ports', () => {
  it('lists ports as one JSON document, whatever the machine has', async () => {
    const Ports = z.object({ ports: z.array(z.object({ path: z.string(), can_be_box: z.boolean() })) });
    expect(Ports.safeParse((await commandLine(['ports', '--json'])).json()).success).toBe(true);
  });
});

describe('serve', () => {
  it.each([
    [['--listen', 'nonsense here'], 2, 'write host and port, for example 127.0.0.1:8377'],
    [['--listen', '127.0.0.1:99999'], 2, 'write host and port'],
    [['--listen', '0.0.0.0:0'], 3, 'Add --lan if that is wanted'],
    [['--port', 'a', '--simulate', 'two-coil-fuel'], 2, 'either --port or --simulate'],
  ])('refuses %j with code %d', async (argv, expected, why) => {
    const { code, err } = await commandLine(['serve', ...argv]);
    expect(err).toContain(why);
    expect(code).toBe(expected);
  });
});

describe('identify', () => {
  const oneFile = 'temperature_C,resistance_ohm\n20,1200\n40,530\n60,257\n80,136\n100,77\n';
  const otherFile = 'temperature_C,resistance_ohm\n20,2400\n40,1060\n60,514\n80,272\n100,154\n';
  const files = {
    'one.csv': oneFile,
    'other.csv': otherFile,
    'mine.csv': 'temperature_C,resistance_ohm\n30,800\n70,188\n',
  };
  const Found = z.looseObject({
    of: z.string(),
    verdict: z.string(),
    ranking: z.array(z.looseObject({ id: z.string(), probability: z.number(), contradicted: z.boolean() })),
  });

  it('names the sender that a few points belong to, clearly when the other is twice as high', async () => {
    const { code, json, err } = await commandLine(
      ['identify', 'mine.csv', '--known', 'other.csv,one.csv', '--json'],
      files,
    );
    expect(code, err).toBe(0);
    const found = Found.parse(json());
    expect(found).toMatchObject({ of: 'sender', verdict: 'clear' });
    expect(found.ranking[0]?.id).toBe('one.csv');
    expect(found.ranking[1]?.contradicted).toBe(true);
  });

  it('takes a file with readings for a gauge', async () => {
    const gauge = (factor: number): string =>
      [
        'resistance_ohm,reading_C',
        ...[40, 60, 80, 100, 120].map(
          (mark) => `${(factor * 4000 * Math.exp(-mark / 28)).toFixed(2)},${mark}`,
        ),
      ].join('\n');
    const all = {
      'a.csv': gauge(1),
      'b.csv': gauge(1.6),
      'mine.csv': gauge(1.6).split('\n').slice(0, 4).join('\n'),
    };
    const { json } = await commandLine(['identify', 'mine.csv', '--known', 'a.csv,b.csv', '--json'], all);
    const found = Found.parse(json());
    expect(found.of).toBe('gauge');
    expect(found.ranking[0]?.id).toBe('b.csv');
  });

  it('exits 3 without known curves where the catalogue has none', async () => {
    const catalogue = join(await scratchFolder(), 'catalogue');
    const { code, err } = await commandLine(['identify', 'mine.csv', '--catalogue', catalogue], files);
    expect(code).toBe(3);
    expect(err).toContain('catalogue');
  });

  it('compares in the unit of the points: one sender known in degF and in degC is one sender', async () => {
    const fahrenheit = oneFile
      .replace('_C', '_F')
      .replace(/^\d+/gm, (text) => String(Number(text) * 1.8 + 32));
    const { code, json } = await commandLine(
      ['identify', 'mine.csv', '--known', 'one.csv,one-F.csv', '--json'],
      { ...files, 'one-F.csv': fahrenheit },
    );
    expect(code).toBe(0);
    const { ranking } = Found.parse(json());
    expect(ranking.map(({ probability }) => probability.toFixed(3))).toEqual(['0.500', '0.500']);
  });

  it('takes readings that do not say their unit to be in that of the known gauges', async () => {
    const known = 'resistance_ohm,reading_C\n900,40\n450,60\n220,80\n110,100\n50,120\n';
    const { code, json } = await commandLine(['identify', 'mine.csv', '--known', 'k.csv', '--json'], {
      'k.csv': known,
      'mine.csv': 'resistance_ohm,reading\n450,60\n110,100\n',
    });
    expect(code).toBe(0);
    expect(Found.parse(json()).ranking[0]).toMatchObject({ id: 'k.csv', contradicted: false });
  });

  it('exits 3 when the known curves measure something else than the points', async () => {
    const oil = { ...files, 'oil.csv': 'pressure_kPa,resistance_ohm\n0,240\n300,100\n600,33\n' };
    const { code, json } = await commandLine(['identify', 'mine.csv', '--known', 'oil.csv', '--json'], oil);
    expect(code).toBe(3);
    expect(json()).toMatchObject({ refused: { code: 'IDENTIFY_UNIT' } });
  });
});
