import { spawn, type ChildProcess } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { expect } from 'vitest';
import { WebSocket } from 'ws';
import { z } from 'zod';

export const builtProgram = fileURLToPath(new URL('../../.build/cli/main.js', import.meta.url));
const Serving = z.object({ kind: z.literal('serving'), url: z.string() });

/** The built program as people run it. */
export type RunningProgram = {
  readonly child: ChildProcess;
  readonly out: () => string;
  readonly err: () => string;
  /** Its exit code, once it has ended. */
  readonly ended: Promise<number | null>;
};

/**
 * Starts the built program. `planted` is a line of JavaScript that runs when the program hears SIGUSR2: the misfortune
 * of a test, which the program knows nothing of.
 */
export function startProgram(argv: readonly string[], planted = ''): RunningProgram {
  const preload = `data:text/javascript,${encodeURIComponent(
    `import { open } from 'node:fs/promises'; process.on('SIGUSR2', () => { ${planted} });`,
  )}`;
  const child = spawn(process.execPath, ['--import', preload, builtProgram, ...argv], { stdio: 'pipe' });
  let out = '';
  let err = '';
  child.stdout.on('data', (text: Buffer) => (out += text.toString()));
  child.stderr.on('data', (text: Buffer) => (err += text.toString()));
  const ended = new Promise<number | null>((resolve) => child.once('exit', resolve));
  return { child, out: () => out, err: () => err, ended };
}

export const postTo = async (url: string, body: object): Promise<unknown> => {
  const headers = { 'content-type': 'application/json' };
  return (await fetch(url, { method: 'POST', headers, body: JSON.stringify(body) })).json();
};

/** Where a started `serve --json` has its page. */
export async function urlOf(host: RunningProgram): Promise<string> {
  await expect.poll(host.out, { message: host.err() }).toContain('"url"');
  return Serving.parse(JSON.parse(host.out())).url;
}

export type PresentScreen = {
  /** Everything it has been told, as it came. */
  readonly heard: () => string;
  readonly say: (message: object) => void;
  readonly leave: () => void;
};

/** A screen that is there, as a page in sight of a person is. */
export async function presentScreen(url: string, jobId: string, screen: string): Promise<PresentScreen> {
  const socket = new WebSocket(`${url.replace('http', 'ws')}/live`);
  let heard = '';
  socket.on('message', (data) => (heard = data instanceof Buffer ? `${heard}${data.toString()}` : heard));
  socket.on('error', () => undefined);
  await new Promise((resolve) => socket.once('open', resolve));
  const say = (message: object): void => socket.send(JSON.stringify(message));
  say({ kind: 'hello', build: 'no page', screen, key: screen });
  say({ kind: 'follow', jobId, afterN: 0 });
  const present = setInterval(() => say({ kind: 'present' }), 500);
  return {
    heard: () => heard,
    say,
    leave() {
      clearInterval(present);
      socket.terminate();
    },
  };
}
