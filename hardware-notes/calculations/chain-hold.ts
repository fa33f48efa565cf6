import { valueOf } from '../../firmware-ts/board/netlist';
import { chainHold, elements, outputRelay, relay } from '../../firmware-ts/board/reference-design';

/** Length of the second one-shot, ms: factor and R, C tolerances as fractions. */
export function holdMs(factorError: number, resistorError: number, capacitorError: number): number {
  const { lengthFactor } = chainHold;
  const second =
    lengthFactor *
    (1 + factorError) *
    valueOf('R57') *
    (1 + resistorError) *
    valueOf('C51') *
    (1 + capacitorError);
  return 1000 * second;
}

/** Voltage at which coils of this kind certainly stay pulled in, V; typical, from memory. */
export const holdVolt = 5 * chainHold.holdFraction;

/** Forward drop of a 3 A Schottky diode at half an ampere, V; typical, from memory. */
export const schottkyVolt = 0.3;

/** Every coil of the chain, in parallel, ohm. */
const chainOhm = relay.coilOhm / (elements.length + 1);
/** The controller and the logic on 3V3 hang on the same supply; about this, typical. */
const logicAmp = 0.03;

/**
 * How long the reservoir alone holds every coil of the chain, ms, after the box's supply has sunk slowly to where the
 * supervisor acts. Source: C dv/dt = -(v - Vd) / R - I.
 */
export function reservoirHoldMs(capacitorError: number, supervisorError: number): number {
  // The reservoir stands a small diode's drop below 5 VL and gives a large one's more away.
  const startVolt = (chainHold.undervoltMillivolt / 1000) * (1 + supervisorError) - 0.15 - schottkyVolt;
  const farad = valueOf('C52') * (1 + capacitorError);
  const drainVolt = logicAmp * chainOhm;
  return 1000 * chainOhm * farad * Math.log((startVolt + drainVolt) / (holdVolt + drainVolt));
}

/** What K16 needs from the end of its supply until its contact is open, ms. */
export const outputOpensMs = outputRelay.releaseMaxMs;
