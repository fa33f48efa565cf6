import { spawn, type ChildProcess } from 'node:child_process';
import { existsSync } from 'node:fs';
import { createInterface } from 'node:readline';
import { Writable, type Readable } from 'node:stream';
import { fileURLToPath } from 'node:url';
import { linkProblem } from './problems';
import type { ByteConnection, ByteListener, ByteSource, LinkProblem } from './types';

/** One look at the simulated dash, taken every twentieth of a simulated second. Never a measurement. */
export type NeedleLook = {
  readonly ms: number;
  readonly angleFraction: number;
  /** What stands between sender terminal and ground; undefined for an open circuit. */
  readonly senderOhm: number | undefined;
  /** What the thermometer shows beside a sender in its bath; undefined while no sender lies in one. */
  readonly thermometer?: number | undefined;
};

export type SimulatedBoxOptions = {
  /** Which gauge the simulated vehicle has, for example `two-coil-fuel`. */
  readonly gauge: string;
  readonly seed?: number | undefined;
  /** Simulated seconds per real second. */
  readonly speed?: number | undefined;
  /** Built program; found beside the running one when left out. */
  readonly programPath?: string | undefined;
};

/** The simulated box as a program of its own: its byte stream is the serial line, its needle is there to be looked at. */
export type SimulatedBox = {
  readonly source: ByteSource;
  subscribeNeedle(listener: (look: NeedleLook) => void): () => void;
  /** Changes the simulated world (supply, ignition, faults); the box learns of it by its own measurements only. */
  tellWorld(change: Readonly<Record<string, unknown>>): void;
  /** Ends the program. */
  stop(): Promise<void>;
};

/**
 * A simulated box, started at the first `connect`. It keeps running between connections as a real box does, so a
 * reconnect meets the same boot nonce; when the program has ended a new one is started, which is a restart.
 */
export function simulatedBox(options: SimulatedBoxOptions): SimulatedBox {
  const title = `simulated box (${options.gauge})`;
  const needleListeners = new Set<(look: NeedleLook) => void>();
  let running: RunningProgram | undefined;
  const stopped = { isStopped: false };

  const connect = async (listener: ByteListener): Promise<ByteConnection | LinkProblem> => {
    if (stopped.isStopped) return linkProblem('LINK_CLOSED', { title });
    if (running === undefined || running.hasEnded()) {
      const started = await startProgram(title, options);
      if ('code' in started) return started;
      if (stopped.isStopped) {
        // It was told to end while it started: nobody else would ever end this program.
        await started.stop();
        return linkProblem('LINK_CLOSED', { title });
      }
      running = started;
      running.onNeedle((look) => needleListeners.forEach((listen) => listen(look)));
    }
    return running.attach(listener);
  };

  return {
    source: { title, connect },
    subscribeNeedle(listener) {
      needleListeners.add(listener);
      return () => needleListeners.delete(listener);
    },
    tellWorld: (change) => running?.tellWorld(change),
    stop() {
      stopped.isStopped = true;
      return running?.stop() ?? Promise.resolve();
    },
  };
}

type RunningProgram = {
  hasEnded(): boolean;
  attach(listener: ByteListener): ByteConnection;
  onNeedle(listener: (look: NeedleLook) => void): void;
  tellWorld(change: Readonly<Record<string, unknown>>): void;
  stop(): Promise<void>;
};

/** A built program lies beside the bundled command, or in the build folder when the source runs unbundled. */
export const builtProgram = (name: 'simulated' | 'cluster'): string | undefined =>
  [`../box/${name}.js`, `../../.build/box/${name}.js`]
    .map((place) => fileURLToPath(new URL(place, import.meta.url)))
    .find((path) => existsSync(path));

export const simulatedBoxProgram = (): string | undefined => builtProgram('simulated');

function programArguments(options: SimulatedBoxOptions): string[] {
  const words = ['--watched', '--gauge', options.gauge];
  if (options.seed !== undefined) words.push('--seed', String(options.seed));
  if (options.speed !== undefined) words.push('--speed', String(options.speed));
  return words;
}

async function startProgram(
  title: string,
  options: SimulatedBoxOptions,
): Promise<RunningProgram | LinkProblem> {
  const path = options.programPath ?? simulatedBoxProgram();
  if (path === undefined || !existsSync(path)) {
    return linkProblem('LINK_NO_SIMULATOR', { title, detail: 'its program is not built' });
  }
  const child = spawn(process.execPath, [path, ...programArguments(options)], {
    stdio: ['pipe', 'pipe', 'pipe', 'pipe', 'pipe'],
    // A real box does not die of a Ctrl-C: it is told to open first. It ends when its input is closed, whoever closes it.
    detached: process.platform !== 'win32',
  });
  const failure = await spawned(child);
  if (failure !== undefined) return linkProblem('LINK_NO_SIMULATOR', { title, detail: failure.message });
  return runningProgram(title, child);
}

export const spawned = (child: ChildProcess): Promise<Error | undefined> =>
  new Promise((resolve) => {
    child.once('error', resolve);
    child.once('spawn', () => resolve(undefined));
  });

/** How long a program may take to end after its input was closed, before it is told to. */
const STOP_DEADLINE_MS = 1000;

function runningProgram(title: string, child: ChildProcess): RunningProgram {
  const attached: { listener: ByteListener | undefined } = { listener: undefined };
  let lastWords = '';
  const isOver = { ended: false };
  const ended = new Promise<void>((resolve) => child.once('exit', () => resolve()));
  const input = child.stdin;
  const world = child.stdio[4] instanceof Writable ? child.stdio[4] : undefined;

  // A program that dies with bytes under way reports a broken pipe here; the exit says it better.
  for (const pipe of [input, world]) pipe?.on('error', () => undefined);
  child.on('error', () => undefined);
  child.stderr?.on('data', (text: Buffer) => (lastWords = (lastWords + text.toString()).slice(-400)));
  child.stdout?.on('data', (bytes: Uint8Array) => attached.listener?.received(bytes));
  void ended.then(() => {
    isOver.ended = true;
    const listener = attached.listener;
    attached.listener = undefined;
    const said = firstLine(lastWords);
    if (said === undefined) listener?.lost(linkProblem('LINK_UNPLUGGED', { title }));
    else listener?.lost(linkProblem('LINK_NO_SIMULATOR', { title, detail: said }));
  });

  return {
    hasEnded: () => isOver.ended,
    attach(listener) {
      attached.listener = listener;
      return {
        write(bytes) {
          if (attached.listener === listener) input?.write(bytes);
        },
        close() {
          if (attached.listener === listener) attached.listener = undefined;
          return Promise.resolve();
        },
      };
    },
    onNeedle(listener) {
      const lines = child.stdio[3];
      if (lines !== null && lines !== undefined && 'read' in lines) readNeedle(lines, listener);
    },
    tellWorld: (change) => void world?.write(`${JSON.stringify(change)}\n`),
    async stop() {
      input?.end();
      const timer = setTimeout(() => child.kill('SIGKILL'), STOP_DEADLINE_MS);
      await (isOver.ended ? undefined : ended);
      clearTimeout(timer);
    },
  };
}

const firstLine = (text: string): string | undefined => text.split('\n').find((line) => line.trim() !== '');

function readNeedle(lines: Readable, listener: (look: NeedleLook) => void): void {
  createInterface({ input: lines }).on('line', (line) => {
    const look = lookFromLine(line);
    if (look !== undefined) listener(look);
  });
}

/** A needle line of the simulated dash, or undefined for a line of any other kind. */
export function lookFromLine(
  line: string,
): (NeedleLook & { readonly box?: number; readonly gauge?: number }) | undefined {
  let parsed: unknown;
  try {
    parsed = JSON.parse(line);
  } catch {
    return undefined;
  }
  if (typeof parsed !== 'object' || parsed === null) return undefined;
  const fields = new Map<string, unknown>(Object.entries(parsed));
  const number = (name: string): number | undefined => {
    const value = fields.get(name);
    return typeof value === 'number' ? value : undefined;
  };
  const [box, gauge] = [number('box'), number('gauge')];
  const ms = number('ms');
  const angleFraction = number('angleFraction');
  if (ms === undefined || angleFraction === undefined) return undefined;
  return {
    ms,
    angleFraction,
    senderOhm: number('senderOhm'),
    thermometer: number('thermometer'),
    ...(box === undefined ? {} : { box }),
    ...(gauge === undefined ? {} : { gauge }),
  };
}
