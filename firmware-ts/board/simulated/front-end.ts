import { COMMON, amplifierParts, partNamed, senseParts } from '../netlist';
import type { Part } from '../netlist';
import { converter, meterChannels } from '../reference-design';
import { Network } from './network';
import { Random } from './random';

type DividerName = 'terminal' | 'supply' | 'groundSense' | 'groundOffset';

/** Voltages at the two ends of what a difference amplifier looks at. */
type Ends = { readonly top: number; readonly foot: number };
type FourNames = readonly [string, string, string, string];

/** Clip and middle of each sense lead, as the netlist names them. */
export const senseLeads = {
  terminal: { clip: 'SENDER', middle: 'TERMINAL-IN' },
  supply: { clip: 'FEED', middle: 'SUPPLY-IN' },
  groundSense: { clip: 'GROUND', middle: 'GROUND-IN' },
  groundOffset: { clip: 'BATTERY-NEG', middle: 'OFFSET-IN' },
} as const satisfies Record<DividerName, { readonly clip: string; readonly middle: string }>;

export const BIAS_VOLT = converter.fullScaleMicrovolt / 1e6;
/** Amplifiers on 5 VA swing no further than this. */
const SWING = { low: 0.05, high: 4.91 } as const;
/** Clamp diodes and buffer of an input, half width: 50 pA, as hardware-notes/parts.md asks for. */
const LEAK_AMP = 50e-12;
/** Zero-drift amplifiers, half width: typical, from memory. */
const OFFSET_VOLT = 10e-6;
/** Makes the parts of the meter others than those of the chain, which is drawn from the same seed. */
const METER_SEED = 0x4d45;
const MICRO = 1e6;
const STIFF_OHM = 1e-3;

/** The meter's parts as soldered in one box: every resistor of the netlist inside its tolerance, leaks and offsets. */
export class SimulatedFrontEnd {
  readonly #ohm: ReadonlyMap<string, number>;
  readonly #leakAmp: Readonly<Record<DividerName, number>>;
  readonly #offsetVolt: readonly [current: number, reference: number];

  constructor(seed: number) {
    const random = new Random(seed + METER_SEED);
    const drawn = ({ name, value, tolerance }: Part): [string, number] => [
      name,
      value * (1 + random.between(-tolerance, tolerance)),
    ];
    this.#ohm = new Map([...senseParts, ...amplifierParts, partNamed('R17'), partNamed('R18')].map(drawn));
    const leak = (): number => random.between(-LEAK_AMP, LEAK_AMP);
    this.#leakAmp = { terminal: leak(), supply: leak(), groundSense: leak(), groundOffset: leak() };
    this.#offsetVolt = [random.between(-OFFSET_VOLT, OFFSET_VOLT), random.between(-OFFSET_VOLT, OFFSET_VOLT)];
  }

  /** What the part of this box really has, ohm. */
  ohm(name: string): number {
    return this.#ohm.get(name) ?? partNamed(name).value;
  }

  /** Puts the four sense leads with their dividers and leaks into a network. */
  addSenseLeads(network: Network): void {
    for (const { name, from, to } of senseParts) {
      if (name.startsWith('C')) continue;
      if (to === 'BIAS') network.source(from, COMMON, { volt: BIAS_VOLT, ohm: this.ohm(name) });
      else network.resistor(from, to, this.ohm(name));
    }
    for (const name of ['terminal', 'supply', 'groundSense', 'groundOffset'] as const)
      network.current(senseLeads[name].middle, this.#leakAmp[name]);
  }

  /** V-CURRENT against BIAS for a voltage across the shunt, volt. */
  currentVolt(shuntVolt: number): number {
    return this.#difference({ top: shuntVolt, foot: 0 }, ['R30', 'R31', 'R32', 'R33']) + this.#offsetVolt[0];
  }

  /** V-REFERENCE against BIAS for the voltages at both ends of the ohmmeter's reference, volt. */
  referenceVolt(ends: Ends): number {
    return this.#difference(ends, ['R34', 'R35', 'R36', 'R37']) + this.#offsetVolt[1];
  }

  /** What the current channel shows, by its nominal law, of no current at all. */
  get currentZeroMicroamp(): number {
    return this.currentVolt(0) * MICRO * meterChannels.current.scale;
  }

  /** What a channel shows, by its nominal law, of a voltage at its clip. */
  shownMicrovolt(name: DividerName, microvolt: number): number {
    const { clip, middle } = senseLeads[name];
    const network = new Network();
    this.addSenseLeads(network);
    network.source(clip, COMMON, { volt: microvolt / MICRO, ohm: STIFF_OHM });
    const { scale, offset } = meterChannels[name];
    return (network.solve()(middle) - BIAS_VOLT) * MICRO * scale + offset;
  }

  /** A difference amplifier of four resistors. Source: both inputs of the amplifier at one voltage. */
  #difference({ top, foot }: Ends, [plus, minus, bias, output]: FourNames): number {
    const plusVolt = (top * this.ohm(bias) + BIAS_VOLT * this.ohm(plus)) / (this.ohm(plus) + this.ohm(bias));
    const gain = this.ohm(output) / this.ohm(minus);
    const outVolt = plusVolt * (1 + gain) - foot * gain;
    return Math.max(SWING.low, Math.min(SWING.high, outVolt)) - BIAS_VOLT;
  }
}
