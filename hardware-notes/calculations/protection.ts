import {
  deadMan,
  elements,
  hardwareTrip,
  limits,
  outputRelay,
  path,
  type LadderElement,
} from '../../firmware-ts/board/reference-design';
import { floorOhm } from './circuits';

/**
 * Load dump as ISO 16750-2 test A describes it: an exponential from the peak to the supply, one tenth left after
 * the stated time. Values from articles and tables of contents, not from the standard's text.
 */
export type LoadDump = { readonly peakVolt: number; readonly sourceOhm: number; readonly durationMs: number };

export const loadDumps: readonly LoadDump[] = [
  { peakVolt: 101, sourceOhm: 0.5, durationMs: 400 },
  { peakVolt: 101, sourceOhm: 4, durationMs: 400 },
  { peakVolt: 79, sourceOhm: 0.5, durationMs: 40 },
  { peakVolt: 79, sourceOhm: 4, durationMs: 40 },
];

const supplyVolt = 13.5;

/** Volts across the clamp while it works: the breakdown of a 33 V part, from memory; 36 V as a round figure. */
export const clampVolt = 36;

/**
 * Energy a clamp takes from a load dump through a series resistance, joule.
 * Source: integral of Vc (V(t) - Vc) / R while V(t) > Vc, V(t) = Vs + (Vp - Vs) exp(-t / tau), tau = td / ln 10.
 */
export function clampJoule(dump: LoadDump, seriesOhm: number): number {
  const tau = dump.durationMs / 1000 / Math.LN10;
  const swing = dump.peakVolt - supplyVolt;
  const over = clampVolt - supplyVolt;
  const time = tau * Math.log(swing / over);
  const voltSeconds = swing * tau * (1 - over / swing) - over * time;
  return (clampVolt * voltSeconds) / (dump.sourceOhm + seriesOhm);
}

export const clampPeakAmp = (dump: LoadDump, seriesOhm: number): number =>
  (dump.peakVolt - clampVolt) / (dump.sourceOhm + seriesOhm);

/** What a 1500 W part bears once: 1500 W at the 10/1000 us test wave, whose energy is about 1.4 W s per kW. */
export const suppressorJoule = (path.suppressor.peakWatt / 1000) * 1.4;

/**
 * The worst that can happen with the limiter bypassed: the gauge shorts and a stiff supply meets one small element.
 * Until the hardware trip has opened the output contact the element takes `joule`; the fuse melts meanwhile if
 * `fuseMs` is shorter. Source: P = I^2 R, fuse by its melting integral.
 */
export function suddenShort(element: LadderElement): {
  readonly amp: number;
  readonly watt: number;
  readonly openMs: number;
  readonly fuseMs: number;
  readonly joule: number;
} {
  const ohm = element.nominalMilliohm / 1000;
  const amp = limits.supplyMaxMillivolt / 1000 / (floorOhm() + ohm);
  const openMs = hardwareTrip.atOnce.delayMaxMs + outputRelay.releaseMaxMs;
  const fuseMs = (path.fuse.meltingAmpSquaredSecond / (amp * amp)) * 1000;
  const watt = amp * amp * ohm;
  return { amp, watt, openMs, fuseMs, joule: (watt * openMs) / 1000 };
}

export const smallElements = elements.slice(0, 6);

/** One-shot length at the corners of its parts, ms: factor and R, C tolerances as fractions. */
export function oneShotMs(factorError: number, resistorError: number, capacitorError: number): number {
  const { lengthFactor, timingKilohm, timingMicrofarad } = deadMan;
  return (
    lengthFactor *
    (1 + factorError) *
    timingKilohm *
    (1 + resistorError) *
    timingMicrofarad *
    (1 + capacitorError)
  );
}
