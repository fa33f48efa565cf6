import type { Surroundings } from './command';
import { leave, SIGNAL_CODES, watchTerminals } from './leave';
import { ProgramEnd } from './program-end';
import { Questions } from './questions';
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

const questions = new Questions({
  input: process.stdin,
  isTerminal: process.stdin.isTTY,
  say: (text) => void process.stderr.write(text),
});
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
