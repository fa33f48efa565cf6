import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { COMMON, netlist } from '../../firmware-ts/board/netlist';
import {
  contactBits,
  converter,
  elements,
  gpioFromContacts,
  groundLead,
  hardwareTrip,
  path,
} from '../../firmware-ts/board/reference-design';
import { SimulatedChain } from '../../firmware-ts/board/simulated/chain';
import { Comparators } from '../../firmware-ts/board/simulated/comparators';
import { SimulatedFrontEnd } from '../../firmware-ts/board/simulated/front-end';
import { Network } from '../../firmware-ts/board/simulated/network';
import { Random } from '../../firmware-ts/board/simulated/random';
import { circuit } from '../../hardware-notes/circuit/circuit';
import { kicadNetlist } from '../../hardware-notes/circuit/kicad-netlist';
import { differences } from './netlist-drawn';
import { expressionOf, readNetlist, valueIn } from './netlist-file';

const place = fileURLToPath(new URL('../../hardware-notes/netlist/box.net', import.meta.url));
const text = readFileSync(place, 'utf8');
const file = readNetlist(text);

/** Nets of a part, each once, in order of its pins. */
const netsOf = (ref: string, names?: readonly string[]): string[] => [
  ...new Set(
    file.nets.flatMap(({ name, pins }) =>
      pins.some((pin) => pin.ref === ref && (names?.includes(pin.name) ?? true)) ? [name] : [],
    ),
  ),
];

const ohmOf = (ref: string): number => valueIn(file.parts.find((part) => part.ref === ref)?.value ?? '');

describe('the netlist file', () => {
  it('is one expression in the form that board programs import', () => {
    const root = expressionOf(text);
    expect(root.slice(0, 2)).toEqual(['export', ['version', 'E']]);
    expect(file.parts.length).toBeGreaterThan(200);
    expect(file.nets.length).toBeGreaterThan(150);
    // Every part that sits on the board has a footprint or is a part whose maker's drawing decides.
    const bare = file.parts.filter(({ place: where, footprint }) => where === 'board' && footprint === '');
    expect([...new Set(bare.map(({ ref }) => ref.replace(/\d+$/, '')))].sort()).toEqual(['K', 'U']);
  });

  it('survives a name with a quote, and ends with its last bracket', () => {
    const odd = kicadNetlist(circuit.slice(0, 1), 'a "quoted" \\ title');
    expect(readNetlist(odd).parts).toHaveLength(1);
    expect(() => readNetlist(text.trimEnd().slice(0, -1))).toThrow(/ends too early/);
  });
});

describe('netlist and drawings', () => {
  it('say the same of every terminal', () => {
    expect(differences(file)).toEqual([]);
  });
});

describe('netlist and simulated board', () => {
  it.each(netlist.filter(({ name }) => name !== path.shunt.name))(
    '$name lies between the same nodes, with the same value',
    ({ name, from, to, value }) => {
      expect(netsOf(name).sort()).toEqual([from, to].sort());
      if (!name.startsWith('F')) expect(ohmOf(name) / value).toBeCloseTo(1, 6);
    },
  );

  it('has the shunt as two resistors side by side', () => {
    const [a, b] = [ohmOf('R16A'), ohmOf('R16B')];
    expect((a * b) / (a + b)).toBeCloseTo(path.shunt.milliohm / 1000, 9);
    for (const ref of ['R16A', 'R16B']) expect(netsOf(ref).sort()).toEqual([COMMON, 'SHUNT+']);
    expect(netsOf('NT1').sort()).toEqual([COMMON, 'SHUNT-']);
  });

  /** Contacts that close when these pins of the controller are high: through gate resistor, driver and coil. */
  function closedBy(gpio: number): string[] {
    const high = file.nets.flatMap(({ name, pins }) =>
      pins.some(
        ({ ref, name: pin }) =>
          ref === 'U10' && /^GP\d+$/.test(pin) && ((gpio >> Number(pin.slice(2))) & 1) === 1,
      )
        ? [name]
        : [],
    );
    const gates = file.parts
      .filter(({ ref, value }) => ref.startsWith('R') && value === '100 Ω')
      .flatMap(({ ref }) => (netsOf(ref).some((net) => high.includes(net)) ? netsOf(ref) : []));
    const pulled = file.parts
      .filter(({ ref }) => ref.startsWith('Q') && netsOf(ref, ['G']).some((net) => gates.includes(net)))
      .flatMap(({ ref }) => netsOf(ref, ['D']));
    return file.parts
      .filter(({ ref }) => ref.startsWith('K') && netsOf(ref, ['COIL−']).some((net) => pulled.includes(net)))
      .map(({ ref }) => ref);
  }

  /** Ohm between the two clips, from the resistors and contacts of the file. */
  function pathOhm(contactMask: number): number {
    const closed = closedBy(gpioFromContacts(contactMask));
    const contactOhm = path.contact.typicalMilliohm / 1000;
    const network = new Network();
    for (const { ref } of file.parts) {
      const [from, to] = netsOf(ref);
      if (from === undefined || to === undefined) continue;
      if (/^R(\d|1[0-5]|16[AB])$/.test(ref)) network.resistor(from, to, ohmOf(ref));
    }
    for (const ref of closed) {
      const [com, make] = netsOf(ref, ['COM', 'MAKE']);
      network.resistor(com ?? '', make ?? '', contactOhm);
    }
    network.resistor('SENDER', 'FUSED', path.fuse.coldMilliohm / 1000);
    network.resistor(COMMON, 'GROUND', groundLead.milliohm / 1000);
    network
      .source('SENDER', 'GROUND', { volt: 0, ohm: 1e9 })
      .current('SENDER', 1e-3)
      .current('GROUND', -1e-3);
    const volt = network.solve();
    return (volt('SENDER') - volt('GROUND')) / 1e-3;
  }

  it('makes the same ohms from the same pins of the controller', () => {
    const chain = new SimulatedChain(new Random(7));
    const apart = (groundLead.milliohm - path.lead.milliohm) / 1000;
    fc.assert(
      fc.property(fc.integer({ min: 0, max: contactBits.allMask }), (mask) => {
        const contactMask = mask | contactBits.outputMask;
        const simulated = chain.settledOhm(contactMask);
        // Parts of the simulated box lie anywhere inside their tolerance; a contact differs by half.
        expect(Math.abs(pathOhm(contactMask) - apart - simulated)).toBeLessThan(0.05 * simulated + 0.4);
      }),
      { numRuns: 60 },
    );
  });

  it('closes one contact for each bit of the mask, the one the pin table names', () => {
    [...elements.keys(), 14, 15].forEach((bit) =>
      expect(closedBy(gpioFromContacts(1 << bit)), `bit ${bit}`).toEqual([`K${bit + 1}`]),
    );
    expect(closedBy(0)).toEqual([]);
  });

  it.each([
    ['terminal', 'SENDER', 'TERMINAL-IN', 12],
    ['supply', 'FEED', 'SUPPLY-IN', 14.4],
    ['groundSense', 'GROUND', 'GROUND-IN', 0.04],
    ['groundOffset', 'BATTERY-NEG', 'OFFSET-IN', -0.2],
  ] as const)('%s reads what the simulated inputs read', (name, clip, middle, volt) => {
    const network = new Network().source(clip, COMMON, { volt, ohm: 1e-3 });
    network.source('BIAS', COMMON, { volt: converter.fullScaleMicrovolt / 1e6, ohm: 1e-3 });
    for (const { ref } of file.parts)
      if (/^R(2\d|6[5-8])$/.test(ref)) {
        const [from, to] = netsOf(ref);
        network.resistor(from ?? '', to ?? '', ohmOf(ref));
      }
    const others = ['SENDER', 'FEED', 'GROUND', 'BATTERY-NEG'].filter((other) => other !== clip);
    for (const other of others) network.resistor(other, COMMON, 1e9);
    const scale = name === 'terminal' || name === 'supply' ? 11 : 2;
    const bias = converter.fullScaleMicrovolt / 1e6;
    const shown = (network.solve()(middle) - bias) * scale + bias;
    const simulated = new SimulatedFrontEnd(3).shownMicrovolt(name, volt * 1e6) / 1e6;
    // 1 % parts in the simulated box, and 10 kohm in the sleeve: 1 % of the way to the bias.
    expect(Math.abs(shown - simulated)).toBeLessThan(0.02 * Math.abs(volt - bias) + 0.02);
  });

  it('trips where the simulated comparators trip', () => {
    const network = new Network()
      .source('5 VA', COMMON, { volt: 4.96, ohm: 1e-3 })
      .source('BIAS', COMMON, { volt: 2.5, ohm: 1e-3 });
    for (const ref of ['R38', 'R39', 'R40', 'R43', 'R44', 'R45']) {
      const [from, to] = netsOf(ref);
      network.resistor(from ?? '', to ?? '', ohmOf(ref));
    }
    const volt = network.solve();
    const voltPerAmp = (path.shunt.milliohm / 1000) * (ohmOf('R32') / ohmOf('R30'));
    const at = (unit: string, name: string): number => {
      const [net] = netsOf('U3', [`${name}${unit}`]);
      return ((volt(net ?? '') - 2.5) / voltPerAmp) * 1000;
    };
    const trips = (milliamp: number, ms: number): boolean => {
      const comparators = new Comparators();
      for (let passed = 0; passed < ms; passed += 1) if (comparators.look(milliamp / 1000, 1)) return true;
      return false;
    };
    for (const [unit, name, ms, limits] of [
      ['a', '−', 1, hardwareTrip.atOnce],
      ['b', '+', 1, hardwareTrip.atOnce],
      ['c', '−', 10_000, hardwareTrip.slow],
      ['d', '+', 10_000, hardwareTrip.slow],
    ] as const) {
      const milliamp = at(unit, name);
      expect(Math.abs(milliamp)).toBeGreaterThan(limits.minMilliamp);
      expect(Math.abs(milliamp)).toBeLessThan(limits.maxMilliamp);
      expect(trips(1.01 * milliamp, ms), `U3${unit}`).toBe(true);
      expect(trips(0.99 * milliamp, ms), `U3${unit}`).toBe(false);
    }
  });
});
