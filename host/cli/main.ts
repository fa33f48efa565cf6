import { readFile } from 'node:fs/promises';
import { createInterface, type Interface } from 'node:readline';
import type { Surroundings } from './command';
import { runCommandLine } from './run';

const interrupted = new Promise<void>((resolve) => {
  process.once('SIGINT', () => resolve());
  process.once('SIGTERM', () => resolve());
});

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

  close(): void {
    this.#reader?.close();
  }

  #open(): Interface {
    const reader = createInterface({ input: process.stdin, terminal: false });
    reader.on('line', (line) => {
      const next = this.#waiting.shift();
      if (next === undefined) this.#typed.push(line);
      else next(line);
    });
    reader.on('close', () => {
      this.#isOver = true;
      for (const next of this.#waiting.splice(0)) next(undefined);
    });
    return reader;
  }
}

const questions = new Questions();

async function readStandardInput(): Promise<Uint8Array> {
  const chunks: Uint8Array[] = [];
  for await (const chunk of process.stdin) chunks.push(Buffer.from(chunk));
  return Buffer.concat(chunks);
}

const surroundings: Surroundings = {
  readFile,
  readStandardInput,
  out: (line) => process.stdout.write(`${line}\n`),
  err: (line) => process.stderr.write(`${line}\n`),
  environment: process.env,
  ask: (question) => questions.ask(question),
  interrupted,
};

// A reader that has seen enough (`needlewright curve x.csv | head`) closes the pipe; that is no fault.
process.stdout.on('error', () => process.exit(0));

process.exitCode = await runCommandLine(process.argv.slice(2), surroundings);
// An open reader would keep the program waiting for a line that nobody needs.
questions.close();
