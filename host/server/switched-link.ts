import type { Answer, Fields, RequestName } from '../../protocol';
import {
  guardLink,
  linkProblem,
  within,
  type BoxLink,
  type GuardedLink,
  type LinkClock,
  type LinkListener,
  type LinkProblem,
  type LinkResult,
  type LinkState,
  type OpenedForGood,
} from '../link';

/** For each step of ending what was plugged in. */
export const STEP_LIMIT_MS = 1_500;

/** A link whose far end can be changed while its listeners stay. With nothing plugged in it is closed and says so. */
export class SwitchedLink implements BoxLink {
  readonly #listeners = new Set<LinkListener>();
  readonly #clock: LinkClock;
  #inner: GuardedLink | undefined;
  #unsubscribe: () => void = () => undefined;

  constructor(clock: LinkClock) {
    this.#clock = clock;
  }

  get state(): LinkState {
    return this.#inner?.state ?? 'closed';
  }

  get greeting(): Answer<'hello'> | undefined {
    return this.#inner?.greeting;
  }

  get problem(): LinkProblem | undefined {
    return this.#inner === undefined ? linkProblem('LINK_NO_PORTS', { title: '' }) : this.#inner.problem;
  }

  request<N extends RequestName>(name: N, fields: Fields<N>): Promise<LinkResult<N>> {
    if (this.#inner !== undefined) return this.#inner.request(name, fields);
    return Promise.resolve({ kind: 'link-failed', ...linkProblem('LINK_NO_PORTS', { title: '' }) });
  }

  subscribe(listener: LinkListener): () => void {
    this.#listeners.add(listener);
    return () => this.#listeners.delete(listener);
  }

  close(): Promise<void> {
    return this.unplug();
  }

  openForGood(): Promise<OpenedForGood> {
    return this.#inner?.openForGood() ?? Promise.resolve('no-box');
  }

  /** Opens the output of what is plugged in, whatever a job still wants of it, and ends the link to it. */
  async unplug(): Promise<void> {
    const before = this.#inner;
    if (before === undefined) return;
    await before.openForGood();
    await within(STEP_LIMIT_MS, () => before.close());
    this.#unsubscribe();
    this.#inner = undefined;
    this.#tell({ kind: 'state', state: 'closed', reason: linkProblem('LINK_CLOSED', { title: 'the box' }) });
  }

  /** Plugs in something, or nothing, where nothing is. */
  plug(next: BoxLink | undefined): void {
    if (next === undefined) return;
    const guarded = guardLink(next, this.#clock);
    this.#inner = guarded;
    this.#unsubscribe = guarded.subscribe((event) => this.#tell(event));
    this.#tell({ kind: 'state', state: next.state });
  }

  #tell(event: Parameters<LinkListener>[0]): void {
    for (const listener of [...this.#listeners]) listener(event);
  }
}
