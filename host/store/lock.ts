import { constants } from 'node:fs';
import { mkdir, open, readFile, rm, stat } from 'node:fs/promises';
import { hostname } from 'node:os';
import { join } from 'node:path';
import { setTimeout } from 'node:timers/promises';
import { z } from 'zod';
import type { Refused } from '../core/result';
import { refuse } from '../refusals';
import { hasCode, troubleSentence } from './file-trouble';

export const LOCK_FILE = 'job.lock';
const TAKING_OVER = 'job.lock.taking-over';
/**
 * A lock is made first and signed a moment later, and a dead program's lock is taken over within milliseconds. What is
 * unfinished and older than this was left by a crash.
 */
const UNFINISHED_MS = 2_000;
/** Who asks waits so long for what another is about to finish, or what a program left that was killed meanwhile. */
const UNFINISHED_WAIT_MS = UNFINISHED_MS + 1_000;
const LOOK_AGAIN_MS = 100;

const holder = z.strictObject({ pid: z.number().int(), host: z.string(), started: z.string() });
type Holder = z.infer<typeof holder>;

export type Lock = { readonly kind: 'lock'; release(): Promise<void> };
export type LockRefused = Refused<'JOB_IN_USE' | 'JOB_NOT_WRITABLE'>;

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
    const parsed = holder.safeParse(
      JSON.parse(await readFile(path, { encoding: 'utf8', flag: constants.O_RDONLY | constants.O_NONBLOCK })),
    );
    return parsed.success ? parsed.data : undefined;
  } catch {
    return undefined;
  }
};

const isBeingFilled = async (path: string): Promise<boolean> => {
  const made = await stat(path).catch(() => undefined);
  return made !== undefined && Date.now() - made.mtimeMs < UNFINISHED_MS;
};

/** Held by someone who may still be writing: alive here, or on another computer where nobody can tell. */
const isHeld = async (path: string, held: Holder | undefined): Promise<boolean> =>
  held === undefined ? isBeingFilled(path) : held.host !== hostname() || isAlive(held);

const ofThisProgram = async (): Promise<Holder> => ({
  pid: process.pid,
  host: hostname(),
  started: await startedOf(process.pid),
});

const writeLock = async (path: string): Promise<boolean> => {
  const mine = await ofThisProgram();
  const file = await open(path, 'wx').catch((error: unknown) => {
    if (hasCode(error, 'EEXIST')) return undefined;
    throw error;
  });
  if (file === undefined) return false;
  try {
    await file.writeFile(JSON.stringify(mine));
    return true;
  } catch (error) {
    // On a full disk the name can be made and the words cannot: an empty lock would keep everybody out for a while.
    await rm(path, { force: true });
    throw error;
  } finally {
    await file.close();
  }
};

/** The folder may have been moved and another put in its place: only our own lock is ours to remove. */
const releaseOwn = async (path: string): Promise<void> => {
  const [held, mine] = [await readHolder(path), await ofThisProgram()];
  if (held?.pid !== mine.pid || held.host !== mine.host || held.started !== mine.started) return;
  await rm(path, { force: true }).catch(() => undefined);
};

const inUse = (path: string, held: Holder | undefined): LockRefused => {
  const who = held === undefined ? 'Another program' : `Program ${held.pid} on ${held.host}`;
  return refuse('JOB_IN_USE', { by: who, lock: path });
};

/** Only one program at a time may judge a lock dead and replace it; a directory is made by one or by none. */
const withTakingOver = async (folder: string, action: () => Promise<boolean>): Promise<boolean> => {
  const gate = join(folder, TAKING_OVER);
  try {
    await mkdir(gate);
  } catch (error) {
    if (!hasCode(error, 'EEXIST')) throw error;
    const made = await stat(gate).catch(() => undefined);
    if (made !== undefined && Date.now() - made.mtimeMs > UNFINISHED_MS)
      await rm(gate, { recursive: true, force: true });
    return false;
  }
  try {
    return await action();
  } finally {
    await rm(gate, { recursive: true, force: true });
  }
};

const takeLock = async (folder: string, path: string): Promise<boolean> =>
  (await writeLock(path)) ||
  (!(await isHeld(path, await readHolder(path))) &&
    withTakingOver(folder, async () => {
      if (await isHeld(path, await readHolder(path))) return false;
      await rm(path, { force: true });
      return writeLock(path);
    }));

/** The lock is being signed or taken over, or was when that program was killed. */
const isUnfinished = async (folder: string, path: string): Promise<boolean> =>
  ((await readHolder(path)) === undefined && (await isBeingFilled(path))) ||
  (await stat(join(folder, TAKING_OVER)).catch(() => undefined)) !== undefined;

/** Takes the lock; what is unfinished is looked at again until it is finished, or stale. */
const takeFinishedLock = async (folder: string, path: string): Promise<boolean> => {
  const untilMs = Date.now() + UNFINISHED_WAIT_MS;
  for (;;) {
    const wasUnfinished = await isUnfinished(folder, path);
    if (await takeLock(folder, path)) return true;
    if (!wasUnfinished || Date.now() >= untilMs) return false;
    await setTimeout(LOOK_AGAIN_MS);
  }
};

/**
 * Lets one program write a job. A lock left by a program that died is taken over; one of a living program, or of another
 * computer (a shared folder), is respected. Never throws.
 * Refuses: JOB_IN_USE, naming who holds it and what to delete if that is wrong; JOB_NOT_WRITABLE where no lock can be
 * made (a folder of somebody else, a read-only medium, a full disk).
 */
export const lockJob = async (folder: string): Promise<Lock | LockRefused> => {
  const path = join(folder, LOCK_FILE);
  try {
    if (await takeFinishedLock(folder, path)) return { kind: 'lock', release: () => releaseOwn(path) };
    return inUse(path, await readHolder(path));
  } catch (error) {
    return refuse('JOB_NOT_WRITABLE', { why: troubleSentence(path, 'not made', error) });
  }
};
