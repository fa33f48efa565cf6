import { version } from '../../package.json';
import { commands } from './commands/index';
import type { Command, Report, Surroundings } from './command';
import { InputError, RefusedError, type RefusedMore } from './input-error';
import type { AnswerOf } from './output/schemas';
import { nearest } from '../core/text/nearest';
import { optionHelp, readArguments } from './options';

/** Exit codes of the command contract. */
const EXIT = { done: 0, failed: 1, badInput: 2, impossible: 3 } as const;

/**
 * Runs one command line. Standard output gets the answer and nothing else; warnings and refusals go to standard error.
 * Answers the exit code: 0 done, 2 bad input, 3 understood but impossible, 1 a fault of this program.
 */
export async function runCommandLine(argv: readonly string[], surroundings: Surroundings): Promise<number> {
  const isJson = argv.includes('--json');
  try {
    return await dispatch(argv, surroundings, isJson);
  } catch (error) {
    return explain(error, surroundings, isJson);
  }
}

async function dispatch(
  argv: readonly string[],
  surroundings: Surroundings,
  isJson: boolean,
): Promise<number> {
  const [name, ...rest] = argv;
  if (name === undefined || name === '--help' || name === 'help') {
    const [asked] = rest;
    (asked === undefined ? overview() : help(commandNamed(asked))).forEach(surroundings.out);
    return EXIT.done;
  }
  if (name === '--version') {
    surroundings.out(`needlewright ${version}`);
    return EXIT.done;
  }
  const command = commandNamed(name);
  if (rest.includes('--help')) {
    help(command).forEach(surroundings.out);
    return EXIT.done;
  }
  const given = readArguments(command.options, rest);
  checkWords(command, given.words);
  const report = await command.run(given, surroundings);
  if (report !== undefined) print(report, surroundings, isJson);
  return EXIT.done;
}

function print(report: Report, surroundings: Surroundings, isJson: boolean): void {
  for (const warning of report.warnings ?? []) surroundings.err(`warning: ${warning}`);
  if (isJson) surroundings.out(JSON.stringify(report.json, finiteOnly, 2));
  else report.text.forEach(surroundings.out);
}

/** JSON has no infinity: `null` would hide that a computation went wrong, so this is a fault of the program. */
function finiteOnly(key: string, value: unknown): unknown {
  if (typeof value === 'number' && !Number.isFinite(value))
    throw new Error(`the result "${key}" is not a finite number`);
  return value;
}

function explain(error: unknown, surroundings: Surroundings, isJson: boolean): number {
  if (error instanceof InputError) {
    surroundings.err(`needlewright: ${oneLine(error.message)}`);
    return EXIT.badInput;
  }
  if (error instanceof RefusedError) {
    const { code } = error;
    const message = oneLine(error.message);
    surroundings.err(`needlewright: ${message}`);
    if (isJson) surroundings.out(JSON.stringify(refusedAnswer(code, message, error.extra), finiteOnly, 2));
    return EXIT.impossible;
  }
  const detail = error instanceof Error ? (error.stack ?? error.message) : String(error);
  surroundings.err(`needlewright: a fault of this program, please report it: ${detail}`);
  return EXIT.failed;
}

const refusedAnswer = (code: string, message: string, extra: RefusedMore): AnswerOf<'refused'> => ({
  schema: 'needlewright/refused/1',
  refused: { code, message },
  ...extra,
});

const oneLine = (text: string): string => text.replace(/\s*\n\s*/g, ' ');

const commandNamed = (name: string): Command =>
  commands.find((command) => command.name === name) ?? unknownCommand(name);

function unknownCommand(name: string): never {
  const near = nearest(
    name,
    commands.map((command) => command.name),
  );
  const hint = near === undefined ? 'run "needlewright help" to see the commands' : `did you mean ${near}?`;
  throw new InputError(`there is no command ${name}; ${hint}`);
}

function checkWords(command: Command, words: readonly string[]): void {
  const { least, most } = command.words;
  const stray = words[most];
  if (words.length < least) {
    const [what = ''] = command.usage.split(' ').filter((word) => /^[A-Z]/.test(word));
    const missing = what.includes('.') ? `the file is missing (${what}); ` : '';
    throw new InputError(`${missing}usage: needlewright ${command.name} ${command.usage}`);
  }
  if (stray !== undefined) {
    throw new InputError(
      `"${stray}" is one word too many; usage: needlewright ${command.name} ${command.usage}`,
    );
  }
}

function overview(): string[] {
  const width = Math.max(...commands.map(({ name }) => name.length));
  return [
    'needlewright: make an old dash gauge tell the truth',
    '',
    'usage: needlewright COMMAND [options]',
    '',
    ...commands.map(({ name, summary }) => `  ${name.padEnd(width)}  ${summary}`),
    '',
    'needlewright help COMMAND tells more about one; --json makes any computing command answer in JSON.',
    'needlewright --version tells which program this is.',
    'A file named - is read from standard input.',
  ];
}

function help(command: Command): string[] {
  return [
    `needlewright ${command.name} ${command.usage}`,
    '',
    command.summary,
    ...(command.details.length === 0 ? [] : ['', ...command.details]),
    '',
    `for example: ${command.example}`,
    '',
    'options:',
    ...optionHelp(command.options),
  ];
}
