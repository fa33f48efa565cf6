import { readFile } from 'node:fs/promises';
import { createInterface, type Interface } from 'node:readline';
import type { Surroundings } from './command';
import { ProgramEnd } from './program-end';
import { runCommandLine } from './run';

const err = (line: string): void => void process.stderr.write(`${line}\n`);
const end = new ProgramEnd({ err, exit: (code) => process.exit(code) });

/** What a shell reports for a program that a signal has ended: 128 and its number; common practice. */
const SIGNALS = { SIGHUP: 129, SIGINT: 130, SIGTERM: 143 } as const;
process.on('SIGHUP', () => end.told(SIGNALS.SIGHUP));
process.on('SIGINT', () => end.told(SIGNALS.SIGINT));
process.on('SIGTERM', () => end.told(SIGNALS.SIGTERM));
process.on('uncaughtException', (error) => end.fault(error));
process.on('unhandledRejection', (reason) => end.fault(reason));
// A terminal that was closed refuses every line; the words are lost, the ending is not.
process.stderr.on('error', () => undefined);
// A reader that has seen enough (`needlewright watch | head`) closes the pipe; that is no fault.
process.stdout.on('error', () => end.unheard());

/** One reader for the whole run: lines typed or piped ahead of their question are kept. */
class Questions {
  readonly #typed: string[] = [];
  readonly #waiting: ((line: string | undefined) => void)[] = [];
  #reader: Interface | undefined;
  #isOver = false;

  ask(question: string): Promise<string | undefined> {
    this.#reader ??= this.#open();
    process.stderr.write(question);
    const line = this.#typed.shift();
    if (line !== undefined || this.#isOver) return Promise.resolve(line);
    return new Promise((resolve) => this.#waiting.push(resolve));
  }

  /** Nobody is asked any more; whoever waits for a line gets none. */
  close(): void {
    this.#isOver = true;
    for (const next of this.#waiting.splice(0)) next(undefined);
    this.#reader?.close();
  }

  #open(): Interface {
    const reader = createInterface({ input: process.stdin, terminal: false });
    reader.on('line', (line) => {
      const next = this.#waiting.shift();
      if (next === undefined) this.#typed.push(line);
      else next(line);
    });
    // A terminal that is gone reports an error here; nobody types any more.
    process.stdin.on('error', () => reader.close());
    reader.on('close', () => this.close());
    return reader;
  }
}

const questions = new Questions();
void end.interrupted.then(() => questions.close());

async function readStandardInput(): Promise<Uint8Array> {
  const chunks: Uint8Array[] = [];
  for await (const chunk of process.stdin) chunks.push(Buffer.from(chunk));
  return Buffer.concat(chunks);
}

const surroundings: Surroundings = {
  readFile,
  readStandardInput,
  out: (line) => process.stdout.write(`${line}\n`),
  err,
  environment: process.env,
  ask: (question) => questions.ask(question),
  interrupted: end.interrupted,
  outputs: end.outputs,
};

const exitCode = end.exitCode(await runCommandLine(process.argv.slice(2), surroundings));
// An open reader would keep the program waiting for a line that nobody needs.
questions.close();
// Whatever is still open must not keep a program alive that was told to end.
if (end.isEnding) process.exit(exitCode);
process.exitCode = exitCode;
