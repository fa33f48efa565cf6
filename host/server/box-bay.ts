import type { Answer, Fields, RequestName } from '../../protocol';
import type { Refused } from '../core/result';
import { passedOn, refuse } from '../refusals';
import type { BoxChoice, SimulatedGauge } from '../job/wire/host-messages';
import { describeSimulatedGauges } from './describe-simulated';
import {
  guardLink,
  inOrder,
  keepLink,
  linkProblem,
  notSerial,
  portFinder,
  simulatedBox,
  systemClock,
  within,
  type BoxLink,
  type GuardedLink,
  type LinkClock,
  type LinkListener,
  type LinkProblem,
  type LinkResult,
  type LinkState,
  type NeedleLook,
  type OpenedForGood,
  type SimulatedBox,
} from '../link';

export type SimulationOptions = {
  readonly seed?: number | undefined;
  /** Simulated seconds per real second; tests hurry. */
  readonly speed?: number | undefined;
};

/** The time of the box and a simulated box that lives in it: the machine's own and a program of its own, unless lent. */
export type BayTools = { readonly clock: LinkClock; readonly simulatedBox: typeof simulatedBox };

export type DashListener = (gauge: string, look: NeedleLook) => void;

/** Where a box is plugged in. The bench sees one link that lasts; what is behind it may be changed by a person. */
export type BoxBay = {
  readonly link: BoxLink;
  readonly choice: BoxChoice;
  simulatedGauges(): Promise<readonly SimulatedGauge[]>;
  /** One change after the other, in the order they were asked for; the output of the box before is opened first. */
  choose(choice: BoxChoice): Promise<BoxChoice | Refused>;
  subscribeChoice(listener: (choice: BoxChoice) => void): () => void;
  /** What a person would see on the simulated dash. For drawing only. */
  subscribeDash(listener: DashListener): () => void;
  tellWorld(change: Readonly<Record<string, unknown>>): void;
  /** The host ends: opens the output, lets nothing close it again, and plugs in nothing more. */
  openForGood(): Promise<OpenedForGood>;
  close(): Promise<void>;
};

/** For each step of ending what was plugged in. */
const STEP_LIMIT_MS = 1_500;

export function createBoxBay(
  simulation: SimulationOptions = {},
  tools: BayTools = { clock: systemClock, simulatedBox },
): BoxBay {
  return new Bay(simulation, tools);
}

class Bay implements BoxBay {
  readonly link: SwitchedLink;
  readonly #simulation: SimulationOptions;
  readonly #tools: BayTools;
  readonly #choiceListeners = new Set<(choice: BoxChoice) => void>();
  readonly #dashListeners = new Set<DashListener>();
  #choice: BoxChoice = { kind: 'none' };
  #simulated: SimulatedBox | undefined;
  #described: Promise<readonly SimulatedGauge[]> | undefined;
  #turn: Promise<unknown> = Promise.resolve();
  #isEnding = false;

  constructor(simulation: SimulationOptions, tools: BayTools) {
    this.#simulation = simulation;
    this.#tools = tools;
    this.link = new SwitchedLink(tools.clock);
  }

  get choice(): BoxChoice {
    return this.#choice;
  }

  simulatedGauges(): Promise<readonly SimulatedGauge[]> {
    this.#described ??= describeSimulatedGauges();
    return this.#described;
  }

  choose(choice: BoxChoice): Promise<BoxChoice | Refused> {
    return this.#inTurn(() => this.#change(choice));
  }

  async #change(choice: BoxChoice): Promise<BoxChoice | Refused> {
    if (this.#isEnding) return refuse('HOST_ENDING');
    if (sameChoice(choice, this.#choice) && this.link.state === 'live') return this.#choice;
    if (choice.kind === 'simulated') {
      const known = (await this.simulatedGauges()).map((gauge) => gauge.name);
      if (!known.includes(choice.gauge)) {
        return refuse('NO_SUCH_SIMULATED_GAUGE', { gauge: choice.gauge, known });
      }
    }
    const stranger = choice.kind === 'port' ? await notSerial(choice.path) : undefined;
    if (stranger !== undefined) return passedOn(stranger);
    await this.#unplug();
    // Told to end while the old box was let go: a new one would outlive the host.
    if (this.#isEnding) return refuse('HOST_ENDING');
    this.link.plug(this.#linkTo(choice));
    this.#choice = choice;
    for (const listener of this.#choiceListeners) listener(choice);
    return choice;
  }

  #inTurn<Answer>(action: () => Promise<Answer>): Promise<Answer> {
    const answer = this.#turn.then(action);
    this.#turn = answer.catch(() => undefined);
    return answer;
  }

  async #unplug(): Promise<void> {
    const simulated = this.#simulated;
    this.#simulated = undefined;
    await inOrder(
      [
        { what: 'unplugging', work: () => this.link.unplug() },
        { what: 'ending the simulated box', work: async () => simulated?.stop() },
      ],
      2 * STEP_LIMIT_MS,
    );
  }

  #linkTo(choice: BoxChoice): BoxLink | undefined {
    const { clock } = this.#tools;
    switch (choice.kind) {
      case 'none':
        return undefined;
      case 'port':
        return keepLink(portFinder(choice.path), { clock });
      case 'simulated': {
        const box = this.#tools.simulatedBox({ gauge: choice.gauge, ...this.#simulation });
        this.#simulated = box;
        box.subscribeNeedle((look) => this.#dashListeners.forEach((listen) => listen(choice.gauge, look)));
        return keepLink(() => Promise.resolve(box.source), { clock });
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

  openForGood(): Promise<OpenedForGood> {
    this.#isEnding = true;
    return this.link.openForGood();
  }

  async close(): Promise<void> {
    await this.openForGood();
    await this.#inTurn(() => this.#unplug());
  }
}

const sameChoice = (one: BoxChoice, other: BoxChoice): boolean =>
  JSON.stringify(one) === JSON.stringify(other);

/** A link whose far end can be changed while its listeners stay. With nothing plugged in it is closed and says so. */
class SwitchedLink implements BoxLink {
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
