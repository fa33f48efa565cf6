import { execFileSync, spawn, type ChildProcess } from 'node:child_process';
import { existsSync, mkdtempSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

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
