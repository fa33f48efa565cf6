import { COMMON, valueOf } from '../netlist';
import { groundLead, ohmmeter } from '../reference-design';
import { senseLeads } from './front-end';
import type { SimulatedFrontEnd } from './front-end';
import { Network } from './network';

/** What the ohmmeter's source does: nothing, or one of its two currents. */
export type SourceState = 'off' | 'low' | 'high';

/** A gauge's circuit as the clips meet it, volts against battery negative. */
export type Circuit = {
  readonly openVolt: number;
  readonly sourceOhm: number;
  readonly feedVolt: number;
  /** Battery negative below the place where the GROUND clip sits. */
  readonly groundOffsetVolt: number;
  readonly isReversed: boolean;
};

/** Where the clips are. `posts`: SENDER on CAL +, GROUND on CAL -; `sender`: a sender on the bench between the posts. */
export type HookUp =
  | { readonly kind: 'free' }
  | { readonly kind: 'vehicle'; readonly circuit: Circuit }
  | { readonly kind: 'sender'; readonly ohm: number }
  | { readonly kind: 'posts'; readonly isBatteryClipOn: boolean };

export type Electrical = {
  /** From the SENDER clip through the chain to box common; Infinity while the output is open. */
  readonly pathOhm: number;
  readonly source: SourceState;
  readonly hookUp: HookUp;
};

/** What the amplifiers see, and what flows through the path, positive into SENDER. */
export type Volts = {
  readonly middle: Readonly<Record<keyof typeof senseLeads, number>>;
  readonly senderVolt: number;
  readonly groundVolt: number;
  readonly pathAmp: number;
  readonly postAmp: number;
  readonly referenceEnds: { readonly top: number; readonly foot: number };
};

/** A clip on a stud, a lead at a post. */
const JOINT_OHM = 1e-3;
/** Leakage of the suppressors at the volts they meet here: D1 at the clip, D31 at the post. Typical, from memory. */
const D1_OHM = 5e9;
const D31_OHM = 5e8;
const COMPLIANCE_VOLT = ohmmeter.complianceMillivolt / 1000;
/** Where the source ends: 5 VA less its switches; the post lies a diode below the reference. */
const TOP_VOLT = 4.93;
const DIODE_VOLT = 0.25;
/** What the source's set resistors leave across the reference. Source: R94 over R94 + R95 of 4.96 V. */
const ACROSS_VOLT = (4.96 * valueOf('R94')) / (valueOf('R94') + valueOf('R95'));
const POST = 'CAL+';
/** An ideal voltage in place of the source that has met its end. */
const END_OHM = 0.1;

/** The network around the box at an instant, solved anew only when something in it has changed. */
export class ElectricalWorld {
  readonly #frontEnd: SimulatedFrontEnd;
  #key = '';
  #volts: Volts | undefined;

  constructor(frontEnd: SimulatedFrontEnd) {
    this.#frontEnd = frontEnd;
  }

  /** Reference resistor in use, ohm; the high one lies across the low one. */
  referenceOhm(source: 'low' | 'high'): number {
    const low = this.#frontEnd.ohm('R17');
    const high = this.#frontEnd.ohm('R18');
    return source === 'low' ? low : (low * high) / (low + high);
  }

  solve(state: Electrical): Volts {
    const key = keyOf(state);
    if (this.#volts === undefined || key !== this.#key) {
      this.#volts = this.#solved(state);
      this.#key = key;
    }
    return this.#volts;
  }

  #solved(state: Electrical): Volts {
    const { source, pathOhm } = state;
    const amp = source === 'off' ? 0 : ACROSS_VOLT / this.referenceOhm(source);
    let volt = this.#network(state).current(POST, amp).solve();
    let postAmp = amp;
    if (volt(POST) > COMPLIANCE_VOLT && source !== 'off') {
      volt = this.#network(state).source(POST, COMMON, { volt: COMPLIANCE_VOLT, ohm: END_OHM }).solve();
      postAmp = Math.max(0, (COMPLIANCE_VOLT - volt(POST)) / END_OHM);
    }
    const across = source === 'off' ? 0 : postAmp * this.referenceOhm(source);
    // With the source off its amplifier pulls the foot down to a diode above the post, and nothing flows.
    const top = source === 'off' ? Math.max(0, volt(POST)) + DIODE_VOLT : TOP_VOLT;
    const { terminal, supply, groundSense, groundOffset } = senseLeads;
    return {
      middle: {
        terminal: volt(terminal.middle),
        supply: volt(supply.middle),
        groundSense: volt(groundSense.middle),
        groundOffset: volt(groundOffset.middle),
      },
      senderVolt: volt(terminal.clip),
      groundVolt: volt(groundSense.clip),
      pathAmp: Number.isFinite(pathOhm) ? volt(terminal.clip) / pathOhm : 0,
      postAmp,
      referenceEnds: { top, foot: top - across },
    };
  }

  #network({ pathOhm, hookUp }: Electrical): Network {
    const network = new Network();
    this.#frontEnd.addSenseLeads(network);
    const sender = senseLeads.terminal.clip;
    const ground = senseLeads.groundSense.clip;
    network
      .resistor(sender, COMMON, D1_OHM)
      .resistor(POST, COMMON, D31_OHM)
      .resistor(ground, COMMON, groundLead.milliohm / 1000);
    if (Number.isFinite(pathOhm)) network.resistor(sender, COMMON, pathOhm);
    hook(network, hookUp);
    return network;
  }
}

function hook(network: Network, hookUp: HookUp): void {
  const sender = senseLeads.terminal.clip;
  const ground = senseLeads.groundSense.clip;
  const battery = senseLeads.groundOffset.clip;
  switch (hookUp.kind) {
    case 'free':
      return;
    case 'sender':
      network.resistor(POST, 'SENDER-FOOT', hookUp.ohm).resistor('SENDER-FOOT', COMMON, JOINT_OHM);
      network.resistor(sender, POST, JOINT_OHM).resistor(ground, 'SENDER-FOOT', JOINT_OHM);
      network.resistor(battery, COMMON, JOINT_OHM);
      return;
    case 'posts':
      network.resistor(sender, POST, JOINT_OHM).resistor(ground, COMMON, JOINT_OHM);
      if (hookUp.isBatteryClipOn) network.resistor(battery, COMMON, JOINT_OHM);
      return;
    case 'vehicle': {
      const { openVolt, sourceOhm, feedVolt, groundOffsetVolt, isReversed } = hookUp.circuit;
      const [live, earth] = isReversed ? [ground, sender] : [sender, ground];
      network.source('ENGINE', 'BATTERY', { volt: groundOffsetVolt, ohm: JOINT_OHM });
      network
        .source(live, 'BATTERY', { volt: openVolt, ohm: sourceOhm })
        .resistor(earth, 'ENGINE', JOINT_OHM);
      network.resistor(battery, 'BATTERY', JOINT_OHM);
      network.source(senseLeads.supply.clip, 'BATTERY', { volt: feedVolt, ohm: JOINT_OHM });
    }
  }
}

function keyOf({ pathOhm, source, hookUp }: Electrical): string {
  const where =
    hookUp.kind === 'vehicle'
      ? Object.values(hookUp.circuit).join()
      : hookUp.kind === 'sender'
        ? hookUp.ohm
        : hookUp.kind === 'posts'
          ? hookUp.isBatteryClipOn
          : '';
  return `${pathOhm} ${source} ${hookUp.kind} ${where}`;
}
