import { spawn, spawnSync } from 'node:child_process';
import { closeSync, mkdtempSync, openSync, readSync, rmSync, writeSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { workerProgram } from '../xsnap-install';

/** What the engine answered, and the computrons it has spent since it started. */
export type EngineReply = { readonly bytes: Uint8Array; readonly compute: number };

const READ_BYTES = 65_536;
const COLON = ':'.charCodeAt(0);
const OK = '.'.charCodeAt(0);
const METER_END = 1;

/**
 * The real XS engine, asked without waiting for a turn of Node's own loop: the simulated world stands still while the
 * firmware works, so that each callback's cost is known before the world goes on. Two named pipes carry the netstrings.
 */
export class SyncEngine {
  readonly #toEngine: number;
  readonly #fromEngine: number;
  readonly #buffer = Buffer.alloc(READ_BYTES);
  #held: Buffer = Buffer.alloc(0);

  constructor() {
    const folder = mkdtempSync(join(tmpdir(), 'needlewright-engine-'));
    const [toPath, fromPath] = [join(folder, 'to'), join(folder, 'from')];
    if (spawnSync('mkfifo', [toPath, fromPath]).status !== 0) throw new Error('mkfifo failed');
    // Read and write, because opening one end of a pipe alone waits for the other.
    this.#toEngine = openSync(toPath, 'r+');
    const engineEnd = openSync(fromPath, 'r+');
    this.#fromEngine = openSync(fromPath, 'r');
    spawn(workerProgram, ['needlewright'], {
      stdio: ['ignore', 'inherit', 'inherit', this.#toEngine, engineEnd],
    }).unref();
    closeSync(engineEnd);
    rmSync(folder, { recursive: true });
  }

  evaluate(source: string): EngineReply {
    return this.#ask('e', Buffer.from(source, 'utf8'));
  }

  command(bytes: Uint8Array): EngineReply {
    return this.#ask('?', bytes);
  }

  quit(): void {
    writeSync(this.#toEngine, '1:q,');
    closeSync(this.#toEngine);
    closeSync(this.#fromEngine);
  }

  #ask(letter: string, body: Uint8Array): EngineReply {
    const request = Buffer.concat([Buffer.from(`${body.length + 1}:${letter}`), body, Buffer.from(',')]);
    for (let sent = 0; sent < request.length;) sent += writeSync(this.#toEngine, request, sent);
    return replyFrom(this.#netstring());
  }

  #netstring(): Buffer {
    for (;;) {
      const colon = this.#held.indexOf(COLON);
      const length = colon < 0 ? Infinity : Number(this.#held.toString('latin1', 0, colon));
      const end = colon + 1 + length;
      if (this.#held.length > end) {
        const body = this.#held.subarray(colon + 1, end);
        this.#held = this.#held.subarray(end + 1);
        return body;
      }
      const count = readSync(this.#fromEngine, this.#buffer, 0, READ_BYTES, null);
      if (count === 0) throw new Error('the XS engine has ended');
      this.#held = Buffer.concat([this.#held, this.#buffer.subarray(0, count)]);
    }
  }
}

function replyFrom(body: Buffer): EngineReply {
  if (body[0] !== OK) throw new Error(`the XS engine: ${body.toString('utf8', 1)}`);
  const meterEnd = body.indexOf(METER_END);
  const meter = body.toString('latin1', 1, meterEnd < 0 ? body.length : meterEnd);
  const compute = Number(/"compute":(\d+)/.exec(meter)?.[1] ?? NaN);
  return { bytes: meterEnd < 0 ? new Uint8Array(0) : Uint8Array.from(body.subarray(meterEnd + 1)), compute };
}
