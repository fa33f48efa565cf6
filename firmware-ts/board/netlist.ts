import { deadMan, chainHold, elements, path } from './reference-design';

/**
 * The passive parts of the drawn circuit and the nodes they lie between, as on the sheets of hardware-notes/. The drawings
 * take their values from here, and the simulated board solves this same network by nodes: it knows nothing of the laws
 * that the firmware believes in.
 */
export type Part = {
  readonly name: string;
  readonly from: string;
  readonly to: string;
  /** Ohm, or farad for a name that begins with C. */
  readonly value: number;
  /** Half width of what the part may be, as a part of its value. */
  readonly tolerance: number;
};

type Ends = readonly [from: string, to: string];

const part = (name: string, [from, to]: Ends, value: number, tolerance: number): Part => ({
  name,
  from,
  to,
  value,
  tolerance,
});

/** Box common: the node that every voltage of the box counts from. */
export const COMMON = 'COMMON';

/** A sense lead: 10 kohm in the clip's sleeve, divider to BIAS, filter; the middle is what the buffer sees. */
const sense = (
  clip: string,
  middle: string,
  [sleeve, upper, lower, filter]: readonly [string, string, string, string],
  upperOhm: number,
): Part[] => [
  part(sleeve, [clip, `${clip}-SENSE`], 10e3, 0.01),
  part(upper, [`${clip}-SENSE`, middle], upperOhm, 0.01),
  part(lower, [middle, 'BIAS'], 1e6, 0.01),
  part(filter, [middle, COMMON], 1e-9, 0.05),
];

/** Four-resistor difference amplifier: names of the two inputs' resistors, then of the one to BIAS and the one to the output. */
const difference = (
  name: string,
  [plus, minus, out]: readonly [string, string, string],
  names: readonly [string, string, string, string],
  [inputOhm, feedbackOhm, tolerance]: readonly [number, number, number],
): Part[] => [
  part(names[0], [plus, `${name}-PLUS`], inputOhm, tolerance),
  part(names[1], [minus, `${name}-MINUS`], inputOhm, tolerance),
  part(names[2], [`${name}-PLUS`, 'BIAS'], feedbackOhm, tolerance),
  part(names[3], [`${name}-MINUS`, out], feedbackOhm, tolerance),
];

/** R34 to R37 are one network whose ratios are good to 0.01 %: each of them is inside half of that. */
const NETWORK_RATIO = 0.00005;

export const senseParts: readonly Part[] = [
  ...sense('SENDER', 'TERMINAL-IN', ['R65', 'R20', 'R21', 'C20'], 10e6),
  ...sense('FEED', 'SUPPLY-IN', ['R66', 'R22', 'R23', 'C21'], 10e6),
  ...sense('GROUND', 'GROUND-IN', ['R67', 'R24', 'R25', 'C22'], 1e6),
  ...sense('BATTERY-NEG', 'OFFSET-IN', ['R68', 'R26', 'R27', 'C23'], 1e6),
];

export const amplifierParts: readonly Part[] = [
  ...difference(
    'CURRENT',
    ['SHUNT+', 'SHUNT-', 'V-CURRENT'],
    ['R30', 'R31', 'R32', 'R33'],
    [10e3, 40.2e3, 0.001],
  ),
  ...difference(
    'REFERENCE',
    ['TOP-BUFFERED', 'FOOT-BUFFERED', 'V-REFERENCE'],
    ['R34', 'R35', 'R36', 'R37'],
    [100e3, 100e3, NETWORK_RATIO],
  ),
];

export const tripParts: readonly Part[] = [
  part('R38', ['5 VA', 'AT-ONCE-HIGH'], 1e3, 0.01),
  part('R39', ['AT-ONCE-HIGH', 'SLOW-HIGH'], 2.67e3, 0.01),
  part('R43', ['SLOW-HIGH', 'BIAS'], 1.78e3, 0.01),
  part('R44', ['BIAS', 'SLOW-LOW'], 1.78e3, 0.01),
  part('R45', ['SLOW-LOW', 'AT-ONCE-LOW'], 2.67e3, 0.01),
  part('R40', ['AT-ONCE-LOW', COMMON], 1.1e3, 0.01),
  part('R46', ['V-CURRENT', 'I-SLOW'], 820e3, 0.01),
  part('C24', ['I-SLOW', 'BIAS'], 1e-6, 0.1),
];

/** From the SENDER clip to box common with every contact open, and box common to the GROUND clip. */
export const pathParts: readonly Part[] = [
  part('F1', ['SENDER', 'FUSED'], path.fuse.coldMilliohm / 1000, 0.2),
  part('R15', ['BEHIND-K16', 'CHAIN-14'], path.limiter.milliohm / 1000, path.limiter.tolerancePercent / 100),
  ...elements
    .map(({ name, nominalMilliohm, tolerancePercent }, index) =>
      part(
        name,
        [`CHAIN-${index + 1}`, index === 0 ? 'SHUNT+' : `CHAIN-${index}`],
        nominalMilliohm / 1000,
        tolerancePercent / 100,
      ),
    )
    .reverse(),
  part('R16', ['SHUNT+', COMMON], path.shunt.milliohm / 1000, path.shunt.tolerancePercent / 100),
  part('F4', [COMMON, 'GROUND'], path.groundFuse.coldMilliohm / 1000, 0.5),
];

export const supplyParts: readonly Part[] = [
  part('R50', ['3V3', 'U8A-RC'], deadMan.timingKilohm * 1e3, 0.01),
  part('C50', ['U8A-RC', 'U8A-C'], deadMan.timingMicrofarad * 1e-6, 0.05),
  part('R57', ['3V3', 'U8B-RC'], chainHold.timingKilohm * 1e3, 0.01),
  part('C51', ['U8B-RC', 'U8B-C'], chainHold.timingMicrofarad * 1e-6, 0.05),
  part('R59', ['CHARGE', 'RESERVOIR'], 22, 0.05),
  part(
    'C52',
    ['RESERVOIR', COMMON],
    chainHold.reservoirMicrofarad * 1e-6,
    chainHold.reservoirTolerancePercent / 100,
  ),
  part('R63', ['OUTPUT-RAIL', 'RAIL-SENSE'], 20e3, 0.01),
  part('R54', ['CHAIN-RAIL', 'RAIL-SENSE'], 20e3, 0.01),
  part('R55', ['RAIL-SENSE', COMMON], 10e3, 0.01),
];

export const sourceParts: readonly Part[] = [
  part('R94', ['REF-TOP', 'SOURCE-SET'], 10e3, 0.01),
  part('R95', ['SOURCE-SET', COMMON], 90.9e3, 0.01),
  part('R17', ['REF-TOP', 'REF-FOOT'], 1000, 0.001),
  part('R18', ['REF-HIGH', 'REF-FOOT'], 52.3, 0.001),
];

/** Every part of the netlist. */
export const netlist: readonly Part[] = [
  ...senseParts,
  ...amplifierParts,
  ...tripParts,
  ...pathParts,
  ...supplyParts,
  ...sourceParts,
];

/** A part by its name. Throws for a name that is not in the netlist. */
export function partNamed(name: string): Part {
  const found = netlist.find((candidate) => candidate.name === name);
  if (found === undefined) throw new Error(`the netlist has no ${name}`);
  return found;
}

/** Value of a part by its name: ohm or farad. Throws for a name that is not in the netlist. */
export const valueOf = (name: string): number => partNamed(name).value;
