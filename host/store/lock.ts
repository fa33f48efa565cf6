import { mkdir, open, readFile, rm, stat } from 'node:fs/promises';
import { hostname } from 'node:os';
import { join } from 'node:path';
import { z } from 'zod';
import { refuse, type Refused } from '../core/result';

export const LOCK_FILE = 'job.lock';
const TAKING_OVER = 'job.lock.taking-over';
/** Taking over a dead program's lock takes milliseconds; after this it was itself left by a crash. */
const TAKING_OVER_STALE_MS = 10_000;
/** A lock file is made first and filled a moment later; an empty one older than this was left by a crash. */
const FILLING_MS = 2_000;

const holder = z.strictObject({ pid: z.number().int(), host: z.string(), started: z.string() });
type Holder = z.infer<typeof holder>;

export type Lock = { readonly kind: 'lock'; release(): Promise<void> };
export type LockRefused = Refused<'JOB_IN_USE'>;

const hasCode = (error: unknown, code: string): boolean =>
  error instanceof Error && 'code' in error && error.code === code;

/**
 * Start time of a process, so that a number used again by another program is not taken for the old one.
 * Source: proc(5), /proc/[pid]/stat field 22; empty where there is no /proc.
 */
const startedOf = async (pid: number): Promise<string> => {
  const START_TIME_AFTER_NAME = 19;
  try {
    const text = await readFile(`/proc/${pid}/stat`, 'utf8');
    return text.slice(text.lastIndexOf(')') + 2).split(' ')[START_TIME_AFTER_NAME] ?? '';
  } catch {
    return '';
  }
};

const isAlive = async (held: Holder): Promise<boolean> => {
  try {
    process.kill(held.pid, 0);
  } catch (error) {
    return hasCode(error, 'EPERM');
  }
  return held.started === (await startedOf(held.pid));
};

const readHolder = async (path: string): Promise<Holder | undefined> => {
  try {
    const parsed = holder.safeParse(JSON.parse(await readFile(path, 'utf8')));
    return parsed.success ? parsed.data : undefined;
  } catch {
    return undefined;
  }
};

const isBeingFilled = async (path: string): Promise<boolean> => {
  const made = await stat(path).catch(() => undefined);
  return made !== undefined && Date.now() - made.mtimeMs < FILLING_MS;
};

/** Held by someone who may still be writing: alive here, or on another computer where nobody can tell. */
const isHeld = async (path: string, held: Holder | undefined): Promise<boolean> =>
  held === undefined ? isBeingFilled(path) : held.host !== hostname() || isAlive(held);

const writeLock = async (path: string): Promise<boolean> => {
  const mine: Holder = { pid: process.pid, host: hostname(), started: await startedOf(process.pid) };
  try {
    const file = await open(path, 'wx');
    await file.writeFile(JSON.stringify(mine));
    await file.close();
    return true;
  } catch (error) {
    if (hasCode(error, 'EEXIST')) return false;
    throw error;
  }
};

const inUse = (path: string, held: Holder | undefined): LockRefused => {
  const who = held === undefined ? 'another program' : `program ${held.pid} on ${held.host}`;
  return refuse(
    'JOB_IN_USE',
    `this job is being written by ${who}; close it there, or, if nothing runs there any more, delete ${path}`,
  );
};

/** Only one program at a time may judge a lock dead and replace it; a directory is made by one or by none. */
const withTakingOver = async (folder: string, action: () => Promise<boolean>): Promise<boolean> => {
  const gate = join(folder, TAKING_OVER);
  try {
    await mkdir(gate);
  } catch (error) {
    if (!hasCode(error, 'EEXIST')) throw error;
    const made = await stat(gate).catch(() => undefined);
    if (made !== undefined && Date.now() - made.mtimeMs > TAKING_OVER_STALE_MS)
      await rm(gate, { recursive: true });
    return false;
  }
  try {
    return await action();
  } finally {
    await rm(gate, { recursive: true, force: true });
  }
};

/**
 * Lets one program write a job. A lock left by a program that died is taken over; one of a living program, or of another
 * computer (a shared folder), is respected.
 * Refuses: JOB_IN_USE, naming who holds it and what to delete if that is wrong.
 */
export const lockJob = async (folder: string): Promise<Lock | LockRefused> => {
  const path = join(folder, LOCK_FILE);
  const lock: Lock = { kind: 'lock', release: () => rm(path, { force: true }) };
  if (await writeLock(path)) return lock;
  const held = await readHolder(path);
  if (await isHeld(path, held)) return inUse(path, held);
  const taken = await withTakingOver(folder, async () => {
    const now = await readHolder(path);
    if (await isHeld(path, now)) return false;
    await rm(path, { force: true });
    return writeLock(path);
  });
  return taken ? lock : inUse(path, await readHolder(path));
};
