import { createInterface, type Interface } from 'node:readline';
import type { Surroundings } from './command';
import { leave, SIGNAL_CODES, watchTerminals } from './leave';
import { ProgramEnd } from './program-end';
import { readWholeFile } from './read-file';
import { runCommandLine } from './run';

const err = (line: string): void => void process.stderr.write(`${line}\n`);
const end = new ProgramEnd({ err, exit: leave });

process.on('exit', watchTerminals());
process.on('SIGHUP', () => end.told(SIGNAL_CODES.SIGHUP));
process.on('SIGINT', () => end.told(SIGNAL_CODES.SIGINT));
process.on('SIGQUIT', () => end.told(SIGNAL_CODES.SIGQUIT));
process.on('SIGTERM', () => end.told(SIGNAL_CODES.SIGTERM));
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

  /** The program ends: what was typed ahead counts no more. */
  drop(): void {
    this.#typed.length = 0;
    this.close();
  }

  #open(): Interface {
    const reader = createInterface({ input: process.stdin, terminal: false });
    reader.on('line', (line) => {
      const next = this.#waiting.shift();
      if (next === undefined && !this.#isOver) this.#typed.push(line);
      else next?.(line);
    });
    // A terminal that is gone reports an error here; nobody types any more.
    process.stdin.on('error', () => reader.close());
    reader.on('close', () => this.close());
    return reader;
  }
}

const questions = new Questions();
void end.interrupted.then(() => questions.drop());

async function readStandardInput(): Promise<Uint8Array> {
  const chunks: Uint8Array[] = [];
  for await (const chunk of process.stdin) chunks.push(Buffer.from(chunk));
  return Buffer.concat(chunks);
}

const surroundings: Surroundings = {
  readFile: readWholeFile,
  readStandardInput,
  out: (line) => process.stdout.write(`${line}\n`),
  err,
  environment: process.env,
  ask: (question) => questions.ask(question),
  interrupted: end.interrupted,
  outputs: end.outputs,
};

process.exitCode = end.workEnded(await runCommandLine(process.argv.slice(2), surroundings));
// An open reader would keep the program waiting for a line that nobody needs.
questions.close();
