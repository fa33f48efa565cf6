import type { Arguments, OptionTable } from './options';
import type { Answer } from './output/schemas';
import type { Outputs } from './program-end';

/** What the outside world gives a command; tests give their own. */
export type Surroundings = {
  /** A whole file as bytes; rejects as the system does. */
  readonly readFile: (path: string) => Promise<Uint8Array>;
  readonly readStandardInput: () => Promise<Uint8Array>;
  /** One line to standard output. */
  readonly out: (line: string) => void;
  /** One line to standard error: progress, warnings, refusals. */
  readonly err: (line: string) => void;
  readonly environment: Readonly<Record<string, string | undefined>>;
  /** Lines a person types; undefined where nobody can (input is a file or a pipe that has ended). */
  readonly ask: (question: string) => Promise<string | undefined>;
  /** Resolves when the program has to end (Ctrl-C, a closed terminal, a fault), after every output was told to open. */
  readonly interrupted: Promise<void>;
  /** Whoever opens a link to a box adds its output here at once. */
  readonly outputs: Outputs;
};

/** What a computing command answers: the same finding as text for a person and as one JSON document. */
export type Report = {
  readonly text: readonly string[];
  /** Left out by a command without --json. */
  readonly json?: Answer;
  readonly warnings?: readonly string[];
};

export type Command = {
  readonly name: string;
  /** One line for the list of commands. */
  readonly summary: string;
  /** What stands after the name, as `READINGS.csv [options]`. */
  readonly usage: string;
  /** One whole line as somebody would type it. */
  readonly example: string;
  /** Further lines of the help: what goes in, what comes out. */
  readonly details: readonly string[];
  readonly options: OptionTable;
  /** How many words the command takes: least and most. */
  readonly words: { readonly least: number; readonly most: number };
  readonly run: (given: Arguments, surroundings: Surroundings) => Promise<Report | undefined>;
};

export const JSON_OPTION = { json: { kind: 'flag', help: 'one JSON document on standard output' } } as const;
