import { spawn } from 'node:child_process';
import type { ChildProcess } from 'node:child_process';
import { existsSync } from 'node:fs';
import type { Readable, Writable } from 'node:stream';
import { build } from 'esbuild';

const root = new URL('../..', import.meta.url).pathname;
const BUILD = 'node_modules/@agoric/xsnap/xsnap-native/xsnap/build/bin/lin/release/xsnap-worker';

/** The XS engine as a program, when it has been installed and compiled. */
export const workerPath = (): string | undefined => {
  const path = `${root}tests/engine/xsnap/${BUILD}`;
  return existsSync(path) ? path : undefined;
};

/** A module and all it imports as one script for XS. */
export async function bundleForXs(entry: string): Promise<string> {
  const { outputFiles } = await build({
    entryPoints: [`${root}${entry}`],
    bundle: true,
    format: 'iife',
    target: 'es2022',
    write: false,
    logLevel: 'silent',
  });
  return outputFiles[0]!.text;
}

type Waiting = { readonly resolve: (body: Buffer) => void; readonly reject: (reason: Error) => void };

const COMMA = 0x2c;
const COLON = 0x3a;

/** The stream of netstrings that the worker speaks, length:body, */
export class XsWorker {
  readonly #child: ChildProcess;
  readonly #toWorker: Writable;
  #pending = Buffer.alloc(0);
  #waiting: Waiting | undefined;

  constructor(path: string, options: readonly string[] = []) {
    this.#child = spawn(path, ['needlewright', ...options], {
      stdio: ['ignore', 'inherit', 'inherit', 'pipe', 'pipe'],
    });
    const [, , , to, from] = this.#child.stdio;
    if (!isWritable(to) || !isReadable(from)) throw new Error('the XS worker has no pipes');
    this.#toWorker = to;
    from.on('data', (bytes: Buffer) => this.#received(bytes));
    this.#toWorker.on('error', () => undefined);
    this.#child.on('exit', (code) =>
      this.#waiting?.reject(new Error(`the XS engine ended with code ${code}`)),
    );
  }

  /** Runs a script; answers the engine's own figures. */
  async evaluate(source: string): Promise<string> {
    return this.#expectDone(await this.#send(`e${source}`));
  }

  /** Calls `handleCommand` with text and answers its text. */
  async command(text: string): Promise<string> {
    const done = this.#expectDone(await this.#send(`?${text}`));
    return done.slice(done.indexOf('\u0001') + 1);
  }

  /** Engine figures after a turn: slots in use and so on. */
  async figures(source = '0'): Promise<Record<string, unknown>> {
    const done = await this.evaluate(source);
    const parsed: unknown = JSON.parse(done.slice(0, done.indexOf('\u0001')));
    return typeof parsed === 'object' && parsed !== null ? { ...parsed } : {};
  }

  /** Writes a snapshot to a file. */
  async snapshot(path: string): Promise<void> {
    this.#expectDone(await this.#send(`w${path}`));
  }

  async stop(): Promise<void> {
    this.#waiting = undefined;
    const ended = new Promise((resolve) => this.#child.once('exit', resolve));
    this.#child.kill();
    await ended;
  }

  #expectDone(body: Buffer): string {
    const text = body.toString('latin1');
    if (!text.startsWith('.')) throw new Error(`XS: ${text.slice(0, 400)}`);
    return text.slice(1);
  }

  #send(body: string): Promise<Buffer> {
    return new Promise((resolve, reject) => {
      this.#waiting = { resolve, reject };
      const bytes = Buffer.from(body, 'utf8');
      this.#toWorker.write(Buffer.concat([Buffer.from(`${bytes.length}:`), bytes, Buffer.of(COMMA)]));
    });
  }

  #received(bytes: Buffer): void {
    this.#pending = Buffer.concat([this.#pending, bytes]);
    const colon = this.#pending.indexOf(COLON);
    if (colon < 0) return;
    const length = Number(this.#pending.subarray(0, colon).toString());
    if (this.#pending.length < colon + 1 + length + 1) return;
    const body = this.#pending.subarray(colon + 1, colon + 1 + length);
    this.#pending = this.#pending.subarray(colon + 2 + length);
    const waiting = this.#waiting;
    this.#waiting = undefined;
    waiting?.resolve(body);
  }
}

const isWritable = (stream: unknown): stream is Writable =>
  typeof stream === 'object' && stream !== null && 'write' in stream;
const isReadable = (stream: unknown): stream is Readable =>
  typeof stream === 'object' && stream !== null && 'read' in stream;
