import type { WebSocket } from 'ws';
import type { HostMessage } from '../job/wire/host-messages';
import { explain } from '../job/schema/explain';
import { screenMessage, type ScreenMessage } from '../job/wire/job-messages';
import type { ServedBench, ServedJob } from './route-parts';
import type { BoxBay } from './box-bay';
import type { Devices } from './devices';
import type { Gate, Visitor } from './gate';
import { inboxOf, type Inbox } from './inbox';
import type { ServerLimits } from './limits';
import { paced } from './pace';
import type { ScreenNames } from './screen-names';

const CLOSE_REMOVED = 4001;
const CLOSE_NO_JOB = 4004;
const CLOSE_SILENT = 4009;
const CLOSE_FAILED = 1011;
const CLOSE_SLOW = 4013;
/** A screen on a poor network is spared live frames first; beyond the second limit it reconnects and catches up. */
const SPARE_ABOVE_BYTES = 256 * 1024;
const CLOSE_ABOVE_BYTES = 8 * 1024 * 1024;

export type ScreenHosts = {
  readonly bench: ServedBench;
  readonly bay: BoxBay;
  readonly gate: Gate;
  readonly devices: Devices;
  readonly limits: ServerLimits;
  /** Names the page that belongs to this host. */
  readonly build: string;
  readonly names: ScreenNames;
  /** How many sockets each screen of each job has: a reload opens the new one before the old one is known to be gone. */
  readonly sockets: Map<string, number>;
  /** Every screen that has said hello, the longest first. */
  readonly screens: Set<WebSocket>;
};

export type ScreenCall = {
  readonly socket: WebSocket;
  readonly visitor: Visitor;
  /** The screen has said hello: its connection is kept. */
  readonly settle: () => void;
};

type Following = { readonly job: ServedJob; readonly unfollow: () => void };

/** Serves one screen until its socket closes. Whatever throws ends this connection and no other. */
export async function serveScreen(call: ScreenCall, hosts: ScreenHosts): Promise<void> {
  const { socket } = call;
  const inbox = inboxOf(socket, hosts.limits.messages);
  const silence = setTimeout(() => socket.close(CLOSE_SILENT, 'no hello'), hosts.limits.helloMs);
  const screen = new Screen(call, hosts, () => clearTimeout(silence));
  try {
    await screen.converse(inbox);
  } catch {
    socket.close(CLOSE_FAILED, 'the host could not go on with this screen');
  } finally {
    clearTimeout(silence);
    screen.leave();
  }
}

const PAGE_TOO_OLD = 'This page is older than its host. Reload it; STOP works all the same.';

class Screen {
  readonly #call: ScreenCall;
  readonly #hosts: ScreenHosts;
  readonly #heard: () => void;
  readonly #endings: (() => void)[] = [];
  #name: string | undefined;
  #following: Following | undefined;

  constructor(call: ScreenCall, hosts: ScreenHosts, heard: () => void) {
    this.#call = call;
    this.#hosts = hosts;
    this.#heard = heard;
  }

  async converse(inbox: Inbox): Promise<void> {
    for (let text = await inbox.next(); text !== undefined; text = await inbox.next()) {
      const message = understood(text);
      if (message.kind === 'misread') this.#say(message);
      else if (message.kind === 'hello') this.#greet(message);
      else if (message.kind === 'stop') void this.#stop(message.id).catch(() => this.#fail());
      else if (this.#name === undefined) this.#say({ kind: 'misread', message: PAGE_TOO_OLD });
      else if (message.kind === 'follow') await this.#follow(message, this.#name);
      else void this.#answer(message, this.#name).catch(() => this.#fail());
    }
  }

  leave(): void {
    this.#following?.unfollow();
    for (const end of this.#endings) end();
  }

  #greet(hello: Extract<ScreenMessage, { kind: 'hello' }>): void {
    if (this.#name !== undefined) return this.#say({ kind: 'misread', message: 'hello was said before' });
    const { socket, visitor, settle } = this.#call;
    const { names, screens, devices } = this.#hosts;
    this.#name = names.nameFor({ device: visitor.device, wanted: hello.screen, key: hello.key });
    this.#heard();
    settle();
    screens.add(socket);
    this.#endings.push(
      () => screens.delete(socket),
      devices.subscribe((id) => (id === visitor.device?.id ? this.#rightChanged() : undefined)),
    );
    this.#welcome();
    this.#showDash();
    return undefined;
  }

  #welcome(): void {
    const right = this.#hosts.gate.rightOf(this.#call.visitor);
    if (right === undefined)
      return this.#call.socket.close(CLOSE_REMOVED, 'this device is not paired any more');
    return this.#say({ kind: 'welcome', build: this.#hosts.build, by: this.#name ?? '', right });
  }

  /** A screen that may only watch counts as nobody: what it drove opens. */
  #rightChanged(): void {
    if (!this.#mayOperate() && this.#name !== undefined) this.#following?.job.gone(this.#name);
    this.#welcome();
  }

  #mayOperate(): boolean {
    return this.#hosts.gate.whyNot(this.#call.visitor, 'operate') === undefined;
  }

  #showDash(): void {
    const { bay } = this.#hosts;
    const show = this.#pacedSay();
    this.#endings.push(
      show.end,
      bay.subscribeDash((gauge, { angleFraction, ms, thermometer }) => {
        const seen = thermometer === undefined ? {} : { thermometer };
        show.say(() => ({ kind: 'dash', gauge, angleFraction, atMs: ms, ...seen }));
      }),
      bay.subscribeChoice((box) => this.#say({ kind: 'box', box })),
    );
  }

  async #follow(asked: Extract<ScreenMessage, { kind: 'follow' }>, name: string): Promise<void> {
    this.#following?.unfollow();
    this.#following = undefined;
    const { bench, sockets } = this.#hosts;
    const job = await bench.openJob(asked.jobId);
    if ('kind' in job) {
      this.#say({ kind: 'misread', message: job.message });
      this.#call.socket.close(CLOSE_NO_JOB, 'no such job');
      return;
    }
    const frames = this.#pacedSay(() => job.live.attending === name);
    let sentN = asked.afterN;
    const tell = (): void => {
      if (this.#hosts.gate.rightOf(this.#call.visitor) === undefined) return this.#welcome();
      const events = job.events.slice(sentN);
      const last = events.at(-1);
      if (last !== undefined) {
        sentN = last.n;
        this.#say({ kind: 'events', jobId: job.jobId, events: events });
      }
      return frames.say(() => ({ kind: 'live', frame: job.live }));
    };
    const unsubscribe = job.subscribe(tell);
    const leave = enter(sockets, `${job.jobId}\n${name}`);
    const unfollow = (): void => {
      unsubscribe();
      frames.end();
      if (leave() === 0) job.gone(name);
    };
    this.#following = { job, unfollow };
    if (this.#mayOperate()) job.seen(name);
    tell();
  }

  async #answer(
    message: Extract<ScreenMessage, { kind: 'present' | 'command' }>,
    name: string,
  ): Promise<void> {
    const { gate } = this.#hosts;
    const following = this.#following;
    if (following === undefined) {
      const id = message.kind === 'command' ? { id: message.id } : {};
      return this.#say({ kind: 'misread', message: 'say first which job this screen follows', ...id });
    }
    const refusal = gate.whyNot(this.#call.visitor, 'operate');
    if (message.kind === 'present') return refusal === undefined ? following.job.seen(name) : undefined;
    const outcome = refusal ?? (await following.job.submit(message.command, name));
    if (outcome.kind === 'accepted')
      return this.#say({ kind: 'accepted', id: message.id, upToN: outcome.upToN });
    return this.#say({ kind: 'refused', id: message.id, code: outcome.code, message: outcome.message });
  }

  /** Needs no hello and no right: it can only open. */
  async #stop(id: number): Promise<void> {
    const by = this.#name ?? this.#call.visitor.device?.name ?? 'a screen';
    const { outcome, boxes } = await this.#hosts.bench.stopEach(by);
    this.#say({ kind: 'stopped', id, outcome, ...(boxes.length > 1 ? { boxes: [...boxes] } : {}) });
  }

  /** Live pictures: spared while the network is behind, and rare for screens beyond the limit. */
  #pacedSay(isFirst: () => boolean = () => false): ReturnType<typeof paced<HostMessage>> {
    const { socket } = this.#call;
    const { screens, limits } = this.#hosts;
    const isAtFullRate = (): boolean =>
      screens.size <= limits.screensAtFullRate ||
      [...screens].slice(0, limits.screensAtFullRate).includes(socket) ||
      isFirst();
    return paced({
      everyMs: () => (isAtFullRate() ? limits.frameMs : limits.slowFrameMs),
      say: (message) => {
        if (socket.bufferedAmount < SPARE_ABOVE_BYTES) this.#say(message);
      },
    });
  }

  #say(message: HostMessage): void {
    const { socket } = this.#call;
    if (socket.readyState !== socket.OPEN) return;
    if (socket.bufferedAmount > CLOSE_ABOVE_BYTES)
      socket.close(CLOSE_SLOW, 'too slow; reconnect and catch up');
    else socket.send(JSON.stringify(message));
  }

  #fail(): void {
    this.#call.socket.close(CLOSE_FAILED, 'the command failed');
  }
}

function understood(text: string): ScreenMessage | Extract<HostMessage, { kind: 'misread' }> {
  let parsed: unknown;
  try {
    parsed = JSON.parse(text);
  } catch {
    return { kind: 'misread', message: 'the message is not JSON' };
  }
  const result = screenMessage.safeParse(parsed);
  if (result.success) return result.data;
  return {
    kind: 'misread',
    message: isOldFollow(parsed) ? PAGE_TOO_OLD : explain(result.error),
    ...idOf(parsed),
  };
}

/** Pages before the greeting named themselves when they followed a job. */
const isOldFollow = (parsed: unknown): boolean =>
  typeof parsed === 'object' &&
  parsed !== null &&
  'kind' in parsed &&
  parsed.kind === 'follow' &&
  'screen' in parsed;

function idOf(parsed: unknown): { id?: number } {
  if (typeof parsed !== 'object' || parsed === null || !('id' in parsed)) return {};
  return typeof parsed.id === 'number' && Number.isInteger(parsed.id) && parsed.id >= 0
    ? { id: parsed.id }
    : {};
}

/** Counts one socket in; the returned function counts it out and answers how many are left. */
function enter(sockets: Map<string, number>, key: string): () => number {
  sockets.set(key, (sockets.get(key) ?? 0) + 1);
  return () => {
    const left = (sockets.get(key) ?? 1) - 1;
    if (left === 0) sockets.delete(key);
    else sockets.set(key, left);
    return left;
  };
}
