import type { Answer, Fields, RequestName } from '../../protocol';
import { refuse, type Refused } from '../core/result';
import type { BoxChoice, SimulatedGauge } from '../job/host-wire';
import { describeSimulatedGauges } from './describe-simulated';
import {
  keepLink,
  linkProblem,
  portFinder,
  simulatedBox,
  type BoxLink,
  type LinkListener,
  type LinkProblem,
  type LinkResult,
  type LinkState,
  type NeedleLook,
  type SimulatedBox,
} from '../link';

export type SimulationOptions = {
  readonly seed?: number | undefined;
  /** Simulated seconds per real second; tests hurry. */
  readonly speed?: number | undefined;
};

export type DashListener = (gauge: string, look: NeedleLook) => void;

/** Where a box is plugged in. The bench sees one link that lasts; what is behind it may be changed by a person. */
export type BoxBay = {
  readonly link: BoxLink;
  readonly choice: BoxChoice;
  simulatedGauges(): Promise<readonly SimulatedGauge[]>;
  choose(choice: BoxChoice): Promise<BoxChoice | Refused>;
  subscribeChoice(listener: (choice: BoxChoice) => void): () => void;
  /** What a person would see on the simulated dash. For drawing only. */
  subscribeDash(listener: DashListener): () => void;
  tellWorld(change: Readonly<Record<string, unknown>>): void;
  close(): Promise<void>;
};

export function createBoxBay(simulation: SimulationOptions = {}): BoxBay {
  return new Bay(simulation);
}

class Bay implements BoxBay {
  readonly link = new SwitchedLink();
  readonly #simulation: SimulationOptions;
  readonly #choiceListeners = new Set<(choice: BoxChoice) => void>();
  readonly #dashListeners = new Set<DashListener>();
  #choice: BoxChoice = { kind: 'none' };
  #simulated: SimulatedBox | undefined;
  #described: Promise<readonly SimulatedGauge[]> | undefined;

  constructor(simulation: SimulationOptions) {
    this.#simulation = simulation;
  }

  get choice(): BoxChoice {
    return this.#choice;
  }

  simulatedGauges(): Promise<readonly SimulatedGauge[]> {
    this.#described ??= describeSimulatedGauges();
    return this.#described;
  }

  async choose(choice: BoxChoice): Promise<BoxChoice | Refused> {
    if (sameChoice(choice, this.#choice) && this.link.state === 'live') return this.#choice;
    if (choice.kind === 'simulated') {
      const known = (await this.simulatedGauges()).map((gauge) => gauge.name);
      if (!known.includes(choice.gauge)) {
        const offer =
          known.length === 0 ? 'the simulated box is not built' : `choose one of ${known.join(', ')}`;
        return refuse('NO_SUCH_SIMULATED_GAUGE', `There is no simulated "${choice.gauge}": ${offer}.`);
      }
    }
    await this.link.plug(undefined);
    await this.#simulated?.stop();
    this.#simulated = undefined;
    await this.link.plug(this.#linkTo(choice));
    this.#choice = choice;
    for (const listener of this.#choiceListeners) listener(choice);
    return choice;
  }

  #linkTo(choice: BoxChoice): BoxLink | undefined {
    switch (choice.kind) {
      case 'none':
        return undefined;
      case 'port':
        return keepLink(portFinder(choice.path));
      case 'simulated': {
        const box = simulatedBox({ gauge: choice.gauge, ...this.#simulation });
        this.#simulated = box;
        box.subscribeNeedle((look) => this.#dashListeners.forEach((listen) => listen(choice.gauge, look)));
        return keepLink(() => Promise.resolve(box.source));
      }
    }
  }

  subscribeChoice(listener: (choice: BoxChoice) => void): () => void {
    this.#choiceListeners.add(listener);
    return () => this.#choiceListeners.delete(listener);
  }

  subscribeDash(listener: DashListener): () => void {
    this.#dashListeners.add(listener);
    return () => this.#dashListeners.delete(listener);
  }

  tellWorld(change: Readonly<Record<string, unknown>>): void {
    this.#simulated?.tellWorld(change);
  }

  async close(): Promise<void> {
    await this.link.plug(undefined);
    await this.#simulated?.stop();
    this.#simulated = undefined;
  }
}

const sameChoice = (one: BoxChoice, other: BoxChoice): boolean =>
  JSON.stringify(one) === JSON.stringify(other);

/** A link whose far end can be changed while its listeners stay. With nothing plugged in it is closed and says so. */
class SwitchedLink implements BoxLink {
  readonly #listeners = new Set<LinkListener>();
  #inner: BoxLink | undefined;
  #unsubscribe: () => void = () => undefined;

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
    return this.plug(undefined);
  }

  /** Ends what was plugged in, whose box then opens its output by itself, and plugs in something else or nothing. */
  async plug(next: BoxLink | undefined): Promise<void> {
    const before = this.#inner;
    if (before !== undefined) {
      await before.request('open', { channel: 0 }).catch(() => undefined);
      await before.close();
      this.#unsubscribe();
      this.#inner = undefined;
      this.#tell({
        kind: 'state',
        state: 'closed',
        reason: linkProblem('LINK_CLOSED', { title: 'the box' }),
      });
    }
    if (next === undefined) return;
    this.#inner = next;
    this.#unsubscribe = next.subscribe((event) => this.#tell(event));
    this.#tell({ kind: 'state', state: next.state });
  }

  #tell(event: Parameters<LinkListener>[0]): void {
    for (const listener of [...this.#listeners]) listener(event);
  }
}
