import { valueOf } from '../netlist';
import { converter } from '../reference-design';

/** 5 VA of a box as built: 5 VL less what R91 takes. */
const ANALOGUE_VOLT = 4.96;
const BIAS_VOLT = converter.fullScaleMicrovolt / 1e6;
const MS_PER_SECOND = 1000;

const above = (ANALOGUE_VOLT - BIAS_VOLT) / (valueOf('R38') + valueOf('R39') + valueOf('R43'));
const below = BIAS_VOLT / (valueOf('R44') + valueOf('R45') + valueOf('R40'));
const voltPerAmp = (valueOf('R16') * valueOf('R32')) / valueOf('R30');
const TIME_CONSTANT_MS = valueOf('R46') * valueOf('C24') * MS_PER_SECOND;

/** Volts against BIAS at which each pair trips. */
const atOnce = {
  high: above * (valueOf('R39') + valueOf('R43')),
  low: -below * (valueOf('R44') + valueOf('R45')),
};
const slow = { high: above * valueOf('R43'), low: -below * valueOf('R44') };

/** The two pairs of comparators on the shunt, from the parts that are drawn: one at once, one behind a low-pass. */
export class Comparators {
  #slowVolt = 0;

  /** True when one of them sees too much; `amp` has flowed for `elapsedMs`. */
  look(amp: number, elapsedMs: number): boolean {
    const volt = amp * voltPerAmp;
    this.#slowVolt += (volt - this.#slowVolt) * (1 - Math.exp(-elapsedMs / TIME_CONSTANT_MS));
    const isQuiet =
      volt < atOnce.high && volt > atOnce.low && this.#slowVolt < slow.high && this.#slowVolt > slow.low;
    return !isQuiet;
  }
}
