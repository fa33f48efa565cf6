import { meterChannels } from '../reference-design';
import { Random } from './random';

type DividerName = 'terminal' | 'supply' | 'groundSense' | 'groundOffset';

/** Tolerance of the divider resistors, and the resistor in the sleeve of a sense lead, as hardware-notes/ has them. */
const PART_FRACTION = 0.01;
const MEGOHM = { upper: 10, lower: 1, ground: 1, sleeve: 0.01 } as const;
/** Zero of the current channel, half width: four resistors of 0.1 % that divide the bias. */
const CURRENT_ZERO_MICROAMP = 1_800;
/** Makes the parts of the meter others than those of the chain, which is drawn from the same seed. */
const METER_SEED = 0x4d45;

const BIAS_MICROVOLT = meterChannels.terminal.offset;

/** The meter's resistors as soldered: dividers that end on bias, and the zero of the current channel. */
export class SimulatedFrontEnd {
  readonly currentZeroMicroamp: number;
  /** Each divider's ratio as a part of the nominal one. */
  readonly #scale: Readonly<Record<DividerName, number>>;
  readonly #leakMicrovolt: number;

  /** `leakMicrovolt`: what clamp diodes and amplifier draw through the terminal divider, as volts at the clip. */
  constructor(seed: number, leakMicrovolt: number) {
    const random = new Random(seed + METER_SEED);
    const part = (megohm: number): number => megohm * (1 + random.between(-PART_FRACTION, PART_FRACTION));
    const scaleOf = (name: DividerName, upper: number, sleeve: number): number => {
      const lower = part(MEGOHM.lower);
      return (meterChannels[name].scale * lower) / (part(upper) + sleeve + lower);
    };
    this.#scale = {
      terminal: scaleOf('terminal', MEGOHM.upper, MEGOHM.sleeve),
      supply: scaleOf('supply', MEGOHM.upper, MEGOHM.sleeve),
      groundSense: scaleOf('groundSense', MEGOHM.ground, 0),
      groundOffset: scaleOf('groundOffset', MEGOHM.ground, MEGOHM.sleeve),
    };
    this.currentZeroMicroamp = random.between(-CURRENT_ZERO_MICROAMP, CURRENT_ZERO_MICROAMP);
    this.#leakMicrovolt = leakMicrovolt;
  }

  /** What a channel shows, by its nominal law, of a voltage at its clip. */
  shownMicrovolt(name: DividerName, microvolt: number): number {
    const shown = BIAS_MICROVOLT + (microvolt - BIAS_MICROVOLT) * this.#scale[name];
    return name === 'terminal' ? shown + this.#leakMicrovolt : shown;
  }
}
