import type { WebSocket } from 'ws';
import type { HostMessage } from '../job/wire/host-messages';
import { explain } from '../job/schema/explain';
import { screenMessage, type ScreenMessage } from '../job/wire/job-messages';
import {
  sourceOfCluster,
  sourceOfJob,
  submitted,
  type Followed,
  type Following,
  type Source,
} from './followed';
import type { ServedBench, ServedClusters } from './route-parts';
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
  readonly clusters?: ServedClusters | undefined;
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
      else if (message.kind === 'follow-cluster') await this.#followCluster(message, this.#name);
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
    if (!this.#mayOperate() && this.#name !== undefined) this.#following?.gone(this.#name);
    this.#welcome();
  }

  #mayOperate(): boolean {
    return this.#hosts.gate.whyNot(this.#call.visitor, 'operate') === undefined;
  }

  #showDash(): void {
    const { bay } = this.#hosts;
    // Each needle of a cluster at its own pace.
    const shows = new Map<string | undefined, ReturnType<typeof paced<HostMessage>>>();
    this.#endings.push(
      () => shows.forEach((show) => show.end()),
      bay.subscribeDash((gauge, { angleFraction, ms, thermometer }, place) => {
        const seen = {
          ...(thermometer === undefined ? {} : { thermometer }),
          ...(place === undefined ? {} : { place }),
        };
        const show = shows.get(place) ?? this.#pacedSay();
        shows.set(place, show);
        show.say(() => ({ kind: 'dash', gauge, angleFraction, atMs: ms, ...seen }));
      }),
      bay.subscribeChoice((box) => this.#say({ kind: 'box', box })),
    );
  }

  async #follow(asked: Extract<ScreenMessage, { kind: 'follow' }>, name: string): Promise<void> {
    this.#leaveFollowed();
    const job = await this.#hosts.bench.openJob(asked.jobId);
    if ('kind' in job) return this.#noSuch(job.message);
    return this.#begin({ kind: 'job', job }, sourceOfJob(job), asked.afterN, name);
  }

  async #followCluster(
    asked: Extract<ScreenMessage, { kind: 'follow-cluster' }>,
    name: string,
  ): Promise<void> {
    this.#leaveFollowed();
    const { clusters } = this.#hosts;
    if (clusters === undefined) return this.#noSuch('this host keeps no clusters');
    const cluster = await clusters.open(asked.clusterId);
    if ('kind' in cluster) return this.#noSuch(cluster.message);
    return this.#begin({ kind: 'cluster', cluster }, sourceOfCluster(cluster), asked.afterN, name);
  }

  #leaveFollowed(): void {
    this.#following?.unfollow();
    this.#following = undefined;
  }

  #noSuch(message: string): void {
    this.#say({ kind: 'misread', message });
    this.#call.socket.close(CLOSE_NO_JOB, 'no such job');
  }

  #begin(followed: Followed, source: Source, afterN: number, name: string): void {
    const frames = this.#pacedSay(() => source.isFirst(name));
    let sentN = afterN;
    const tell = (): void => {
      if (this.#hosts.gate.rightOf(this.#call.visitor) === undefined) return this.#welcome();
      const news = source.newsAfter(sentN);
      if (news !== undefined) {
        sentN = news.lastN;
        this.#say(news.message);
      }
      return frames.say(source.live);
    };
    const unsubscribe = source.subscribe(tell);
    const leave = enter(this.#hosts.sockets, `${source.key}\n${name}`);
    const unfollow = (): void => {
      unsubscribe();
      frames.end();
      if (leave() === 0) source.gone(name);
    };
    const { seen, gone } = source;
    this.#following = { ...followed, seen, gone, unfollow };
    if (this.#mayOperate()) seen(name);
    tell();
  }

  async #answer(
    message: Extract<ScreenMessage, { kind: 'present' | 'command' | 'cluster-command' }>,
    name: string,
  ): Promise<void> {
    const { gate } = this.#hosts;
    const following = this.#following;
    if (following === undefined) {
      const id = message.kind === 'present' ? {} : { id: message.id };
      return this.#say({ kind: 'misread', message: 'say first which job this screen follows', ...id });
    }
    const refusal = gate.whyNot(this.#call.visitor, 'operate');
    if (message.kind === 'present') return refusal === undefined ? following.seen(name) : undefined;
    const { id } = message;
    const outcome = refusal ?? (await submitted(following, message, name));
    if (outcome === undefined)
      return this.#say({ kind: 'misread', message: 'this screen follows something else', id });
    if (outcome.kind === 'refused')
      return this.#say({ kind: 'refused', id, code: outcome.code, message: outcome.message });
    return this.#say({ kind: 'accepted', id, upToN: outcome.upToN });
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
