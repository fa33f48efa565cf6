import { describe, expect, it } from 'vitest';
import { version } from '../../package.json';
import { commands } from '../../host/cli/commands/index';
import { readArguments } from '../../host/cli/options';
import { commandLine } from '../support/command-line';

describe('the command line', () => {
  it('shows every command when nothing is asked', async () => {
    const { code, out } = await commandLine([]);
    expect(code).toBe(0);
    for (const { name } of commands) expect(out).toContain(`  ${name} `);
  });

  it.each(commands.map(({ name }) => name))('explains %s with --help and with help', async (name) => {
    const asked = await commandLine([name, '--help']);
    expect(asked.code).toBe(0);
    expect(asked.out).toContain(`needlewright ${name} `);
    expect(asked.out).toContain('--json');
    expect((await commandLine(['help', name])).out).toBe(asked.out);
  });

  // As a shell takes it apart; what is written to a file is the shell's business.
  it.each(commands)('gives an example of $name that it would take', ({ name, example, options, words }) => {
    const typed = example.replace(/ > \S+$/, '').match(/"[^"]*"|\S+/g) ?? [];
    expect(typed.slice(0, 2)).toEqual(['needlewright', name]);
    const given = readArguments(
      options,
      typed.slice(2).map((word) => word.replaceAll('"', '')),
    );
    expect(given.words.length).toBeGreaterThanOrEqual(words.least);
    expect(given.words.length).toBeLessThanOrEqual(words.most);
  });

  it('tells its version with --version, as package.json has it', async () => {
    expect(await commandLine(['--version'])).toMatchObject({
      code: 0,
      out: `needlewright ${version}`,
      err: '',
    });
    expect(version).toMatch(/^\d+\.\d+\.\d+$/);
  });

  it('names the nearest command for a mistyped one and exits 2', async () => {
    const { code, out, err } = await commandLine(['sendr', 'x.csv']);
    expect(code).toBe(2);
    expect(out).toBe('');
    expect(err).toBe('needlewright: there is no command sendr; did you mean sender?');
  });

  it('exits 2 with the usage when a word is missing or left over', async () => {
    const { code, err } = await commandLine(['sender']);
    expect(code).toBe(2);
    expect(err).toContain('usage: needlewright sender');
    expect((await commandLine(['network', 'word'])).err).toContain('"word" is one word too many');
  });

  it('exits 2 on a file that is not there, a folder, a spreadsheet, or no text', async () => {
    expect((await commandLine(['sender', 'no.csv'])).err).toBe('needlewright: no.csv: there is no such file');
    const spreadsheet = await commandLine(['sender', 'x'], { x: new Uint8Array([0x50, 0x4b, 3, 4]) });
    expect(spreadsheet).toMatchObject({
      code: 2,
      err: 'needlewright: x: this is a workbook or an archive; save the sheet as CSV, or copy its columns and paste them',
    });
    expect((await commandLine(['sender', 'x'], { x: new Uint8Array([65, 0, 66]) })).err).toContain(
      'not a text file',
    );
  });

  it('refuses to explain a command that is not there', async () => {
    expect(await commandLine(['help', 'sendr'])).toMatchObject({
      code: 2,
      out: '',
      err: 'needlewright: there is no command sendr; did you mean sender?',
    });
  });
});

describe('network', () => {
  it('gives the exact parts for two pairs', async () => {
    const { code, json } = await commandLine([
      'network',
      '--pairs',
      '100:60,25:30',
      '--topology',
      'shunt-then-series',
      '--json',
    ]);
    expect(code).toBe(0);
    expect(json()).toMatchObject({
      solutions: [
        {
          topology: 'shunt-then-series',
          parts: [
            { place: 'series', resistance_ohm: 10 },
            { place: 'shunt', resistance_ohm: 100 },
          ],
        },
      ],
    });
  });

  it('exits 3 with the theorem, on both outputs, when circuits forbid it', async () => {
    const { code, json, err } = await commandLine(['network', '--pairs', '100:160,25:30', '--json']);
    expect(code).toBe(3);
    expect(json()).toMatchObject({ refused: { code: 'SPAN_OHM' } });
    expect(err).toContain('it has 75 ohm, and 130 ohm is wanted');
  });

  it.each([
    ['100-60', 'is not a pair'],
    ['100:60:20', 'is not a pair'],
    ['a:60', '"a" is not a number'],
    ['-1:60', 'cannot be negative'],
    ['1:1,2:2,3:3,4:4', '4 pairs were given'],
    ['10:5,10:6', 'given twice'],
  ])('exits 2 on the pairs %s', async (pairs, why) => {
    const { code, out, err } = await commandLine(['network', '--pairs', pairs, '--json']);
    expect(code).toBe(2);
    expect(out).toBe('');
    expect(err).toContain(why);
    expect(err.split('\n')).toHaveLength(1);
  });
});
