import type { FastifyInstance } from 'fastify';
import { WebSocket } from 'ws';
import { hostMessage, type HostMessage } from '../../host/job/wire/host-messages';
import { createServerApp } from '../../host/server/app';
import type { AppParts } from '../../host/server/route-parts';
import { createBoxBay } from '../../host/server/box-bay';
import { knownCallers } from '../../host/server/callers';
import { createComputer } from '../../host/server/findings/computer';
import { compute } from '../../host/server/findings/findings';
import { FakeBench } from '../support/fake-bench';
import { drawnRecords } from '../support/drawn-records';
import { noCatalogue } from '../support/no-catalogue';

export type TestHost = {
  readonly app: FastifyInstance;
  readonly bench: FakeBench;
  /** "127.0.0.1:PORT" */
  readonly place: string;
  close(): Promise<void>;
};

/** The server on a bench in memory, listening on any free port of this machine. */
export async function openTestHost(parts: Partial<AppParts> = {}): Promise<TestHost> {
  const bench = new FakeBench();
  const bay = createBoxBay();
  const computer = createComputer({
    reckon: (task) => Promise.resolve(compute(task)),
    close: () => Promise.resolve(),
  });
  const app = await createServerApp({
    bench,
    clusters: bench.clusters,
    bay,
    computer,
    catalogue: noCatalogue,
    records: drawnRecords,
    callers: knownCallers(false),
    version: 'test',
    ...parts,
  });
  const url = await app.listen({ host: '127.0.0.1', port: 0 });
  return {
    app,
    bench,
    place: url.replace('http://', ''),
    async close() {
      await app.close();
      await bay.close();
    },
  };
}

export type TestScreen = {
  readonly socket: WebSocket;
  say(message: unknown): void;
  /** The next message of a kind; earlier ones of other kinds are passed over. */
  next<Kind extends HostMessage['kind']>(kind: Kind): Promise<Extract<HostMessage, { kind: Kind }>>;
  readonly closed: Promise<number>;
};

const isKind =
  <Kind extends HostMessage['kind']>(kind: Kind) =>
  (message: HostMessage): message is Extract<HostMessage, { kind: Kind }> =>
    message.kind === kind;

/** What a test's page greets with, unless it is another or a silent one. */
export const hello = (screen: string, key = screen): object => ({
  kind: 'hello',
  build: 'no page',
  screen,
  key,
});

export type ScreenOptions = {
  readonly headers?: Readonly<Record<string, string>>;
  /** What it says first; undefined: nothing. */
  readonly hello?: object | undefined;
};

/** A screen as the page is one, without a page. */
export function openTestScreen(place: string, options: ScreenOptions = {}): TestScreen {
  const socket = new WebSocket(`ws://${place}/live`, { headers: options.headers ?? {} });
  const waiting: HostMessage[] = [];
  let wake: () => void = () => undefined;
  socket.on('message', (data) => {
    const message = hostMessage.parse(JSON.parse(data instanceof Buffer ? data.toString('utf8') : '{}'));
    waiting.push(message);
    wake();
  });
  socket.on('error', () => undefined);
  const closed = new Promise<number>((resolve) => socket.on('close', resolve));
  const say = (message: unknown): void => {
    const text = typeof message === 'string' ? message : JSON.stringify(message);
    if (socket.readyState === WebSocket.OPEN) socket.send(text);
    else socket.once('open', () => socket.send(text));
  };
  const first = 'hello' in options ? options.hello : hello('screen');
  if (first !== undefined) say(first);
  return {
    socket,
    say,
    closed,
    async next(kind) {
      for (;;) {
        const message = waiting.shift();
        if (message === undefined) await new Promise<void>((resolve) => (wake = resolve));
        else if (isKind(kind)(message)) return message;
      }
    },
  };
}
