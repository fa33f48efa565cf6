import { spawn, spawnSync } from 'node:child_process';
import { mkdirSync, rmSync, writeFileSync } from 'node:fs';
import { readFile } from 'node:fs/promises';
import { basename, dirname, join } from 'node:path';
import { scratchFolder } from './scratch';

/** What a program asked of the file system, in its order; `said`: what it acknowledged on standard output. */
export type DiskEvent =
  | { readonly kind: 'made' | 'removed' | 'flushed'; readonly file: string }
  | { readonly kind: 'written'; readonly file: string; readonly offset: number; readonly bytes: Buffer }
  | { readonly kind: 'cut'; readonly file: string; readonly length: number }
  | { readonly kind: 'folder-flushed' }
  | { readonly kind: 'said'; readonly text: string };

/** Whether another program may be watched here: strace is installed and may trace. */
export const canRecord = spawnSync('strace', ['-o', '/dev/null', 'true']).status === 0;

const CALLS = 'openat,close,write,pwrite64,fsync,fdatasync,ftruncate,unlink,rename';
const LONGEST_WRITE = 1 << 20;

/** Runs a program under strace and answers what it did in one folder. Source of the format: strace(1), `-xx`. */
export async function recorded(words: readonly string[], folder: string): Promise<DiskEvent[]> {
  const log = join(await scratchFolder(), 'log');
  const options = ['-f', '-o', log, '-e', `trace=${CALLS}`, '-xx', '-s', String(LONGEST_WRITE)];
  const child = spawn('strace', [...options, process.execPath, ...words], {
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  let told = '';
  child.stdout.resume();
  child.stderr.on('data', (data: unknown) => (told += String(data)));
  const code = await new Promise((resolve) => child.on('close', resolve));
  if (code !== 0) throw new Error(`the program ended with ${String(code)}: ${told}`);
  return eventsOf(wholeCalls((await readFile(log, 'latin1')).split('\n')), folder);
}

/** A call that another thread's call interrupted stands on two lines: it counts where it came back. */
function wholeCalls(lines: readonly string[]): string[] {
  const begun = new Map<string, string>();
  return lines.flatMap((line) => {
    const [thread = ''] = line.split(' ', 1);
    const call = line.slice(thread.length).trim();
    const unfinished = / <unfinished \.\.\.>$/.exec(call);
    if (unfinished !== null) {
      begun.set(thread, call.slice(0, unfinished.index));
      return [];
    }
    const resumed = /^<\.\.\. \w+ resumed>/.exec(call);
    if (resumed === null) return [call];
    return [`${begun.get(thread) ?? ''}${call.slice(resumed[0].length)}`];
  });
}

const textOf = (escaped: string): Buffer => Buffer.from(escaped.replaceAll('\\x', ''), 'hex');

/** A write-ahead log's index lives in memory only and is made anew. */
const isKept = (file: string): boolean => !file.endsWith('-shm');

function eventsOf(calls: readonly string[], folder: string): DiskEvent[] {
  const open = new Map<string, string>();
  const events: DiskEvent[] = [];
  for (const call of calls) {
    const read = /^(\w+)\((.*)\)\s+= (-?\d+)/.exec(call);
    const [, name = '', words = '', answer = '-1'] = read ?? [];
    if (read === null || answer.startsWith('-')) continue;
    const path = textOf(/"((?:\\x[0-9a-f]{2})*)"/.exec(words)?.[1] ?? '').toString();
    if (name === 'openat') {
      open.set(answer, path);
      if (/O_CREAT/.test(words) && dirname(path) === folder)
        events.push({ kind: 'made', file: basename(path) });
    } else events.push(...eventOf(name, words, { path, folder, open }));
  }
  return events.filter((event) => !('file' in event) || isKept(event.file));
}

type Known = { readonly path: string; readonly folder: string; readonly open: Map<string, string> };

function eventOf(name: string, words: string, { path, folder, open }: Known): DiskEvent[] {
  const number = words.split(',', 1)[0] ?? '';
  const last = Number(words.split(', ').at(-1));
  const at = open.get(number) ?? '';
  const bytes = (): Buffer => textOf(/"((?:\\x[0-9a-f]{2})*)"/.exec(words)?.[1] ?? '');
  if (name === 'rename') throw new Error(`renames are not followed here: ${words}`);
  if (name === 'write' && number === '1') return [{ kind: 'said', text: bytes().toString() }];
  if (name === 'unlink' && dirname(path) === folder) return [{ kind: 'removed', file: basename(path) }];
  if (name.endsWith('sync') && at === folder) return [{ kind: 'folder-flushed' }];
  if (name === 'close') open.delete(number);
  if (dirname(at) !== folder) return [];
  const file = basename(at);
  if (name === 'write') throw new Error(`a write without a place is not followed here: ${file}`);
  if (name === 'pwrite64') return [{ kind: 'written', file, offset: last, bytes: bytes() }];
  if (name === 'ftruncate') return [{ kind: 'cut', file, length: last }];
  return name.endsWith('sync') ? [{ kind: 'flushed', file }] : [];
}

type Change = Extract<DiskEvent, { readonly kind: 'written' | 'cut' }>;
type File = { safe: Buffer; readonly pending: Change[] };
/** What happens to what no flush has confirmed. */
export type Fate = 'lost' | 'there' | { readonly drawn: () => number };

const SECTOR_BYTES = 512;

/**
 * A disk that keeps what was flushed, and of the rest what it pleases, sector by sector and name by name. A file's name is
 * safe with the folder's flush or, as journalling file systems have it, with its own. Source: fsync(2), SQLite "Atomic
 * Commit In SQLite" section 3.
 */
export class Disk {
  /** As the program sees it. */
  #names = new Map<string, File>();
  /** As the disk has it for certain. */
  #safeNames = new Map<string, File>();

  apply(event: DiskEvent): void {
    switch (event.kind) {
      case 'made':
        if (!this.#names.has(event.file)) this.#names.set(event.file, { safe: Buffer.alloc(0), pending: [] });
        return;
      case 'removed':
        this.#names.delete(event.file);
        return;
      case 'written':
      case 'cut':
        this.#names.get(event.file)?.pending.push(event);
        return;
      case 'flushed':
        this.#flush(event.file);
        return;
      case 'folder-flushed':
        this.#safeNames = new Map(this.#names);
        return;
      case 'said':
    }
  }

  #flush(name: string): void {
    const file = this.#names.get(name);
    if (file === undefined) return;
    file.safe = after(file, 'there');
    file.pending.length = 0;
    this.#safeNames.set(name, file);
  }

  /** Writes into a folder what the disk has when the power comes back. */
  afterLoss(folder: string, fate: Fate): void {
    rmSync(folder, { recursive: true, force: true });
    mkdirSync(folder);
    for (const name of new Set([...this.#names.keys(), ...this.#safeNames.keys()])) {
      const file = (isKeptBy(fate) ? this.#names : this.#safeNames).get(name);
      if (file !== undefined) writeFileSync(join(folder, name), after(file, fate));
    }
  }
}

const isKeptBy = (fate: Fate): boolean => (typeof fate === 'string' ? fate === 'there' : fate.drawn() < 0.5);

function after({ safe, pending }: File, fate: Fate): Buffer {
  const reached = (change: Change): number =>
    change.kind === 'cut' ? 0 : change.offset + change.bytes.length;
  const content = Buffer.alloc(Math.max(safe.length, ...pending.map(reached)));
  safe.copy(content);
  let length = safe.length;
  for (const change of pending) {
    if (change.kind === 'written') length = Math.max(length, written(content, change, fate));
    else if (isKeptBy(fate)) {
      content.fill(0, change.length);
      length = change.length;
    }
  }
  return content.subarray(0, length);
}

/** Writes those sectors that reach the disk. Answers where the last of them ends. */
function written(
  content: Buffer,
  { offset, bytes }: Extract<Change, { kind: 'written' }>,
  fate: Fate,
): number {
  let end = 0;
  for (let from = 0, to = 0; from < bytes.length; from = to) {
    to = Math.min(bytes.length, from + SECTOR_BYTES - ((offset + from) % SECTOR_BYTES));
    if (!isKeptBy(fate)) continue;
    bytes.copy(content, offset + from, from, to);
    end = offset + to;
  }
  return end;
}
