import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import { states } from '../../protocol';
import { vitalOf } from '../../host/bench/box/vital';
import { lookWords } from '../../host/cli/commands/hold';
import { commandLine } from '../support/command-line';
import { simulatedProgram } from '../support/simulated-program';

simulatedProgram();

const neverRead = {
  state: states.safe,
  faultCode: 0,
  contactMask: 0,
  meterFlags: 0,
  leaseLeftMs: 0,
  boxMs: 20,
  terminalMicrovolt: 2_147_483_647,
  currentMicroamp: 0,
  measuredMilliohm: 0,
  madeMilliohm: 0,
};

const hold = (typed: readonly string[], kind = 'magnetic') =>
  commandLine(['hold', '--simulate', 'two-coil-fuel', '--kind', kind], {}, typed);

describe('hold', () => {
  it('arms nothing before somebody has said that it is a bench', async () => {
    for (const typed of [[], ['n'], ['']]) {
      const { code, out, err } = await hold(typed);
      expect(code).toBe(3);
      expect(out).toBe('');
      expect(err).toContain('nothing was armed');
    }
  });

  it('makes what is typed, says how well that is known, and shows what the box has closed', async () => {
    const { code, out } = await hold(['y', '200', '41.3', 'q']);
    expect(code).toBe(0);
    const made = [...out.matchAll(/made ([\d.]+) ohm, standard uncertainty ([\d.]+) ohm/g)];
    expect(made).toHaveLength(2);
    expect(Math.abs(Number(made[0]?.[1]) - 200)).toBeLessThan(0.7);
    expect(Math.abs(Number(made[1]?.[1]) - 41.3)).toBeLessThan(0.6);
    expect(out.match(/state driving, closed contacts, bit 15 to bit 0: 1[01]{15},/g)).toHaveLength(2);
  });

  it('writes one JSON object a line with --json', async () => {
    const argv = ['hold', '--simulate', 'two-coil-fuel', '--kind', 'magnetic', '--json'];
    const { out } = await commandLine(argv, {}, ['y', '100', 'q']);
    const kinds = out.split('\n').map((line) => z.looseObject({ kind: z.string() }).parse(JSON.parse(line)));
    expect(kinds.map(({ kind }) => kind)).toEqual(['armed', 'made', 'look']);
  });

  it('says so when there is nothing to clear, and goes on holding', async () => {
    const { code, out, err } = await hold(['y', '100', 'c', '', 'q']);
    expect(code).toBe(0);
    expect(err).toContain('not cleared: not possible in the present state');
    expect(out.split('\n').at(-1)).toContain('state driving');
  });

  it('says what the box refuses and what is no number, and goes on', async () => {
    const { code, out, err } = await hold(['y', 'ten', '5', '3000', ''], 'unknown');
    expect(code).toBe(0);
    expect(err).toContain('write the ohms as a number');
    expect(err).toContain('not made: unknown gauge: go down in steps');
    expect(out).toMatch(/made [23]\d\d\d\.\d+ ohm/);
  });

  it('shows no volts for a meter that was never read', () => {
    // The greatest number that the protocol's field can carry stands for "never"; see protocol/README.md.
    const { text, json } = lookWords({
      contactMask: 0,
      ...vitalOf({ ...neverRead, meterAgeMs: 65_535 }, 0),
    });
    expect(text).toContain('volts not read yet');
    expect(text).not.toMatch(/\d V/);
    expect(json).toMatchObject({ terminal_V: null });
  });
});
