import { closeSync } from 'node:fs';
import { isatty } from 'node:tty';
import { busyPorts } from '../link/busy-ports';

/** Calls of the system that are nearly done are waited for so long. */
const PATIENCE_MS = 200;
/** A file or a name that the system is working on, as this program's own list of its resources calls it. */
const SYSTEM_WORK = /^(FSReq|GetAddrInfoReq|GetNameInfoReq)/;

/** 128 and the number of the signal: what a shell reports for a program that a signal has ended; common practice. */
export const SIGNAL_CODES = { SIGHUP: 129, SIGINT: 130, SIGQUIT: 131, SIGTERM: 143 } as const;
type EndSignal = keyof typeof SIGNAL_CODES;
/** Without SIGQUIT, which writes the whole memory to the disk: a disk that has died would keep the program for ever. */
const END_SIGNALS = ['SIGHUP', 'SIGINT', 'SIGTERM'] as const satisfies readonly EndSignal[];

const isBusy = (): boolean =>
  busyPorts() > 0 || process.getActiveResourcesInfo().some((name) => SYSTEM_WORK.test(name));

/**
 * Ends the program. An ordinary exit waits for every call of the system that is under way, which on a disk that has died
 * is for ever; then the system is told to end the program instead.
 */
export function leave(code: number, how: 'tidy' | 'at-once' = 'tidy'): void {
  if (how === 'at-once') return cutOff(code);
  if (!isBusy()) process.exit(code);
  setTimeout(() => (isBusy() ? cutOff(code) : process.exit(code)), PATIENCE_MS);
}

/** By the signal that it was told to end with, as if nobody had listened for it; else by the one nobody can listen for. */
function cutOff(code: number): void {
  const told = END_SIGNALS.find((signal) => SIGNAL_CODES[signal] === code);
  if (told !== undefined) {
    process.removeAllListeners(told);
    process.kill(process.pid, told);
  }
  process.kill(process.pid, 'SIGKILL');
}

const STANDARD = [0, 1, 2] as const;

/**
 * Call at the start; call the answer at the very end. The runtime puts every terminal it began with back into order when
 * it ends, and dies of it where the terminal has been closed meanwhile: what no longer answers as a terminal is closed.
 */
export function watchTerminals(): () => void {
  const terminals = STANDARD.filter((file) => isatty(file));
  return () => {
    for (const file of terminals) if (!isatty(file)) closeQuietly(file);
  };
}

function closeQuietly(file: number): void {
  try {
    closeSync(file);
  } catch {
    // Closed already: there is nothing left to put into order.
  }
}
