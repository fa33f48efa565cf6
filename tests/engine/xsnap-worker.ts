import { spawn, type ChildProcess } from 'node:child_process';
import type { Readable, Writable } from 'node:stream';
import { workerProgram } from './xsnap-install';

/** How the engine ended, from the worker's own exit codes. */
const exitReasons: Readonly<Record<number, string>> = {
  11: 'out of memory',
  12: 'stack overflow',
  17: 'compute limit',
};

export type WorkerReply = {
  /** What the engine answered: bytes of the command's result, or text of a throw. */
  readonly bytes: Uint8Array;
  /** Bytecodes executed since the worker started: exact, the same on every run. */
  readonly compute: number;
  readonly heapSlots: number;
};

export class EngineEnded extends Error {
  readonly exitCode: number | null;
  constructor(exitCode: number | null) {
    super(`the XS engine ended: ${exitReasons[exitCode ?? -1] ?? `exit code ${String(exitCode)}`}`);
    this.exitCode = exitCode;
  }
}

/** What the engine threw; the worker lives on. */
export class EngineThrew extends Error {}

type Waiting = { readonly resolve: (reply: WorkerReply) => void; readonly reject: (reason: Error) => void };

const REPLY_OK = '.'.charCodeAt(0);
const REPLY_THROW = '!'.charCodeAt(0);
const METER_END = 1;

/**
 * The real XS engine as a child process: netstrings on descriptors 3 (to it) and 4 (from it).
 * One request at a time; `evaluate` runs a script and the jobs it queues, `command` calls the script's
 * `globalThis.handleCommand(ArrayBuffer)` and gives back the ArrayBuffer it returns.
 */
export class XsnapWorker {
  readonly #process: ChildProcess;
  readonly #toWorker: Writable;
  readonly #waiting: Waiting[] = [];
  #received: Buffer = Buffer.alloc(0);
  #ended: EngineEnded | undefined;

  private constructor(flags: readonly string[]) {
    this.#process = spawn(workerProgram, ['needlewright', ...flags], {
      stdio: ['ignore', 'inherit', 'inherit', 'pipe', 'pipe'],
    });
    const [, , , toWorker, fromWorker] = this.#process.stdio;
    if (!isWritable(toWorker) || !isReadable(fromWorker)) throw new Error('the worker has no pipes');
    this.#toWorker = toWorker;
    toWorker.on('error', () => undefined); // a dead engine is reported by its exit below
    fromWorker.on('data', (chunk: Buffer) => this.#receive(chunk));
    this.#process.on('exit', (exitCode) => this.#end(new EngineEnded(exitCode)));
  }

  /** Starts an engine, empty or from a snapshot file. */
  static start(options: { readonly snapshotFile?: string } = {}): XsnapWorker {
    return new XsnapWorker(options.snapshotFile === undefined ? [] : ['-r', options.snapshotFile]);
  }

  evaluate(source: string): Promise<WorkerReply> {
    return this.#ask('e', Buffer.from(source, 'utf8'));
  }

  command(bytes: Uint8Array): Promise<WorkerReply> {
    return this.#ask('?', bytes);
  }

  /** Collects garbage, then writes the whole heap to a file. */
  writeSnapshot(file: string): Promise<WorkerReply> {
    return this.#ask('w', Buffer.from(file, 'utf8'));
  }

  async quit(): Promise<void> {
    if (this.#ended) return;
    const gone = new Promise<void>((resolve) => this.#process.once('exit', () => resolve()));
    this.#send('q', new Uint8Array(0));
    await gone;
  }

  #ask(letter: string, body: Uint8Array): Promise<WorkerReply> {
    const ended = this.#ended;
    if (ended) return Promise.reject(ended);
    return new Promise((resolve, reject) => {
      this.#waiting.push({ resolve, reject });
      this.#send(letter, body);
    });
  }

  #send(letter: string, body: Uint8Array): void {
    this.#toWorker.write(
      Buffer.concat([Buffer.from(`${body.length + 1}:${letter}`), body, Buffer.from(',')]),
    );
  }

  #receive(chunk: Buffer): void {
    this.#received = Buffer.concat([this.#received, chunk]);
    for (let body = this.#nextNetstring(); body !== undefined; body = this.#nextNetstring())
      this.#answer(body);
  }

  #nextNetstring(): Buffer | undefined {
    const colon = this.#received.indexOf(':');
    if (colon < 0) return undefined;
    const length = Number(this.#received.toString('latin1', 0, colon));
    const end = colon + 1 + length;
    if (this.#received.length < end + 1) return undefined;
    const body = this.#received.subarray(colon + 1, end);
    this.#received = this.#received.subarray(end + 1);
    return body;
  }

  #answer(body: Buffer): void {
    const waiting = this.#waiting.shift();
    if (!waiting) return;
    if (body[0] === REPLY_THROW) waiting.reject(new EngineThrew(body.toString('utf8', 1)));
    else if (body[0] === REPLY_OK) waiting.resolve(replyFrom(body));
    else waiting.reject(new Error(`the worker said ${body.toString('latin1', 0, 40)}`));
  }

  #end(reason: EngineEnded): void {
    this.#ended = reason;
    for (const waiting of this.#waiting.splice(0)) waiting.reject(reason);
  }
}

const isWritable = (stream: unknown): stream is Writable =>
  typeof stream === 'object' && stream !== null && 'write' in stream;
const isReadable = (stream: unknown): stream is Readable =>
  typeof stream === 'object' && stream !== null && 'read' in stream;

function replyFrom(body: Buffer): WorkerReply {
  const meterEnd = body.indexOf(METER_END);
  const meter: unknown = JSON.parse(body.toString('utf8', 1, meterEnd < 0 ? body.length : meterEnd));
  const bytes = meterEnd < 0 ? new Uint8Array(0) : new Uint8Array(body.subarray(meterEnd + 1));
  return { bytes, compute: numberIn(meter, 'compute'), heapSlots: numberIn(meter, 'currentHeapCount') };
}

function numberIn(meter: unknown, name: string): number {
  const value: unknown = typeof meter === 'object' && meter !== null ? Reflect.get(meter, name) : undefined;
  return typeof value === 'number' ? value : 0;
}
