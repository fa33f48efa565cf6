import { nodeVolts, type Branch, type Injection } from './nodes';
import type { Vehicle } from './vehicle';

/** Places of the circuit. */
export const NODE = {
  /** The battery's grounded post, its negative one in nearly all, and the other. */
  ground: 0,
  live: 1,
  feed: 2,
  supply: 3,
  terminal: 4,
  case: 5,
  body: 6,
  plug: 7,
  hex: 8,
  engine: 9,
  reference: 10,
} as const;
const NODES = 11;

/** What is on the plug: the sender, nothing, or a resistor to the grounded post. */
export type OnPlug =
  | { readonly kind: 'sender'; readonly ohm: number }
  | { readonly kind: 'open' }
  | {
      readonly kind: 'resistor';
      readonly ohm: number;
    };
export type Loads = 'quiet' | 'loaded';

const CONTACT_OHM = 0.03;
const ABSENT_OHM = 1e9;
const REFERENCE_OHM = 0.5;
/** What a module draws besides its gauge, ohm across its feed. */
const MODULE_OHM = 90;

/** Sign of what stands above the grounded post. */
const signOf = ({ isPositiveGround }: Vehicle): 1 | -1 => (isPositiveGround ? -1 : 1);
const isElectronic = ({ family }: Vehicle): boolean => family.kind === 'electronic';

function gaugeBranches(vehicle: Vehicle): Branch[] {
  const { family, firstOhm, secondOhm } = vehicle;
  if (isElectronic(vehicle))
    return [
      { from: NODE.case, to: NODE.reference, ohm: REFERENCE_OHM, emf: signOf(vehicle) * family.feedVolt },
      { from: NODE.reference, to: NODE.terminal, ohm: firstOhm },
      { from: NODE.feed, to: NODE.case, ohm: MODULE_OHM },
    ];
  if (family.operatingOhm === 0) return [{ from: NODE.supply, to: NODE.terminal, ohm: firstOhm }];
  return [
    { from: NODE.supply, to: NODE.terminal, ohm: firstOhm },
    { from: NODE.terminal, to: NODE.case, ohm: secondOhm },
  ];
}

/** A second gauge of the same make on the wire, sound. */
function secondGauge(vehicle: Vehicle): Branch[] {
  const { family, otherGauge } = vehicle;
  if (!otherGauge) return [];
  if (family.kind === 'electronic')
    return [
      { from: NODE.body, to: NODE.terminal, ohm: family.gaugeOhm, emf: signOf(vehicle) * family.feedVolt },
    ];
  return [
    { from: NODE.supply, to: NODE.terminal, ohm: family.gaugeOhm },
    ...(family.operatingOhm === 0 ? [] : [{ from: NODE.terminal, to: NODE.body, ohm: family.operatingOhm }]),
  ];
}

function branchesOf(vehicle: Vehicle, plug: OnPlug, isClosed: boolean): Branch[] {
  const { battery, feedOhm, othersOhm } = vehicle;
  return [
    { from: NODE.ground, to: NODE.live, ohm: battery.ohm, emf: signOf(vehicle) * battery.emf },
    { from: NODE.live, to: NODE.feed, ohm: feedOhm },
    { from: NODE.feed, to: NODE.body, ohm: othersOhm },
    { from: NODE.feed, to: NODE.supply, ohm: isClosed ? CONTACT_OHM : ABSENT_OHM },
    ...gaugeBranches(vehicle),
    ...secondGauge(vehicle),
    { from: NODE.case, to: NODE.body, ohm: vehicle.caseOhm },
    { from: NODE.body, to: NODE.ground, ohm: vehicle.bodyStrapOhm },
    { from: NODE.terminal, to: NODE.plug, ohm: vehicle.wireOhm },
    { from: NODE.plug, to: NODE.body, ohm: vehicle.chafeOhm },
    { from: NODE.engine, to: NODE.ground, ohm: vehicle.engineStrapOhm },
    { from: NODE.hex, to: NODE.engine, ohm: vehicle.hexOhm },
    ...plugBranches(plug),
  ];
}

function plugBranches(plug: OnPlug): Branch[] {
  if (plug.kind === 'open') return [];
  const to = plug.kind === 'sender' ? NODE.hex : NODE.ground;
  return [{ from: NODE.plug, to, ohm: plug.ohm }];
}

function injectionsOf(vehicle: Vehicle, loads: Loads): Injection[] {
  const { lampAmp, quietAmp, engineAmp } = vehicle;
  const sign = signOf(vehicle);
  return [
    { from: NODE.live, to: NODE.body, amp: sign * (quietAmp + (loads === 'loaded' ? lampAmp : 0)) },
    { from: NODE.live, to: NODE.engine, amp: sign * engineAmp[loads] },
  ];
}

export type Solved = {
  /** Volts as they heat: where a stabiliser chops, the root of their mean square. */
  readonly volts: readonly number[];
  readonly firstAmp: number;
  readonly secondAmp: number;
  readonly isPulsing: boolean;
};

/**
 * The circuit at rest. A stabiliser that chops is closed so much of the time that its output heats as it should; a meter
 * shows the mean of both states. Source: mean square and mean of a square wave.
 */
export function solved(vehicle: Vehicle, plug: OnPlug, loads: Loads = 'quiet'): Solved {
  const { family, stabiliser, firstOhm, secondOhm } = vehicle;
  const never = family.isStabilised && stabiliser.contact === 'never';
  const withContact = (isClosed: boolean): readonly number[] =>
    nodeVolts(NODES, branchesOf(vehicle, plug, isClosed), injectionsOf(vehicle, loads));
  const closed = withContact(!never);
  const at = (node: number): number => closed[node] ?? 0;
  const upper = isElectronic(vehicle) ? NODE.reference : NODE.supply;
  // A gauge is wound for the polarity of its vehicle: what pulls it up is counted upwards.
  const sign = signOf(vehicle);
  const firstAmp = (sign * (at(upper) - at(NODE.terminal))) / firstOhm;
  const secondAmp = secondOhm > 0 ? (sign * (at(NODE.terminal) - at(NODE.case))) / secondOhm : 0;
  const chops =
    family.isStabilised && stabiliser.contact === 'works' && stabiliser.groundOhm < LOST_GROUND_OHM;
  const part = chops ? Math.min(1, stabiliser.heatVolt / Math.abs(at(NODE.supply))) : 1;
  if (part === 1) return { volts: closed, firstAmp, secondAmp, isPulsing: false };
  const open = withContact(false);
  const duty = part ** 2;
  const volts = closed.map((on, node) => {
    const off = open[node] ?? 0;
    return HEATED.includes(node)
      ? sign * Math.sqrt(duty * on ** 2 + (1 - duty) * off ** 2)
      : duty * on + (1 - duty) * off;
  });
  return { volts, firstAmp: part * firstAmp, secondAmp, isPulsing: true };
}

/** Its own heater needs its ground: without it the contact stays closed. */
const LOST_GROUND_OHM = 10;
/** Where the volts are told by what they heat. */
const HEATED: readonly number[] = [NODE.supply, NODE.terminal, NODE.plug];

/** What an ohmmeter shows between two places of some branches, with every source off. */
export function ohmBetween(branches: readonly Branch[], one: number, other: number): number {
  const quiet = branches.map(({ from, to, ohm }) => ({ from, to, ohm }));
  const volts = nodeVolts(NODES, quiet, [{ from: other, to: one, amp: 0.001 }]);
  return ((volts[one] ?? 0) - (volts[other] ?? 0)) / 0.001;
}

/** The sender with its way to battery negative and a second one beside it, its wire off. */
export const senderBranches = (vehicle: Vehicle, ownOhm: number): readonly Branch[] => [
  { from: NODE.plug, to: NODE.hex, ohm: ownOhm },
  { from: NODE.hex, to: NODE.engine, ohm: vehicle.hexOhm },
  { from: NODE.engine, to: NODE.ground, ohm: vehicle.engineStrapOhm },
];
