import type { Fields, RequestName } from '../../protocol';
import { systemClock } from './clock';
import { linkProblem } from './problems';
import type { BoxLink, LinkClock, LinkListener, LinkResult } from './types';
import { within } from './within';

/** What is known of the output after it was told to open. `no-box`: nobody could be told. */
export type OpenedForGood = 'box-confirmed-open' | 'box-silent' | 'no-box';

/** A link that can be made safe whatever the program above it still wants. */
export type GuardedLink = BoxLink & {
  /**
   * Tells the box to open its output, before anything that waits in line, and lets nothing through from then on that could
   * close it again. Answers within two seconds; asked again it gives the same answer. A box that does not confirm loses
   * the link: without heartbeats it opens by itself.
   */
  openForGood(): Promise<OpenedForGood>;
};

/** The link repeats an unanswered request for three quarters of a second; then it gives the box up as silent. */
const OPEN_LIMIT_MS = 1_500;

/** None of these closes a contact. */
const HARMLESS: readonly RequestName[] = ['hello', 'heartbeat', 'open', 'acknowledge'];

export function guardLink(link: BoxLink, clock: LinkClock = systemClock): GuardedLink {
  return new Guard(link, clock);
}

class Guard implements GuardedLink {
  readonly #link: BoxLink;
  readonly #clock: LinkClock;
  #opened: Promise<OpenedForGood> | undefined;

  constructor(link: BoxLink, clock: LinkClock) {
    this.#link = link;
    this.#clock = clock;
    // A box that comes back while the program ends may still hold what it was told before the line broke.
    link.subscribe((event) => {
      if (this.#opened !== undefined && event.kind === 'state' && event.state === 'live') void this.#open();
    });
  }

  get state(): BoxLink['state'] {
    return this.#link.state;
  }

  get greeting(): BoxLink['greeting'] {
    return this.#link.greeting;
  }

  get problem(): BoxLink['problem'] {
    return this.#link.problem;
  }

  request<N extends RequestName>(name: N, fields: Fields<N>): Promise<LinkResult<N>> {
    if (this.#opened === undefined || HARMLESS.includes(name)) return this.#link.request(name, fields);
    const problem = linkProblem('LINK_CLOSED', { title: 'the box' });
    return Promise.resolve({ kind: 'link-failed', ...problem });
  }

  subscribe(listener: LinkListener): () => void {
    return this.#link.subscribe(listener);
  }

  close(): Promise<void> {
    return this.#link.close();
  }

  openForGood(): Promise<OpenedForGood> {
    this.#opened ??= this.#open();
    return this.#opened;
  }

  async #open(): Promise<OpenedForGood> {
    if (this.#link.state !== 'live') return 'no-box';
    const opened = await within(OPEN_LIMIT_MS, () => this.#link.request('open', { channel: 0 }), this.#clock);
    if (opened.kind === 'done' && opened.value.kind === 'answer') return 'box-confirmed-open';
    void within(OPEN_LIMIT_MS, () => this.#link.close(), this.#clock);
    return 'box-silent';
  }
}
