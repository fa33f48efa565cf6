import { execFileSync } from 'node:child_process';
import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import { SIMULATED_GAUGES } from '../../host/cli/input/box-options';
import { commandLine } from '../support/command-line';
import { simulatedProgram } from '../support/simulated-program';

const Told = z.object({
  simulated: z.literal(true),
  calibration_id: z.number(),
  made_on: z.string(),
  valid_until: z.string(),
  previous: z.object({ calibration_id: z.number() }),
  standard: z.array(z.object({ current_mA: z.number(), measured_ohm: z.number() })),
  rows: z.array(
    z.object({
      part: z.string(),
      printed_ohm: z.number().nullable(),
      previous_ohm: z.number(),
      resistance_ohm: z.number(),
      standard_uncertainty_ohm: z.number(),
    }),
  ),
});

describe('the simulated gauges that the command line offers', () => {
  it('are those that the simulated box has', () => {
    const text = execFileSync(process.execPath, [simulatedProgram(), '--describe'], { encoding: 'utf8' });
    const names = z.array(z.object({ name: z.string() })).parse(JSON.parse(text));
    expect(names.map(({ name }) => name)).toEqual([...SIMULATED_GAUGES]);
  });
});

describe('calibrate', () => {
  it('takes --yes for a simulated box only', async () => {
    const { code, err } = await commandLine(['calibrate', '--port', '/dev/none', '--yes']);
    expect(code).toBe(2);
    expect(err).toContain('a real one needs a person at its clips');
  });

  it('says what the box keeps, asks, and stores nothing when nobody says yes', async () => {
    simulatedProgram();
    const { code, out, err } = await commandLine(['calibrate', '--simulate', 'thermal-fuel'], {}, ['n']);
    expect(code).toBe(3);
    expect(out).toBe('');
    expect(err).toMatch(/^SIMULATED box \d+ keeps calibration \d+ of \d{4}-\d\d-\d\d, valid until/);
    expect(err).toContain('Nothing was stored: the box keeps calibration');
  });

  it('gives one JSON document with identity, validity and the rows against printed and previous ones', async () => {
    const { code, json, err } = await commandLine([
      'calibrate',
      '--simulate',
      'thermal-fuel',
      '--yes',
      '--days',
      '100',
      '--standard-ohm',
      '100',
      '--json',
    ]);
    expect(code).toBe(0);
    const told = Told.parse(json());
    expect(told.calibration_id).not.toBe(told.previous.calibration_id);
    expect(Date.parse(told.valid_until) - Date.parse(told.made_on)).toBe(100 * 86_400_000);
    expect(told.rows.map(({ part }) => part)).toEqual([
      ...Array.from({ length: 15 }, (_, index) => `R${index + 1}`),
      'residual',
    ]);
    for (const { printed_ohm: printed, previous_ohm: previous, resistance_ohm: ohm } of told.rows.slice(
      0,
      14,
    )) {
      expect(Math.abs(ohm - (printed ?? NaN))).toBeLessThan(0.015 * (printed ?? NaN) + 0.1);
      expect(Math.abs(ohm - previous)).toBeLessThan(0.004 * previous + 0.1);
    }
    // 100 ohm is within reach of both currents of the ohmmeter; 0.15 % and the clips are what the box may be off.
    expect(told.standard.map(({ current_mA: current }) => current)).toEqual([10, 0.5]);
    for (const { measured_ohm: ohm } of told.standard) expect(Math.abs(ohm - 100)).toBeLessThan(0.17);
    expect(err).toMatch(/part\s+printed\s+allowed ohm\s+old ohm\s+new ohm\s+change\s+standard uncertainty/);
  });
});
