import {
  converter,
  elements,
  meterChannels,
  ohmmeter,
  outputRelay,
  relay,
  senseLoadMilliohm,
  type LadderElement,
} from '../../firmware-ts/board/reference-design';
import { ON_SAMPLES } from '../../firmware-ts/meter/kelvin';

/** Which of the two currents measures an element, and how well noise lets it: standard deviation, milliohm. */
export function elementNoise(element: LadderElement): {
  readonly microamp: number;
  readonly milliohm: number;
} {
  const range = element.nominalMilliohm < ohmmeter.high.maxMilliohm ? ohmmeter.high : ohmmeter.low;
  const oneMicrovolt = converter.noiseMicrovoltRms * meterChannels.terminal.scale;
  // An element is the difference of two means with the source on: shorted, and inserted.
  const differenceMicrovolt = oneMicrovolt * Math.sqrt(2 / ON_SAMPLES);
  return { microamp: range.microamp, milliohm: (differenceMicrovolt / range.microamp) * 1000 };
}

/** Noise of the whole ladder's sum when every element was measured so, milliohm. */
export function ladderNoiseMilliohm(): number {
  return Math.sqrt(elements.reduce((sum, element) => sum + elementNoise(element).milliohm ** 2, 0));
}

/** How far the sense divider pulls the terminals down at a resistance, milliohm. Source: parallel resistors. */
export const loadingMilliohm = (milliohm: number): number => milliohm ** 2 / (senseLoadMilliohm + milliohm);

/**
 * The rows are measured one by one, each under the divider's load; in use the load lies across their sum. By this much
 * the sum of all rows exceeds what the terminals show, milliohm.
 */
export function loadingMismatchMilliohm(): number {
  const total = elements.reduce((sum, element) => sum + element.nominalMilliohm, 0);
  const apart = elements.reduce((sum, element) => sum + loadingMilliohm(element.nominalMilliohm), 0);
  return loadingMilliohm(total) - apart;
}

/** Time constant of an input: the two divider resistors in parallel with the filter capacitor, ms. */
export const inputTimeConstantMs = (upperMegohm: number, lowerMegohm: number, nanofarad: number): number =>
  (nanofarad * upperMegohm * lowerMegohm) / (upperMegohm + lowerMegohm);

/** Coil current with every relay on, mA. */
export const allCoilsMilliamp = (elements.length + 1) * relay.coilMilliamp + outputRelay.coilMilliamp;

/**
 * How well one pair of simultaneous conversions gives the resistance at the terminals, as far as noise goes: standard
 * deviation, ohm. Source: R = V / I, first order, independent noise in V and I.
 */
export function liveNoiseOhm(openVolt: number, sourceOhm: number, ohm: number): number {
  const amp = openVolt / (sourceOhm + ohm);
  const voltNoise = (converter.noiseMicrovoltRms * meterChannels.terminal.scale) / 1e6;
  const ampNoise = (converter.noiseMicrovoltRms * meterChannels.current.scale) / 1e6;
  return Math.hypot(voltNoise, ohm * ampNoise) / amp;
}
