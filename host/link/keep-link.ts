import type { Answer, Fields, RequestName } from '../../protocol';
import { systemClock } from './clock';
import type { SourceFinder } from './find-port';
import { openLink, type LinkOptions } from './open-link';
import { linkProblem } from './problems';
import type { BoxLink, LinkEvent, LinkListener, LinkProblem, LinkResult, LinkState } from './types';

export type KeepOptions = LinkOptions & {
  /** First wait after a failure; each further failure doubles it up to `retryMaxMs`. */
  readonly retryFirstMs?: number;
  readonly retryMaxMs?: number;
};

const RETRY_FIRST_MS = 250;
const RETRY_MAX_MS = 4000;

/**
 * Keeps a box connected: after each failure a new link with a new port object, found afresh, greeted afresh. What was
 * asked before is never asked again. A changed boot nonce is told as `restarted` before the link is told as `live`.
 */
export function keepLink(find: SourceFinder, options: KeepOptions = {}): BoxLink {
  return new KeptLink(find, options);
}

class KeptLink implements BoxLink {
  readonly #find: SourceFinder;
  readonly #options: KeepOptions;
  readonly #listeners = new Set<LinkListener>();
  #link: BoxLink | undefined;
  #state: LinkState = 'opening';
  #problem: LinkProblem | undefined;
  #lastGreeting: Answer<'hello'> | undefined;
  #retryMs: number;
  #cancelRetry: () => void = () => undefined;
  #isClosed = false;

  constructor(find: SourceFinder, options: KeepOptions) {
    this.#find = find;
    this.#options = options;
    this.#retryMs = options.retryFirstMs ?? RETRY_FIRST_MS;
    void this.#start();
  }

  get state(): LinkState {
    return this.#state;
  }

  get greeting(): Answer<'hello'> | undefined {
    return this.#state === 'live' ? this.#link?.greeting : undefined;
  }

  get problem(): LinkProblem | undefined {
    return this.#problem;
  }

  request<N extends RequestName>(name: N, fields: Fields<N>): Promise<LinkResult<N>> {
    if (this.#link !== undefined) return this.#link.request(name, fields);
    const problem = this.#problem ?? linkProblem('LINK_NOT_LIVE', { title: 'the box', detail: this.#state });
    return Promise.resolve({ kind: 'link-failed', ...problem });
  }

  subscribe(listener: LinkListener): () => void {
    this.#listeners.add(listener);
    return () => this.#listeners.delete(listener);
  }

  async close(): Promise<void> {
    if (!this.#isClosed) {
      this.#isClosed = true;
      this.#cancelRetry();
      const reason = linkProblem('LINK_CLOSED', { title: 'the box' });
      if (this.#link === undefined || isOver(this.#link.state)) this.#enter('closed', reason);
    }
    await this.#link?.close();
  }

  async #start(): Promise<void> {
    // One port object at a time: the old one holds the port's lock until it is freed.
    await this.#link?.close();
    this.#link = undefined;
    const source = await this.#findOne();
    if (this.#isClosed) return;
    if ('code' in source) {
      this.#enter('failed', source);
      this.#retryLater(source);
      return;
    }
    this.#problem = undefined;
    const link = openLink(source, this.#options);
    this.#link = link;
    this.#enter(link.state);
    link.subscribe((event) => this.#heard(link, event));
  }

  /** A search that throws is a search that found nothing; the next one may. */
  async #findOne(): ReturnType<SourceFinder> {
    try {
      return await this.#find();
    } catch (error) {
      const detail = error instanceof Error ? error.message : String(error);
      return linkProblem('LINK_PORT_ERROR', { title: 'the port', detail });
    }
  }

  #heard(link: BoxLink, event: LinkEvent): void {
    if (link !== this.#link) return;
    if (event.kind !== 'state') {
      this.#tell(event);
      return;
    }
    if (event.state === 'live') this.#becameLive(link);
    this.#enter(event.state, event.reason);
    if (event.state === 'failed' || event.state === 'silent') this.#retryLater(event.reason ?? link.problem);
  }

  #becameLive(link: BoxLink): void {
    this.#retryMs = this.#options.retryFirstMs ?? RETRY_FIRST_MS;
    const greeting = link.greeting;
    const before = this.#lastGreeting;
    this.#lastGreeting = greeting;
    if (greeting === undefined || before === undefined || greeting.bootNonce === before.bootNonce) return;
    this.#tell({ kind: 'restarted', greeting, isOtherBox: greeting.boxSerial !== before.boxSerial });
  }

  #retryLater(reason: LinkProblem | undefined): void {
    if (this.#isClosed) return;
    const retryInMs = this.#retryMs;
    this.#retryMs = Math.min(retryInMs * 2, this.#options.retryMaxMs ?? RETRY_MAX_MS);
    this.#cancelRetry = (this.#options.clock ?? systemClock).after(retryInMs, () => void this.#start());
    if (reason !== undefined) this.#tell({ kind: 'waiting', retryInMs, reason });
  }

  #enter(state: LinkState, reason?: LinkProblem): void {
    this.#state = state;
    if (reason !== undefined) this.#problem = reason;
    this.#tell(reason === undefined ? { kind: 'state', state } : { kind: 'state', state, reason });
  }

  #tell(event: LinkEvent): void {
    for (const listener of [...this.#listeners]) listener(event);
  }
}

const isOver = (state: LinkState): boolean => state === 'closed' || state === 'failed' || state === 'silent';
