import {
  greetBoxes,
  guardLink,
  inOrder,
  keepLink,
  linkProblem,
  listPorts,
  openLink,
  portFinder,
  serialSource,
  simulatedBox,
  usbPorts,
  type BoxLink,
  type GuardedLink,
  type OpenedForGood,
  type SimulatedBox,
  type SourceFinder,
} from '../../link';
import type { Surroundings } from '../command';
import { InputError } from '../input-error';
import type { Arguments, OptionTable } from '../options';

const LIVE_WITHIN_MS = 8_000;

/** Gauges that the simulated box can stand in front of. */
export const SIMULATED_GAUGES = [
  'thermal-temperature',
  'two-coil-fuel',
  'cross-coil-temperature',
  'moving-coil-pressure',
  'electronic-temperature',
  'thermal-fuel',
  'thermal-fuel-steady',
  'cross-coil-fuel',
] as const;

export const BOX_OPTIONS = {
  port: { kind: 'text', value: 'PATH', help: 'serial port of the box; the only USB port when left out' },
  box: {
    kind: 'number',
    value: 'N',
    min: 0,
    isWhole: true,
    help: 'of several boxes at USB ports the one of this serial number',
  },
  simulate: { kind: 'choice', choices: SIMULATED_GAUGES, help: 'a simulated box on a simulated gauge' },
  seed: {
    kind: 'number',
    value: 'N',
    min: 0,
    max: 0xffff_ffff,
    isWhole: true,
    help: 'seed of the simulated world',
  },
  speed: {
    kind: 'number',
    value: 'X',
    min: 0.1,
    max: 1000,
    help: 'how many times faster the simulated needle lives',
  },
} as const satisfies OptionTable;

export type BoxSource = {
  readonly simulated: SimulatedBox | undefined;
  /** A link that comes back by itself. */
  keep(): GuardedLink;
  /** One connection: a failure is final. */
  openOnce(): Promise<GuardedLink>;
  /** Opens the output, then ends all links and the simulated box, each by itself. */
  end(): Promise<void>;
};

const END_STEP_MS = 1_500;

/** Where the box of a command is; its output is opened first, however the program ends. Refuses a port together with a simulation. */
export function boxFrom(
  given: Arguments,
  { outputs, err }: Pick<Surroundings, 'outputs' | 'err'>,
  speed = given.number('speed'),
): BoxSource {
  const port = given.text('port');
  const gauge = given.text('simulate');
  if (port !== undefined && gauge !== undefined)
    throw new InputError('give either --port or --simulate, not both');
  const boxSerial = given.number('box');
  if (boxSerial !== undefined && (port ?? gauge) !== undefined)
    throw new InputError('--box finds its port by itself: give it without --port and --simulate');
  const found =
    gauge === undefined ? realBox(port, boxSerial) : simulated(gauge, given.number('seed'), speed);
  const links: GuardedLink[] = [];
  const title =
    gauge === undefined ? `the box${port === undefined ? '' : ` on ${port}`}` : 'the simulated box';
  /** Of several links, one after the other, the last is the one that counts. */
  const openForGood = async (): Promise<OpenedForGood> =>
    (await Promise.all(links.map((link) => link.openForGood()))).at(-1) ?? 'no-box';
  const guarded = (link: BoxLink): GuardedLink => {
    const guard = guardLink(link);
    links.push(guard);
    if (links.length === 1) outputs.add({ title, openForGood });
    return guard;
  };
  return {
    simulated: found.simulated,
    keep: () => guarded(found.keep()),
    openOnce: async () => guarded(await found.openOnce()),
    async end() {
      await outputs.openAll('troubles');
      const steps = links.map((link) => ({ what: 'ending the link to the box', work: () => link.close() }));
      const simulator = { what: 'ending the simulated box', work: async () => found.simulated?.stop() };
      for (const trouble of await inOrder([...steps, simulator], END_STEP_MS)) err(trouble);
    },
  };
}

type FoundBox = {
  readonly simulated: SimulatedBox | undefined;
  readonly keep: () => BoxLink;
  readonly openOnce: () => Promise<BoxLink>;
};

function simulated(gauge: string, seed: number | undefined, speed: number | undefined): FoundBox {
  const box = simulatedBox({ gauge, seed, speed });
  return {
    simulated: box,
    keep: () => keepLink(() => Promise.resolve(box.source)),
    openOnce: () => Promise.resolve(openLink(box.source)),
  };
}

/** Of several boxes the one of that number, wherever it is plugged in. */
function finderOf(boxSerial: number): SourceFinder {
  let found: SourceFinder | undefined;
  return async () => {
    if (found !== undefined) return found();
    const { ports } = await listPorts();
    const greeted = await greetBoxes(usbPorts(ports).map(({ path }) => path));
    const paths = greeted.flatMap((each) => (each.boxSerial === boxSerial ? [each.path] : []));
    const [path] = paths;
    if (path === undefined) return linkProblem('LINK_NO_SUCH_PORT', { title: `with box ${boxSerial}` });
    if (paths.length > 1) return linkProblem('LINK_SEVERAL_PORTS', { title: '', detail: paths.join(', ') });
    found = portFinder(path);
    return found();
  };
}

function realBox(port: string | undefined, boxSerial: number | undefined): FoundBox {
  const find = boxSerial === undefined ? portFinder(port) : finderOf(boxSerial);
  return {
    simulated: undefined,
    keep: () => keepLink(find),
    async openOnce() {
      if (port !== undefined) return openLink(serialSource(port));
      const found = await find();
      if ('code' in found) throw new InputError(found.message);
      return openLink(found);
    },
  };
}

export function untilLive(link: BoxLink): Promise<void> {
  if (link.state === 'live') return Promise.resolve();
  return new Promise((resolve, reject) => {
    const settle = (act: () => void): void => {
      clearTimeout(timer);
      end();
      act();
    };
    const timer = setTimeout(
      () =>
        settle(() =>
          reject(new InputError('no box answers; run "needlewright ports" to see what is plugged in')),
        ),
      LIVE_WITHIN_MS,
    );
    const end = link.subscribe((event) => {
      if (event.kind !== 'state') return;
      if (event.state === 'live') settle(resolve);
      if (event.state === 'failed')
        settle(() => reject(new InputError(event.reason?.message ?? 'the link to the box failed')));
    });
  });
}
