import { InputError } from './input-error';
import { nearest } from '../core/text/nearest';
import { typedNumber } from '../core/text/number';

/** One option of a command. The kind decides how its value is read and how its help line looks. */
export type Option = {
  /** `texts` is the one kind that may be given more than once. */
  readonly kind: 'flag' | 'text' | 'texts' | 'number' | 'numbers' | 'choice' | 'choices';
  /** Stands for the value in the help. */
  readonly value?: string;
  readonly choices?: readonly string[];
  readonly min?: number;
  readonly max?: number;
  readonly isWhole?: boolean;
  readonly help: string;
};

export type OptionTable = Readonly<Record<string, Option>>;

/** The arguments of one run, each read by the kind of its option; asking for one the table lacks is a programmer's error. */
export type Arguments = {
  readonly words: readonly string[];
  flag(name: string): boolean;
  text(name: string): string | undefined;
  /** Every value of an option that may be given more than once, in their order. */
  texts(name: string): readonly string[];
  number(name: string): number | undefined;
  numbers(name: string): readonly number[] | undefined;
  /** The words of a list, each one of the choices. */
  choices(name: string): readonly string[] | undefined;
};

type Value = {
  readonly text: string;
  readonly texts?: readonly string[];
  readonly numbers: readonly number[];
  readonly choices: readonly string[];
};

/**
 * Reads `--name value`, `--name=value` and `--flag` by the table; all else are words. `--` ends the options.
 * Refuses an unknown option (naming the nearest), a missing, bad or out-of-range value, an option given twice.
 */
export function readArguments(table: OptionTable, argv: readonly string[]): Arguments {
  const words: string[] = [];
  const values = new Map<string, Value>();
  for (let index = 0; index < argv.length; index += 1) {
    const argument = argv[index]!;
    if (argument === '--') {
      words.push(...argv.slice(index + 1));
      break;
    }
    if (!argument.startsWith('--')) {
      if (/^-[a-z]/i.test(argument))
        throw new InputError(`${argument}: options are written in full, like --json`);
      words.push(argument);
      continue;
    }
    const { name, inline } = split(argument);
    const option = table[name] ?? unknownOption(name, table);
    const before = values.get(name);
    if (before !== undefined && option.kind !== 'texts') throw new InputError(`--${name} is given twice`);
    if (option.kind === 'flag') {
      if (inline !== undefined) throw new InputError(`--${name} takes no value`);
      values.set(name, { text: '', numbers: [], choices: [] });
      continue;
    }
    const text = inline ?? argv[(index += 1)];
    if (text === undefined || text === '')
      throw new InputError(`--${name} needs a value: ${valueHint(option)}`);
    const value = readValue(name, option, text);
    values.set(name, { ...value, texts: [...(before?.texts ?? []), text] });
  }
  return {
    words,
    flag: (name) => values.has(name),
    text: (name) => values.get(name)?.text,
    texts: (name) => values.get(name)?.texts ?? [],
    number: (name) => values.get(name)?.numbers[0],
    numbers: (name) => values.get(name)?.numbers,
    choices: (name) => values.get(name)?.choices,
  };
}

function split(argument: string): { readonly name: string; readonly inline: string | undefined } {
  const equals = argument.indexOf('=');
  if (equals < 0) return { name: argument.slice(2), inline: undefined };
  return { name: argument.slice(2, equals), inline: argument.slice(equals + 1) };
}

function unknownOption(name: string, table: OptionTable): never {
  const near = nearest(name, Object.keys(table));
  const hint =
    near === undefined ? 'run the command with --help to see its options' : `did you mean --${near}?`;
  throw new InputError(`there is no option --${name}; ${hint}`);
}

const valueHint = (option: Option): string => option.choices?.join(', ') ?? option.value ?? 'a value';

function readValue(name: string, option: Option, text: string): Value {
  switch (option.kind) {
    case 'choice':
      return { text: oneOf(name, option, text), numbers: [], choices: [] };
    case 'choices':
      return { text, numbers: [], choices: partsOf(text).map((part) => oneOf(name, option, part)) };
    case 'number':
      return { text, numbers: [readNumber(name, option, text)], choices: [] };
    case 'numbers':
      return { text, numbers: partsOf(text).map((part) => readNumber(name, option, part)), choices: [] };
    case 'text':
    case 'texts':
    case 'flag':
      return { text, numbers: [], choices: [] };
  }
}

const partsOf = (list: string): string[] => list.split(/[,;]/).map((part) => part.trim());

function oneOf(name: string, option: Option, text: string): string {
  if (!(option.choices ?? []).includes(text))
    throw new InputError(`--${name} ${text}: choose one of ${valueHint(option)}`);
  return text;
}

function readNumber(name: string, option: Option, text: string): number {
  const read = typedNumber(text);
  if (read.kind === 'refused') throw new InputError(`--${name}: ${read.message}`);
  const { min = -Infinity, max = Infinity } = option;
  if (option.isWhole === true && !Number.isInteger(read.value)) {
    throw new InputError(`--${name} ${text}: a whole number is needed`);
  }
  if (read.value < min || read.value > max) throw new InputError(`--${name} ${text}: ${rangeText(min, max)}`);
  return read.value;
}

function rangeText(min: number, max: number): string {
  if (max === Infinity) return `the lowest value is ${min}`;
  return min === -Infinity ? `the highest value is ${max}` : `the value must lie between ${min} and ${max}`;
}

const NAME_HINTS: Partial<Record<Option['kind'], string>> = { choice: 'NAME', choices: 'NAME,...' };

/** The option lines of a command's help. */
export function optionHelp(table: OptionTable): string[] {
  const left = Object.entries(table).map(([name, option]) => {
    const value = option.value ?? NAME_HINTS[option.kind];
    const choices = option.choices === undefined ? '' : `: ${option.choices.join(', ')}`;
    return {
      head: value === undefined ? `--${name}` : `--${name} ${value}`,
      help: `${option.help}${choices}`,
    };
  });
  const width = Math.max(...left.map(({ head }) => head.length));
  return left.map(({ head, help }) => `  ${head.padEnd(width)}  ${help}`);
}
