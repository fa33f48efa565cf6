import { describe, expect, it } from 'vitest';
import { COMMON, netlist, partNamed, pathParts, valueOf } from '../../firmware-ts/board/netlist';
import {
  chainHold,
  converter,
  deadMan,
  elements,
  hardwareTrip,
  meterChannels,
  ohmmeter,
} from '../../firmware-ts/board/reference-design';
import { Comparators } from '../../firmware-ts/board/simulated/comparators';
import { ElectricalWorld } from '../../firmware-ts/board/simulated/electrical';
import type { HookUp } from '../../firmware-ts/board/simulated/electrical';
import { SimulatedFrontEnd } from '../../firmware-ts/board/simulated/front-end';
import { Network } from '../../firmware-ts/board/simulated/network';
import { RATIO_UNCERTAINTY } from '../../firmware-ts/meter/kelvin';
import { isOpenClip } from '../../firmware-ts/meter/open-clip';
import { drawAll } from '../../hardware-notes/draw/drawings';
import { ohmText, partOhmText } from '../../hardware-notes/draw/format';
import { expandReferences } from '../../hardware-notes/draw/part-rows';
import { partGroups } from '../../hardware-notes/draw/parts';

const SEEDS = Array.from({ length: 20 }, (_, index) => index + 1);
const isElement = (name: string): boolean => elements.some((element) => element.name === name);

/** How the drawings write a value. */
function valueText(name: string): string {
  const value = valueOf(name);
  if (name.startsWith('C')) return value < 1e-6 ? `${value * 1e9} nF` : `${Math.round(value * 1e6)} µF`;
  if (isElement(name) || name === 'R15' || name === 'R16') return ohmText(value * 1000);
  return partOhmText(value);
}

describe('the netlist and the drawings', () => {
  const texts = drawAll().flatMap(([, svg]) =>
    [...svg.matchAll(/<text [^>]*>([^<]*)<\/text>/g)].map((match) => match[1] ?? ''),
  );
  const fuses = ['F1', 'F4'];

  it.each(netlist.filter(({ name }) => !fuses.includes(name)).map(({ name }) => name))(
    '%s is drawn with the value it has in the netlist',
    (name) => {
      const beside = texts.filter((_, index) => texts[index - 1] === name);
      expect(
        beside.some((text) => text.includes(valueText(name))),
        `${beside.join()}: ${valueText(name)}`,
      ).toBe(true);
    },
  );

  it('name every part once, and every one of them is in the parts list', () => {
    const names = netlist.map(({ name }) => name);
    expect(new Set(names).size).toBe(names.length);
    const listed = partGroups.flatMap(([, lines]) =>
      lines.flatMap(({ references }) => expandReferences(references)),
    );
    expect(names.filter((name) => !listed.includes(name))).toEqual([]);
  });

  it('have the chain in one piece: every node of it joins two parts', () => {
    const ends = pathParts.flatMap(({ from, to }) => [from, to]).filter((node) => node.startsWith('CHAIN-'));
    expect(ends).toHaveLength(2 * elements.length);
    for (const node of ends) expect(ends.filter((other) => other === node)).toHaveLength(2);
  });
});

describe('the solver of networks', () => {
  it('gives the voltages of a bridge that has a closed form', () => {
    // Wheatstone's bridge, 10 V, 1 and 2 ohm, 3 and 4 ohm, nothing across: 20/3 V and 40/7 V.
    const volt = new Network()
      .source('top', COMMON, { volt: 10, ohm: 1e-9 })
      .resistor('top', 'left', 1)
      .resistor('left', COMMON, 2)
      .resistor('top', 'right', 3)
      .resistor('right', COMMON, 4)
      .solve();
    expect(volt('left')).toBeCloseTo(20 / 3, 6);
    expect(volt('right')).toBeCloseTo(40 / 7, 6);
  });

  it('refuses a node that hangs in the air', () => {
    expect(() => new Network().resistor('a', 'b', 1).solve()).toThrow(/no way to common/);
  });
});

const solved = (seed: number, hookUp: HookUp, pathOhm = Infinity) => {
  const frontEnd = new SimulatedFrontEnd(seed);
  const volts = new ElectricalWorld(frontEnd).solve({ pathOhm, source: 'off', hookUp });
  const reading = (volts.middle.terminal - converter.fullScaleMicrovolt / 1e6) * 1e6;
  const { scale, offset } = meterChannels.terminal;
  return { volts, shownMicrovolt: reading * scale + offset };
};

describe('a SENDER clip that hangs free', () => {
  it.each(SEEDS)('reads about 2.5 V on box %d, which the box takes for an open clip', (seed) => {
    const { shownMicrovolt } = solved(seed, { kind: 'free' });
    expect(shownMicrovolt / 1e6).toBeGreaterThan(2.3);
    expect(shownMicrovolt / 1e6).toBeLessThan(2.6);
    expect(isOpenClip(shownMicrovolt)).toBe(true);
  });

  it('goes to 0 V through the limiter, up to what 1 % parts leave of the divider', () => {
    for (const seed of SEEDS)
      expect(Math.abs(solved(seed, { kind: 'free' }, 48).shownMicrovolt)).toBeLessThan(50_000);
  });

  it('on a post with the output open is an open clip as well', () => {
    for (const seed of SEEDS)
      expect(isOpenClip(solved(seed, { kind: 'posts', isBatteryClipOn: true }).shownMicrovolt)).toBe(true);
  });

  it('is told from a gauge without a feed and from one with it', () => {
    const circuit = { sourceOhm: 58, feedVolt: 12, groundOffsetVolt: 0.004, isReversed: false };
    for (const openVolt of [0, 7.2, 14.4]) {
      const { shownMicrovolt } = solved(3, { kind: 'vehicle', circuit: { ...circuit, openVolt } });
      expect(isOpenClip(shownMicrovolt), `${openVolt} V`).toBe(false);
    }
    expect(isOpenClip(NaN)).toBe(false);
  });
});

describe('the ohmmeter’s reference', () => {
  const spread = partNamed('R34').tolerance;

  /** What U2c makes of the ends of the reference, worst set of a network whose resistors are off by `part`. */
  const worstVolt = (top: number, foot: number, part: number): number => {
    const [plus, bias, minus, out] = [1 - part, 1 + part, 1 + part, 1 - part];
    const middle = (top * bias + 2.5 * plus) / (plus + bias);
    return middle * (1 + out / minus) - foot * (out / minus) - 2.5;
  };

  it('is read inside the stated uncertainty though its amplifier sees volts in common', () => {
    const across = sourceVolt;
    const on = worstVolt(4.93, 4.93 - across, spread);
    const off = worstVolt(0.25, 0.25, spread);
    const error = (on - off) / across - 1;
    // Reference 0.1 %, this, and 0.02 % of leakage are limits, evenly spread: their standard uncertainties add in squares.
    const standard = Math.hypot(ohmmeter.referenceTolerancePercent / 100, error, 0.0002) / Math.sqrt(3);
    expect(standard).toBeLessThan(1.2 * RATIO_UNCERTAINTY);
    const coarse = (worstVolt(4.93, 4.93 - across, 0.00025) - worstVolt(0.25, 0.25, 0.00025)) / across - 1;
    expect(Math.abs(coarse)).toBeGreaterThan(0.004);
  });

  it('would lend the post 11 uA with the source off if only its foot had a follower', () => {
    const volt = new Network()
      .source('REF-TOP', COMMON, { volt: 0.25, ohm: valueOf('R17') })
      .resistor('REF-TOP', 'PLUS', valueOf('R34'))
      .source('PLUS', COMMON, { volt: 2.5, ohm: valueOf('R36') })
      .solve();
    const microamp = ((volt('REF-TOP') - 0.25) / valueOf('R17')) * 1e6;
    expect(microamp).toBeCloseTo(11.2, 1);
    // Rows from R11 up are the difference of two states, and the off state belongs to only one of them.
    expect(microamp / ohmmeter.low.microamp).toBeGreaterThan(0.02);
  });
});

/** What R94 and R95 leave across the reference, V. */
const sourceVolt = (4.96 * valueOf('R94')) / (valueOf('R94') + valueOf('R95'));

describe('the simulated comparators, from the drawn parts', () => {
  const tripsAt = (milliamp: number, ms: number): boolean => {
    const comparators = new Comparators();
    for (let at = 0; at < ms; at += 1) if (comparators.look(milliamp / 1000, 1)) return true;
    return false;
  };

  it.each([1, -1])('trip where the data say, current times %d', (sign) => {
    const { atOnce, slow } = hardwareTrip;
    expect(tripsAt(sign * (atOnce.milliamp + 10), 1)).toBe(true);
    expect(tripsAt(sign * (atOnce.milliamp - 10), 1)).toBe(false);
    expect(tripsAt(sign * (slow.milliamp + 10), 10_000)).toBe(true);
    expect(tripsAt(sign * (slow.milliamp - 10), 10_000)).toBe(false);
  });

  it('let ten minutes of a 5 V gauge’s battery pulses pass, and end a stabiliser that sticks within 2.5 s', () => {
    const comparators = new Comparators();
    const amp = 14.4 / (12.22 + 10);
    for (let ms = 0; ms < 600_000; ms += 10)
      expect(comparators.look(ms % 1000 < 120 ? amp : 0, 10) ? ms : undefined).toBeUndefined();
    expect(tripsAt((1000 * 14) / (12.22 + 10), 2500)).toBe(true);
  });

  it('have the time constants and lengths of the parts', () => {
    expect(valueOf('R46') * valueOf('C24') * 1000).toBeCloseTo(hardwareTrip.slow.timeConstantMs, 6);
    expect(deadMan.lengthFactor * valueOf('R50') * valueOf('C50') * 1000).toBeCloseTo(deadMan.nominalMs, 0);
    expect(chainHold.lengthFactor * valueOf('R57') * valueOf('C51') * 1000).toBeCloseTo(
      chainHold.nominalMs,
      0,
    );
  });
});
