import type { Refused } from '../core/result';
import { passedOn, refuse } from '../refusals';
import {
  MOST_BOXES,
  type BoxChoice,
  type SimulatedCluster as DescribedCluster,
  type SimulatedGauge,
} from '../job/wire/host-messages';
import { STEP_LIMIT_MS, SwitchedLink } from './switched-link';
import { describeSimulatedClusters, describeSimulatedGauges } from './describe-simulated';
import {
  inOrder,
  keepLink,
  notSerial,
  portFinder,
  simulatedBox,
  simulatedCluster,
  systemClock,
  type BoxLink,
  type GuardedLink,
  type LinkClock,
  type NeedleLook,
  type OpenedForGood,
  type SimulatedBox,
  type SimulatedCluster,
} from '../link';

export type SimulationOptions = {
  readonly seed?: number | undefined;
  /** Simulated seconds per real second; tests hurry. */
  readonly speed?: number | undefined;
};

/** The time of the box and a simulated box that lives in it: the machine's own and a program of its own, unless lent. */
export type BayTools = {
  readonly clock: LinkClock;
  readonly simulatedBox: typeof simulatedBox;
  readonly simulatedCluster?: typeof simulatedCluster;
};

/** `place`: where in a cluster; undefined: it is the only gauge. */
export type DashListener = (gauge: string, look: NeedleLook, place?: string) => void;

/** Where a box is plugged in. The bench sees one link that lasts; what is behind it may be changed by a person. */
export type BoxBay = {
  readonly link: BoxLink;
  /** Every place where a box can be plugged in, `link` the first. */
  readonly links: readonly GuardedLink[];
  readonly choice: BoxChoice;
  simulatedGauges(): Promise<readonly SimulatedGauge[]>;
  simulatedClusters(): Promise<readonly DescribedCluster[]>;
  /** One change after the other, in the order they were asked for; the output of the box before is opened first. */
  choose(choice: BoxChoice): Promise<BoxChoice | Refused>;
  subscribeChoice(listener: (choice: BoxChoice) => void): () => void;
  /** What a person would see on the simulated dash. For drawing only. */
  subscribeDash(listener: DashListener): () => void;
  tellWorld(change: Readonly<Record<string, unknown>>): void;
  /** What a person calls the outputs; after `openForGood`, those that did not confirm. */
  readonly title: string;
  /** The host ends: opens every output, lets nothing close one again, and plugs in nothing more. */
  openForGood(): Promise<OpenedForGood>;
  close(): Promise<void>;
};

export function createBoxBay(
  simulation: SimulationOptions = {},
  tools: BayTools = { clock: systemClock, simulatedBox },
): BoxBay {
  return new Bay(simulation, tools);
}

class Bay implements BoxBay {
  readonly links: readonly SwitchedLink[];
  readonly #simulation: SimulationOptions;
  readonly #tools: BayTools;
  readonly #choiceListeners = new Set<(choice: BoxChoice) => void>();
  readonly #dashListeners = new Set<DashListener>();
  #choice: BoxChoice = { kind: 'none' };
  #simulated: SimulatedBox | SimulatedCluster | undefined;
  #described: Promise<readonly SimulatedGauge[]> | undefined;
  #describedClusters: Promise<readonly DescribedCluster[]> | undefined;
  #turn: Promise<unknown> = Promise.resolve();
  #isEnding = false;
  #title = 'the box';

  constructor(simulation: SimulationOptions, tools: BayTools) {
    this.#simulation = simulation;
    this.#tools = tools;
    this.links = Array.from({ length: MOST_BOXES }, () => new SwitchedLink(tools.clock));
  }

  get link(): SwitchedLink {
    const [first] = this.links;
    if (first === undefined) throw new Error('a bay without a place');
    return first;
  }

  get title(): string {
    return this.#title;
  }

  get choice(): BoxChoice {
    return this.#choice;
  }

  simulatedGauges(): Promise<readonly SimulatedGauge[]> {
    this.#described ??= describeSimulatedGauges();
    return this.#described;
  }

  simulatedClusters(): Promise<readonly DescribedCluster[]> {
    this.#describedClusters ??= describeSimulatedClusters();
    return this.#describedClusters;
  }

  choose(choice: BoxChoice): Promise<BoxChoice | Refused> {
    return this.#inTurn(() => this.#change(choice));
  }

  async #change(choice: BoxChoice): Promise<BoxChoice | Refused> {
    if (this.#isEnding) return refuse('HOST_ENDING');
    if (sameChoice(choice, this.#choice) && this.#isLive()) return this.#choice;
    if (choice.kind === 'simulated') {
      const known = (await this.simulatedGauges()).map((gauge) => gauge.name);
      if (!known.includes(choice.gauge)) {
        return refuse('NO_SUCH_SIMULATED_GAUGE', { gauge: choice.gauge, known });
      }
    }
    if (choice.kind === 'simulated-cluster' && (await this.#placesOf(choice.cluster)).length === 0) {
      const known = (await this.simulatedClusters()).map((each) => each.name);
      return refuse('NO_SUCH_SIMULATED_GAUGE', { gauge: choice.cluster, known });
    }
    for (const path of pathsOf(choice)) {
      const stranger = await notSerial(path);
      if (stranger !== undefined) return passedOn(stranger);
    }
    await this.#unplug();
    // Told to end while the old box was let go: a new one would outlive the host.
    if (this.#isEnding) return refuse('HOST_ENDING');
    const places = choice.kind === 'simulated-cluster' ? await this.#placesOf(choice.cluster) : [];
    this.#linksTo(choice, places).forEach((link, at) => this.links[at]?.plug(link));
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
        { what: 'unplugging', work: () => Promise.all(this.links.map((link) => link.unplug())) },
        { what: 'ending the simulated box', work: async () => simulated?.stop() },
      ],
      2 * STEP_LIMIT_MS,
    );
  }

  #isLive(): boolean {
    const plugged = this.links.filter(({ state }) => state !== 'closed');
    return plugged.length > 0 && plugged.every(({ state }) => state === 'live');
  }

  async #placesOf(cluster: string): Promise<readonly string[]> {
    const found = (await this.simulatedClusters()).find((each) => each.name === cluster);
    return found?.gauges.map(({ place }) => place) ?? [];
  }

  #linksTo(choice: BoxChoice, places: readonly string[]): BoxLink[] {
    const { clock } = this.#tools;
    switch (choice.kind) {
      case 'none':
        return [];
      case 'port':
      case 'ports':
        return pathsOf(choice).map((path) => keepLink(portFinder(path), { clock }));
      case 'simulated': {
        const box = this.#tools.simulatedBox({ gauge: choice.gauge, ...this.#simulation });
        this.#simulated = box;
        box.subscribeNeedle((look) => this.#dashListeners.forEach((listen) => listen(choice.gauge, look)));
        return [keepLink(() => Promise.resolve(box.source), { clock })];
      }
      case 'simulated-cluster': {
        const { cluster, boxCount } = choice;
        const make = this.#tools.simulatedCluster ?? simulatedCluster;
        const boxes = make({ cluster, boxCount, ...this.#simulation });
        this.#simulated = boxes;
        boxes.subscribeNeedles((look) =>
          this.#dashListeners.forEach((listen) => listen(cluster, look, places[look.gauge ?? 0])),
        );
        return boxes.sources.map((source) => keepLink(() => Promise.resolve(source), { clock }));
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
    return this.#openAll();
  }

  /** All are told before the first answer is waited for. */
  async #openAll(): Promise<OpenedForGood> {
    const plugged = this.links.filter(({ state }) => state !== 'closed');
    const titles = plugged.map(({ greeting }, at) => `box ${greeting?.boxSerial ?? `at place ${at + 1}`}`);
    const opened = await Promise.all(this.links.map((link) => link.openForGood()));
    const silent = titles.filter(
      (_, at) => opened[this.links.indexOf(plugged[at]!)] !== 'box-confirmed-open',
    );
    if (plugged.length > 1) this.#title = (silent.length === 0 ? titles : silent).join(', ');
    // One of several that cannot even be told is the silent one.
    if (plugged.length > 1 && silent.length > 0) return 'box-silent';
    if (opened.includes('box-silent')) return 'box-silent';
    return opened.includes('box-confirmed-open') ? 'box-confirmed-open' : 'no-box';
  }

  async close(): Promise<void> {
    await this.openForGood();
    await this.#inTurn(() => this.#unplug());
  }
}

const pathsOf = (choice: BoxChoice): readonly string[] =>
  choice.kind === 'port' ? [choice.path] : choice.kind === 'ports' ? choice.paths : [];

const sameChoice = (one: BoxChoice, other: BoxChoice): boolean =>
  JSON.stringify(one) === JSON.stringify(other);
