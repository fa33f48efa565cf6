import {
  keepLink,
  openLink,
  portFinder,
  serialSource,
  simulatedBox,
  type BoxLink,
  type SimulatedBox,
} from '../link';
import { InputError } from './input-error';
import type { Arguments, OptionTable } from './options';

/** Gauges that the simulated box can stand in front of. */
export const SIMULATED_GAUGES = [
  'thermal-temperature',
  'two-coil-fuel',
  'cross-coil-temperature',
  'moving-coil-pressure',
  'electronic-temperature',
  'thermal-fuel',
  'cross-coil-fuel',
] as const;

export const BOX_OPTIONS = {
  port: { kind: 'text', value: 'PATH', help: 'serial port of the box; the only USB port when left out' },
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
  keep(): BoxLink;
  /** One connection: a failure is final. */
  openOnce(): Promise<BoxLink>;
};

/** Where the box of a command is. Refuses a port together with a simulation. */
export function boxFrom(given: Arguments, speed = given.number('speed')): BoxSource {
  const port = given.text('port');
  const gauge = given.text('simulate');
  if (port !== undefined && gauge !== undefined)
    throw new InputError('give either --port or --simulate, not both');
  if (gauge === undefined) return realBox(port);
  const simulated = simulatedBox({ gauge, seed: given.number('seed'), speed });
  const { source } = simulated;
  return {
    simulated,
    keep: () => keepLink(() => Promise.resolve(source)),
    openOnce: () => Promise.resolve(openLink(source)),
  };
}

function realBox(port: string | undefined): BoxSource {
  const find = portFinder(port);
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
