import { spawn, type ChildProcess } from 'node:child_process';
import { existsSync } from 'node:fs';
import { createInterface } from 'node:readline';
import { Duplex, Readable, Writable } from 'node:stream';
import { linkProblem } from './problems';
import { builtProgram, lookFromLine, spawned, type NeedleLook } from './simulated-box';
import type { ByteConnection, ByteListener, ByteSource, LinkProblem } from './types';

export type SimulatedClusterOptions = {
  /** Which cluster, for example `thermal-cluster`. */
  readonly cluster: string;
  /** How many of its gauges have a box. */
  readonly boxCount: number;
  /** Box k stands at gauge `order[k]`; left out, at gauge k. */
  readonly order?: readonly number[] | undefined;
  readonly seed?: number | undefined;
  /** How many times faster than the boxes the needles live. */
  readonly speed?: number | undefined;
  /** Built program; found beside the running one when left out. */
  readonly programPath?: string | undefined;
};

/** What box and which gauge of the cluster the look is of. */
export type ClusterLook = NeedleLook & { readonly box?: number; readonly gauge?: number };

/** Boxes at one simulated cluster, in one program: each has a serial line of its own. */
export type SimulatedCluster = {
  readonly sources: readonly ByteSource[];
  subscribeNeedles(listener: (look: ClusterLook) => void): () => void;
  /** `{ box: 0, change: {...} }` for one box's world, `{ common: {...} }` for what all share. */
  tellWorld(change: Readonly<Record<string, unknown>>): void;
  stop(): Promise<void>;
};

const FIRST_LINE = 5;
/** How long a program may take to end after its input was closed, before it is told to. */
const STOP_DEADLINE_MS = 1000;

type Running = {
  readonly child: ChildProcess;
  readonly listeners: Map<number, ByteListener>;
  hasEnded: boolean;
};

/** Started at the first `connect` of any of its lines; one that has ended is started anew, which restarts all boxes. */
export function simulatedCluster(options: SimulatedClusterOptions): SimulatedCluster {
  const needles = new Set<(look: ClusterLook) => void>();
  let starting: Promise<Running | LinkProblem> | undefined;
  let isStopped = false;
  const title = (box: number): string => `simulated box ${box + 1} (${options.cluster})`;

  const program = async (box: number): Promise<Running | LinkProblem> => {
    const before = await starting;
    if (before === undefined || 'code' in before || before.hasEnded) {
      starting = startCluster(title(box), options, (look) => needles.forEach((listen) => listen(look)));
    }
    return (await starting) ?? linkProblem('LINK_CLOSED', { title: title(box) });
  };
  // One after the other: two lines that connect at once must not start two programs.
  let turn: Promise<unknown> = Promise.resolve();
  const inTurn = (box: number): Promise<Running | LinkProblem> => {
    const answer = turn.then(() => program(box));
    turn = answer;
    return answer;
  };

  const connect = async (box: number, listener: ByteListener): Promise<ByteConnection | LinkProblem> => {
    if (isStopped) return linkProblem('LINK_CLOSED', { title: title(box) });
    const running = await inTurn(box);
    if ('code' in running) return running;
    const line = running.child.stdio[FIRST_LINE + box];
    if (!(line instanceof Duplex) || isStopped) return linkProblem('LINK_CLOSED', { title: title(box) });
    running.listeners.set(box, listener);
    const isMine = (): boolean => running.listeners.get(box) === listener;
    return {
      write: (bytes) => void (isMine() && line.write(bytes)),
      close: () => {
        if (isMine()) running.listeners.delete(box);
        return Promise.resolve();
      },
    };
  };

  return {
    sources: Array.from({ length: options.boxCount }, (_, box) => ({
      title: title(box),
      connect: (listener: ByteListener) => connect(box, listener),
    })),
    subscribeNeedles(listener) {
      needles.add(listener);
      return () => needles.delete(listener);
    },
    tellWorld: (change) =>
      void starting?.then((running) => {
        const world = 'code' in running ? undefined : running.child.stdio[4];
        if (world instanceof Writable) world.write(`${JSON.stringify(change)}\n`);
      }),
    async stop() {
      isStopped = true;
      const running = await starting;
      if (running === undefined || 'code' in running || running.hasEnded) return;
      const ended = new Promise((resolve) => running.child.once('exit', resolve));
      running.child.stdin?.end();
      const timer = setTimeout(() => running.child.kill('SIGKILL'), STOP_DEADLINE_MS);
      await ended;
      clearTimeout(timer);
    },
  };
}

function wordsFor(options: SimulatedClusterOptions): string[] {
  const words = ['--cluster', options.cluster, '--boxes', String(options.boxCount)];
  if (options.seed !== undefined) words.push('--seed', String(options.seed));
  if (options.speed !== undefined) words.push('--speed', String(options.speed));
  if (options.order !== undefined) words.push('--order', options.order.join());
  return words;
}

async function startCluster(
  title: string,
  options: SimulatedClusterOptions,
  seen: (look: ClusterLook) => void,
): Promise<Running | LinkProblem> {
  const path = options.programPath ?? builtProgram('cluster');
  if (path === undefined || !existsSync(path))
    return linkProblem('LINK_NO_SIMULATOR', { title, detail: 'its program is not built' });
  const pipes = Array.from({ length: FIRST_LINE + options.boxCount }, () => 'pipe' as const);
  const child = spawn(process.execPath, [path, ...wordsFor(options)], {
    stdio: ['pipe', 'ignore', ...pipes.slice(2)],
    // As the boxes themselves: a Ctrl-C does not end them before they were told to open.
    detached: process.platform !== 'win32',
  });
  const failure = await spawned(child);
  if (failure !== undefined) return linkProblem('LINK_NO_SIMULATOR', { title, detail: failure.message });
  const running: Running = { child, listeners: new Map(), hasEnded: false };
  let lastWords = '';
  child.on('error', () => undefined);
  for (const pipe of child.stdio) pipe?.on('error', () => undefined);
  child.stderr?.on('data', (text: Buffer) => (lastWords = (lastWords + text.toString()).slice(-400)));
  for (let box = 0; box < options.boxCount; box += 1) {
    const line = child.stdio[FIRST_LINE + box];
    if (line instanceof Duplex)
      line.on('data', (bytes: Uint8Array) => running.listeners.get(box)?.received(bytes));
  }
  const shown = child.stdio[3];
  if (shown instanceof Readable)
    createInterface({ input: shown }).on('line', (text) => {
      const look = lookFromLine(text);
      if (look !== undefined) seen(look);
    });
  child.once('exit', () => {
    running.hasEnded = true;
    const said = lastWords.split('\n').find((each) => each.trim() !== '');
    for (const listener of running.listeners.values())
      listener.lost(
        said === undefined
          ? linkProblem('LINK_UNPLUGGED', { title })
          : linkProblem('LINK_NO_SIMULATOR', { title, detail: said }),
      );
    running.listeners.clear();
  });
  return running;
}
