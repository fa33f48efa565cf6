import { COMMON, valueOf } from '../../firmware-ts/board/netlist';
import { elements, outputRelay, relay } from '../../firmware-ts/board/reference-design';
import { Network } from '../../firmware-ts/board/simulated/network';
import { assumedCoilHenry } from './coil';

/** What happens to the box's own supply and to ALIVE; times in ms from the start of the run. */
export type SupplyStory = {
  readonly supplyVolt: number;
  /** From here on the supply delivers nothing; Infinity: it stays. */
  readonly supplyGoneMs: number;
  /** ALIVE ends: no edges, a trip, or the supervisor. */
  readonly aliveEndsMs: number;
  readonly holdMs: number;
  /** Reservoir as fitted, a part of its nominal value more. */
  readonly capacitorError: number;
};

export type SupplySample = {
  readonly ms: number;
  readonly heldVolt: number;
  readonly chainVolt: number;
  readonly outputAmp: number;
  readonly chainAmp: number;
};

const chainCoilCount = elements.length + 1;
const chainOhm = relay.coilOhm / chainCoilCount;
const chainHenry = assumedCoilHenry / chainCoilCount;
/** 5 VL: what holds it up beside the chain, and what hangs on it; typical. */
const RAIL_FARAD = 470e-6;
const RAIL_OHM = 50;
const SUPPLY_OHM = 0.15;
const LOGIC_AMP = 0.03;
const OFF_OHM = 1e7;
const SWITCH_OHM = 0.1;
const STEP_MS = 0.05;
/** Schottky diodes as a knee and a slope, two-way suppressors as a knee; typical, from memory. */
const SCHOTTKY = { volt: 0.28, ohm: 0.1 };
const CLAMP = { volt: 13, ohm: 0.3 };

type Diode = readonly [from: string, to: string];
const DIODES: readonly Diode[] = [
  ['5 VL', '5 VH'],
  ['5 VL', 'CHARGE'],
  ['RESERVOIR', '5 VH'],
];
const RAILS = ['OUTPUT-RAIL', 'CHAIN-RAIL'] as const;

type Storage = { railVolt: number; reservoirVolt: number; outputAmp: number; chainAmp: number };

/** An inductor and its resistance over one step. Source: backward Euler, i = (v + L/h i0) / (R + L/h). */
function coil(network: Network, rail: string, [ohm, henry, amp]: readonly [number, number, number]): void {
  const perStep = henry / (STEP_MS / 1000);
  network.source(rail, COMMON, { volt: -perStep * amp, ohm: ohm + perStep });
}

const isSame = (one: readonly boolean[], two: readonly boolean[]): boolean =>
  one.every((value, index) => value === two[index]);

/** One step of the drawn circuit, its diodes and clamps found by trying until none changes. */
function step(story: SupplyStory, ms: number, stored: Storage): (node: string) => number {
  const reservoirFarad = valueOf('C52') * (1 + story.capacitorError);
  let conducting = DIODES.map(() => true);
  let clamped = RAILS.map(() => false);
  for (;;) {
    const network = new Network();
    const capacitor = (node: string, farad: number, volt: number): Network =>
      network.source(node, COMMON, { volt, ohm: STEP_MS / 1000 / farad });
    const isAlive = ms < story.aliveEndsMs;
    const isHeld = ms < story.aliveEndsMs + story.holdMs;
    if (ms < story.supplyGoneMs) network.source('5 VL', COMMON, { volt: story.supplyVolt, ohm: SUPPLY_OHM });
    capacitor('5 VL', RAIL_FARAD, stored.railVolt).resistor('5 VL', COMMON, RAIL_OHM);
    capacitor('RESERVOIR', reservoirFarad, stored.reservoirVolt);
    network.resistor('CHARGE', 'RESERVOIR', valueOf('R59')).current('5 VH', -LOGIC_AMP);
    DIODES.forEach(([from, to], index) =>
      conducting[index] === true ? network.source(from, to, SCHOTTKY) : network.resistor(from, to, OFF_OHM),
    );
    network.resistor('5 VL', 'OUTPUT-RAIL', isAlive ? SWITCH_OHM : OFF_OHM);
    network.resistor('5 VH', 'CHAIN-RAIL', isHeld ? SWITCH_OHM : OFF_OHM);
    RAILS.forEach((rail, index) => {
      if (clamped[index] === true) network.source(rail, COMMON, { volt: -CLAMP.volt, ohm: CLAMP.ohm });
    });
    coil(network, 'OUTPUT-RAIL', [outputRelay.coilOhm, assumedCoilHenry, stored.outputAmp]);
    coil(network, 'CHAIN-RAIL', [chainOhm, chainHenry, stored.chainAmp]);
    const volt = network.solve();
    const nowConducting = DIODES.map(([from, to]) => volt(from) - volt(to) > SCHOTTKY.volt);
    const nowClamped = RAILS.map((rail) => volt(rail) < -CLAMP.volt);
    const isSettled = isSame(conducting, nowConducting) && isSame(clamped, nowClamped);
    if (isSettled) return volt;
    [conducting, clamped] = [nowConducting, nowClamped];
  }
}

/** Runs the two coil supplies with every coil on, from rest, and answers one sample a step. */
export function runSupplies(story: SupplyStory, untilMs: number): SupplySample[] {
  const stored: Storage = { ...rested(story) };
  const samples: SupplySample[] = [];
  for (let ms = 0; ms <= untilMs; ms += STEP_MS) {
    const volt = step(story, ms, stored);
    const advanced = (rail: string, [ohm, henry, amp]: readonly [number, number, number]): number => {
      const perStep = henry / (STEP_MS / 1000);
      return (volt(rail) + perStep * amp) / (ohm + perStep);
    };
    stored.outputAmp = advanced('OUTPUT-RAIL', [outputRelay.coilOhm, assumedCoilHenry, stored.outputAmp]);
    stored.chainAmp = advanced('CHAIN-RAIL', [chainOhm, chainHenry, stored.chainAmp]);
    stored.railVolt = volt('5 VL');
    stored.reservoirVolt = volt('RESERVOIR');
    samples.push({
      ms,
      heldVolt: volt('5 VH'),
      chainVolt: volt('CHAIN-RAIL'),
      outputAmp: stored.outputAmp,
      chainAmp: stored.chainAmp,
    });
  }
  return samples;
}

/** Everything charged and every coil on, as after seconds of rest. */
function rested({ supplyVolt }: SupplyStory): Storage {
  const railVolt = supplyVolt - SUPPLY_OHM * 0.55;
  const heldVolt = railVolt - SCHOTTKY.volt - SCHOTTKY.ohm * 0.4;
  return {
    railVolt,
    reservoirVolt: railVolt - SCHOTTKY.volt,
    outputAmp: railVolt / (outputRelay.coilOhm + SWITCH_OHM),
    chainAmp: heldVolt / (chainOhm + SWITCH_OHM),
  };
}
