import { readFile } from 'node:fs/promises';
import { createInterface } from 'node:readline/promises';
import type { Surroundings } from './command';
import { runCommandLine } from './run';

const interrupted = new Promise<void>((resolve) => {
  process.once('SIGINT', () => resolve());
  process.once('SIGTERM', () => resolve());
});

async function ask(question: string): Promise<string | undefined> {
  const terminal = createInterface({ input: process.stdin, output: process.stderr });
  const ended = new Promise<undefined>((resolve) => terminal.once('close', () => resolve(undefined)));
  try {
    return await Promise.race([terminal.question(question), ended]);
  } finally {
    terminal.close();
  }
}

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
  ask,
  interrupted,
};

// A reader that has seen enough (`needlewright curve x.csv | head`) closes the pipe; that is no fault.
process.stdout.on('error', () => process.exit(0));

process.exitCode = await runCommandLine(process.argv.slice(2), surroundings);
