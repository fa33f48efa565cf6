import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { someOf } from '../support/deep';
import { electricalTroubles } from './electrical-rules';
import { differences } from './netlist-drawn';
import { readNetlist, type NetlistFile } from './netlist-file';

const place = fileURLToPath(new URL('../../hardware-notes/netlist/box.net', import.meta.url));
const file = readNetlist(readFileSync(place, 'utf8'));

/** The file with one pin on another net: a wire soldered elsewhere. */
function moved({ parts, nets }: NetlistFile, where: string, to: string): NetlistFile {
  const pin = nets.flatMap(({ pins }) => pins).find((each) => `${each.ref}.${each.pin}` === where);
  if (pin === undefined) throw new Error(`the netlist has no ${where}`);
  const without = nets
    .map(({ name, pins }) => ({ name, pins: pins.filter((each) => each !== pin) }))
    .filter(({ pins }) => pins.length > 0);
  const isNew = without.every(({ name }) => name !== to);
  return {
    parts,
    nets: [...without, ...(isNew ? [{ name: to, pins: [] }] : [])].map((net) =>
      net.name === to ? { name: to, pins: [...net.pins, pin] } : net,
    ),
  };
}

const withValue = ({ parts, nets }: NetlistFile, ref: string, value: string): NetlistFile => ({
  parts: parts.map((part) => (part.ref === ref ? { ...part, value } : part)),
  nets,
});

describe('the electrical check', () => {
  it('finds nothing wrong with the circuit', () => {
    expect(electricalTroubles(file)).toEqual([]);
  });

  it('finds nothing wrong with the first build, which has six relays and what belongs to them fewer', () => {
    const first = readNetlist(readFileSync(place.replace('box.net', 'first-build.net'), 'utf8'));
    expect(electricalTroubles(first)).toEqual([]);
    const refs = new Set(first.parts.map(({ ref }) => ref));
    const gone = file.parts.map(({ ref }) => ref).filter((ref) => !refs.has(ref));
    const six = Array.from({ length: 6 }, (_, index) => index + 9);
    const missing = six.flatMap((n) => [
      `R${n}`,
      `K${n}`,
      `Q${n}`,
      `R${100 + n}`,
      `R${120 + n}`,
      `D${n + 1}`,
    ]);
    expect(gone.sort()).toEqual(missing.sort());
    // The chain is one piece: R8 meets the limiter.
    const netsWith = (ref: string): string[] =>
      first.nets.filter(({ pins }) => pins.some((pin) => pin.ref === ref)).map(({ name }) => name);
    expect(netsWith('R15').some((net) => netsWith('R8').includes(net))).toBe(true);
  });

  it.each([
    ['a pull-down with one end in the air', moved(file, 'R125.2', 'air'), /the gate of Q5 is not pulled/],
    ['a pull-down of ten times the value', withValue(file, 'R125', '82 kΩ'), /the gate of Q5 is not pulled/],
    ['a gate chip without its supply', moved(file, 'U7.14', 'air'), /U7 is not powered/],
    ['an amplifier on a net that nothing feeds', moved(file, 'U6.8', 'SOURCE-SET'), /U6 is not powered/],
    ['two outputs on one net', moved(file, 'U9.13', 'TRIP-N'), /TRIP-N is driven by U7 and U9/],
    ['a coil without its clamp', moved(file, 'D6.2', 'CLAMP-BUS'), /K5: its coil has no clamp/],
    [
      'a driver that pulls up instead of down',
      moved(file, 'Q5.1', '5 VL'),
      /K5: its driver is not at common/,
    ],
    ['the two zero volts joined', moved(file, 'R90.2', 'COMMON'), /COMMON meets INPUT-0V/],
    ['a sense clip without its resistor', moved(file, 'X1.1', 'SENDER-SENSE'), /X1 meets J1 without a fuse/],
    ['the suppressor in front of the fuse', moved(file, 'D1.1', 'SENDER'), /suppressor lies behind the fuse/],
    ['a pin that must stay free', moved(file, 'U8.4', 'HOLD'), /HOLD meets a pin that must stay free/],
    ['K16 on the chain’s supply', moved(file, 'K16.A1', 'CHAIN-RAIL'), /K16 hangs on a supply of its own/],
    ['an open drain without pull-up', moved(file, 'R41.2', 'S2'), /S1 is never pulled up/],
    ['a bridged output contact', moved(file, 'R15.1', 'FUSED'), /K16 breaks the whole current/],
    ['a weak pull on the pulse pin', withValue(file, 'R56', '100 kΩ'), /pulse pin is pulled down/],
    ['a missing pull on the trip line', withValue(file, 'R72', '470 kΩ'), /trip line is low/],
    ['a connector pole that leads nowhere', moved(file, 'J3.1', 'air'), /air leads nowhere/],
  ] as const)('finds %s', (_, faulty, sentence) => {
    expect(electricalTroubles(faulty).join('\n')).toMatch(sentence);
  });

  it('finds, together with the drawings, every single wire that is cut', () => {
    const pins = file.nets
      .filter(({ name }) => !name.startsWith('unconnected-'))
      .flatMap(({ pins: all }) => all.map(({ ref, pin }) => `${ref}.${pin}`));
    expect(pins.length).toBeGreaterThan(600);
    const unseen = someOf(pins, 9).filter((pin) => {
      const cut = moved(file, pin, 'air');
      // A net of one pin is the commonest find; without it the others have to see the cut.
      const others = electricalTroubles(cut).filter((trouble) => trouble !== 'air leads nowhere');
      return others.length === 0 && differences(cut).length === 0;
    });
    // Bypass capacitors, plugs and the second of two parts drawn as one: there the net of one pin is what tells.
    expect(unseen.filter((pin) => !/^(C1\d\d|C94|R16B|NT1|J[1-6])\./.test(pin))).toEqual([]);
  });
});
