import { elements, outputRelay, relay } from '../../firmware-ts/board/reference-design';

/** Inductance assumed for a small 5 V relay coil, henry; the first build measures it. */
export const assumedCoilHenry = 0.15;

/** Share of the working current at which the armature lets go; typical, from memory. */
const releaseFraction = 0.2;

/**
 * Time for the coil current to fall from its working value to the release value against a clamp, ms; the armature's
 * flight comes on top. Source: L di/dt = -(R i + Vc), so t = L/R ln((R I + Vc) / (R i + Vc)).
 */
export function currentDecayMs(coilOhm: number, clampVolt: number): number {
  const supplyVolt = 5;
  const from = supplyVolt + clampVolt;
  const to = supplyVolt * releaseFraction + clampVolt;
  return ((1000 * assumedCoilHenry) / coilOhm) * Math.log(from / to);
}

/** Energy in all coils together when every relay is on, millijoule. Source: E = L I^2 / 2. */
export function coilMillijoule(): number {
  const signalAmp = relay.coilMilliamp / 1000;
  const outputAmp = outputRelay.coilMilliamp / 1000;
  return 500 * assumedCoilHenry * ((elements.length + 1) * signalAmp ** 2 + outputAmp ** 2);
}
