import { describe, expect, it } from 'vitest';
import { InputError } from '../../host/cli/input-error';
import { optionHelp, readArguments, type OptionTable } from '../../host/cli/options';

const table = {
  json: { kind: 'flag', help: 'as JSON' },
  at: { kind: 'numbers', value: 'X,...', help: 'places' },
  count: { kind: 'number', value: 'N', min: 1, max: 9, isWhole: true, help: 'how many' },
  law: { kind: 'choice', choices: ['ratio', 'thermal'], help: 'which' },
  legs: { kind: 'choices', choices: ['up', 'down'], help: 'some' },
  file: { kind: 'text', value: 'FILE', help: 'a file' },
} as const satisfies OptionTable;

describe('reading arguments', () => {
  it('takes options in any order, with a space or an equals sign, and leaves the words', () => {
    const given = readArguments(table, [
      'a.csv',
      '--at',
      '1,2.5;-3',
      '--count=4',
      'b.csv',
      '--json',
      '--law',
      'thermal',
    ]);
    expect(given.words).toEqual(['a.csv', 'b.csv']);
    expect(given.numbers('at')).toEqual([1, 2.5, -3]);
    expect(given.number('count')).toBe(4);
    expect(given.text('law')).toBe('thermal');
    expect(readArguments(table, ['--legs', 'down, up']).choices('legs')).toEqual(['down', 'up']);
    expect(given.choices('legs')).toBeUndefined();
    expect(given.flag('json')).toBe(true);
    expect(given.flag('file')).toBe(false);
    expect(given.text('file')).toBeUndefined();
  });

  it('takes everything after -- as words', () => {
    expect(readArguments(table, ['--', '--json']).words).toEqual(['--json']);
  });

  it.each([
    [['--jason'], 'did you mean --json?'],
    [['--wibble'], 'there is no option --wibble'],
    [['--count'], '--count needs a value'],
    [['--count', 'x'], '"x" is not a number'],
    [['--count', '1.5'], 'a whole number is needed'],
    [['--count', '10'], 'between 1 and 9'],
    [['--law', 'rotten'], 'choose one of ratio, thermal'],
    [['--legs', 'up,sideways'], '--legs sideways: choose one of up, down'],
    [['--json=yes'], 'takes no value'],
    [['--json', '--json'], 'given twice'],
    [['--at', '1,,2'], 'nothing is written there'],
    [['-j'], 'written in full'],
  ])('refuses %j, saying what to do', (argv, why) => {
    expect(() => readArguments(table, argv)).toThrow(InputError);
    expect(() => readArguments(table, argv)).toThrow(why);
  });

  it('lists every option with its value and choices in the help', () => {
    const help = optionHelp(table).join('\n');
    for (const name of Object.keys(table)) expect(help).toContain(`--${name}`);
    expect(help).toContain('ratio, thermal');
  });
});
