import { execFileSync, spawn, type ChildProcess } from 'node:child_process';
import { existsSync, mkdtempSync, readFileSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect } from 'vitest';
import { builtProgram } from './running-host';

/** Whether pseudo-terminals can be made here. Their absence is printed, and a failure where the project is checked. */
export function hasSocat(): boolean {
  try {
    execFileSync('socat', ['-V'], { stdio: 'ignore' });
    return true;
  } catch {
    if (process.env['CI'] === 'true')
      throw new Error('socat is missing: the serial link cannot be checked without it');
    console.warn('SKIPPED: tests over a pseudo-terminal need socat, which is not installed');
    return false;
  }
}

/** A cable: one end a pseudo-terminal for the host, the other the standard input and output of a program. */
export type Cable = {
  readonly path: string;
  /** Pulls it out: the terminal is gone, and the program with it, as a box that is fed by its cable. */
  unplug(): Promise<void>;
  /** Its converter hangs: nothing passes, and the port is there all the same. */
  freeze(isFrozen: boolean): Promise<void>;
  /** Plugs it in again at the same path, with a newly started program. */
  plug(): Promise<void>;
};

const PLUG_DEADLINE_MS = 60_000;
const LOOK_AGAIN_MS = 10;

/** Makes the cable for `command`, plugged in. */
export async function plugCable(command: string): Promise<Cable> {
  const path = join(mkdtempSync(join(tmpdir(), 'needlewright-pty-')), 'port');
  let socat: ChildProcess | undefined;
  const cable: Cable = {
    path,
    unplug: () =>
      new Promise((resolve) => {
        if (socat === undefined || socat.exitCode !== null) return resolve();
        socat.once('exit', () => resolve());
        socat.kill();
      }),
    freeze(isFrozen) {
      socat?.kill(isFrozen ? 'SIGSTOP' : 'SIGCONT');
      return Promise.resolve();
    },
    async plug() {
      // `-t 0`: when one side ends the other ends at once, as with a cable.
      socat = spawn('socat', ['-t', '0', `PTY,link=${path},raw,echo=0`, `EXEC:${command}`], {
        stdio: 'ignore',
      });
      const giveUpAtMs = Date.now() + PLUG_DEADLINE_MS;
      while (!existsSync(path)) {
        if (Date.now() > giveUpAtMs) throw new Error('socat made no pseudo-terminal');
        await new Promise((resolve) => setTimeout(resolve, LOOK_AGAIN_MS));
      }
    },
  };
  await cable.plug();
  return cable;
}

/** The built program in a terminal of its own, which a test types into and closes. */
export type InTerminal = {
  readonly type: (text: string) => void;
  /** What the program wrote to its error output, which is a file here and outlives the terminal. */
  readonly err: () => string;
  /** Closes the window: the terminal is gone, and its programs are told so. */
  readonly hangUp: () => void;
  /** What a shell reports of the program, once it has ended. */
  readonly ended: Promise<string>;
};

/**
 * `told`: the program leads its terminal, as from a shell, and is told by a signal that it is closed. `untold`: something
 * else leads it, and the program only finds that nobody reads and types there any more.
 */
export function startInTerminal(argv: readonly string[], how: 'told' | 'untold'): InTerminal {
  const folder = mkdtempSync(join(tmpdir(), 'needlewright-terminal-'));
  const [script, errFile, codeFile] = ['run', 'err', 'code'].map((name) => join(folder, name));
  if (script === undefined || errFile === undefined || codeFile === undefined) throw new Error('no names');
  const words = [process.execPath, builtProgram, ...argv].map((word) => `'${word}'`).join(' ');
  // The shell outlives the terminal, so that it can report.
  const [lead, leads] = how === 'told' ? ['setsid -c -w', ''] : ['', ',setsid,ctty'];
  writeFileSync(script, `trap '' HUP\n${lead} ${words} 2>'${errFile}'\necho $? >'${codeFile}'\n`);
  const terminal = spawn('socat', ['-', `EXEC:sh ${script},pty${leads}`], { stdio: 'pipe' });
  terminal.stdin.on('error', () => undefined);
  return {
    type: (text) => void terminal.stdin.write(text),
    err: () => (existsSync(errFile) ? readFileSync(errFile, 'utf8') : ''),
    hangUp: () => void terminal.kill('SIGKILL'),
    get ended() {
      return expect
        .poll(() => existsSync(codeFile) && readFileSync(codeFile, 'utf8').trim() !== '')
        .toBe(true)
        .then(() => readFileSync(codeFile, 'utf8').trim());
    },
  };
}
