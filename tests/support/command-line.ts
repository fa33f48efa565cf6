import type { Surroundings } from '../../host/cli/command';
import { ProgramEnd } from '../../host/cli/program-end';
import { runCommandLine } from '../../host/cli/run';
import { strictAnswer } from './strict-answer';

export type Ran = {
  readonly code: number;
  readonly out: string;
  readonly err: string;
  /** Standard output as one JSON document; throws when it is anything else, or says more or less than its schema. */
  readonly json: () => unknown;
};

export type Files = Readonly<Record<string, string | Uint8Array>>;

/** Runs a command line as the program does, on files that are in memory only. */
export async function commandLine(
  argv: readonly string[],
  files: Files = {},
  typed: readonly string[] = [],
  environment: Surroundings['environment'] = {},
): Promise<Ran> {
  const out: string[] = [];
  const err: string[] = [];
  const answers = [...typed];
  const end = new ProgramEnd({ err: (line) => void err.push(line), exit: () => undefined });
  const surroundings: Surroundings = {
    readFile: (path) => {
      const content = files[path];
      if (content === undefined)
        return Promise.reject(Object.assign(new Error('not there'), { code: 'ENOENT' }));
      return Promise.resolve(typeof content === 'string' ? new TextEncoder().encode(content) : content);
    },
    readStandardInput: () => {
      const content = files['-'] ?? '';
      return Promise.resolve(typeof content === 'string' ? new TextEncoder().encode(content) : content);
    },
    out: (line) => void out.push(line),
    err: (line) => void err.push(line),
    environment,
    ask: () => Promise.resolve(answers.shift()),
    interrupted: end.interrupted,
    outputs: end.outputs,
  };
  const code = await runCommandLine(argv, surroundings);
  return {
    code,
    out: out.join('\n'),
    err: err.join('\n'),
    json: () => parsed(argv, out.join('\n')),
  };
}

function parsed(argv: readonly string[], text: string): unknown {
  const document: unknown = JSON.parse(text);
  if (argv.includes('--json')) strictAnswer(document);
  return document;
}
