import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { afterEach, describe, expect, it, vi } from 'vitest';
import { COMMON } from '../../firmware-ts/board/netlist';
import { railSense } from '../../firmware-ts/board/reference-design';
import { SimulatedChain } from '../../firmware-ts/board/simulated/chain';
import { VirtualClock } from '../../firmware-ts/board/simulated/clock';
import { CoilRail } from '../../firmware-ts/board/simulated/coil-rail';
import { Comparators } from '../../firmware-ts/board/simulated/comparators';
import { ElectricalWorld, type SourceState } from '../../firmware-ts/board/simulated/electrical';
import { SimulatedFrontEnd } from '../../firmware-ts/board/simulated/front-end';
import { Network } from '../../firmware-ts/board/simulated/network';
import { Random } from '../../firmware-ts/board/simulated/random';
import { Bench } from '../engine/bench';
import { readNetlist, valueIn } from './netlist-file';
import { ohmIn } from './netlist-ohm';
import { NOTHING, rangeOf } from './readings';

/**
 * The bring-up of build.md, worked through: what to expect is read from the document, what comes out is measured on the
 * netlist file or on the simulated board. Nobody has soldered a box yet: the rows without a mark are not known.
 */

const notes = fileURLToPath(new URL('../../hardware-notes', import.meta.url));
const document = readFileSync(`${notes}/build.md`, 'utf8');
const file = readNetlist(readFileSync(`${notes}/netlist/box.net`, 'utf8'));

type Row = {
  readonly step: string;
  readonly isWorked: boolean;
  readonly what: string;
  readonly expected: string;
};

const rows: readonly Row[] = [...document.matchAll(/^\| (\d+\.\d+)( ✓)? \| (.+) \| ([^|]+) \|$/gm)].map(
  ([, step = '', mark, what = '', expected = '']) => ({ step, isWorked: mark !== undefined, what, expected }),
);

const netsOf = (ref: string): string[] =>
  file.nets.filter(({ pins }) => pins.some((pin) => pin.ref === ref)).map(({ name }) => name);
const ohmOf = (ref: string): number => valueIn(file.parts.find((part) => part.ref === ref)?.value ?? '');
const pinNet = (ref: string, pin: string): string =>
  file.nets.find(({ pins }) => pins.some((each) => each.ref === ref && each.pin === pin))?.name ?? '';

/** V at a net with clips at volts and the references at theirs. */
function voltAt(net: string, clips: Readonly<Record<string, number>>): number {
  const stiff = 1e-3;
  const network = new Network();
  for (const [clip, volt] of Object.entries({ BIAS: 2.5, '5 VA': 4.96, ...clips }))
    network.source(clip, COMMON, { volt, ohm: stiff });
  for (const { ref } of file.parts) {
    const [one, two] = netsOf(ref);
    if (!/^R(2\d|3[89]|4[0345]|6[5-8])$/.test(ref) || one === undefined || two === undefined) continue;
    network.resistor(one, two, ohmOf(ref));
  }
  for (const free of ['SENDER', 'FEED', 'GROUND', 'BATTERY-NEG', 'I-SLOW', 'V-CURRENT'])
    network.resistor(free, COMMON, 1e12);
  return network.solve()(net);
}

/** The coil supplies as the pulse pin is driven: when each falls, s, and how high they stood, V. */
function rails(act: (rail: CoilRail, clock: VirtualClock) => void) {
  const clock = new VirtualClock(new Random(3));
  let outputMs = NaN;
  let chainMs = NaN;
  let high = 0;
  const rail = new CoilRail(clock, () => undefined);
  act(rail, clock);
  const fromMs = clock.nowMs;
  for (let ms = 0; ms < 600; ms += 0.25) {
    clock.advanceTo(fromMs + ms);
    high = Math.max(high, rail.millivolt / 1000);
    if (!rail.isOn && Number.isNaN(outputMs)) outputMs = ms;
    if (!rail.isChainOn && Number.isNaN(chainMs)) chainMs = ms;
  }
  return { outputS: outputMs / 1000, afterS: (chainMs - outputMs) / 1000, high, rail };
}

const touched = (): ReturnType<typeof rails> => rails((rail) => rail.drive(1));

/** Largest of many boxes, by size. */
const worst = (values: readonly number[]): number =>
  values.reduce((most, value) => (Math.abs(value) > Math.abs(most) ? value : most), 0);
const boxes = Array.from({ length: 20 }, (_, seed) => new SimulatedFrontEnd(seed + 1));

/** A at which the comparators first trip, raised slowly; what the slow pair would see is blinded or not. */
function tripAmp(stepMs: number, isSlowBlind: boolean): number {
  for (let amp = 0.1; amp < 2; amp += 0.01) {
    const comparators = new Comparators();
    if (comparators.look(amp, isSlowBlind ? 0 : stepMs)) return amp;
  }
  return NaN;
}

function stepSeconds(): number {
  const comparators = new Comparators();
  for (let ms = 0; ms < 5_000; ms += 1) if (comparators.look(0.65, 1)) return ms / 1000;
  return NaN;
}

/** A between the CAL posts, a milliammeter across them. */
const postAmp = (source: SourceState): number =>
  new ElectricalWorld(new SimulatedFrontEnd(5)).solve({
    pathOhm: Infinity,
    source,
    hookUp: { kind: 'sender', ohm: 1 },
  }).postAmp;

/** Ohm between two nets of the file through the resistors that are fitted. */
const ohmBetween = (from: string, to: string, isFitted: (ref: string) => boolean): number =>
  ohmIn(file, [from, to], isFitted);

const chainOnly = (ref: string): boolean => /^R(\d|1[0-6]|16[AB])$/.test(ref);
const relayGates = Array.from({ length: 16 }, (_, index) => `GATE-K${index + 1}`);

/** What comes out, by the number of the row; several values all have to lie inside. */
const measured: Readonly<Record<string, () => readonly number[]>> = {
  '1.4': () => [ohmBetween('INPUT-0V', COMMON, () => true)],
  '3.1': () => [ohmBetween('J6 SHELL', COMMON, () => true)],
  '4.1': () => relayGates.map((gate) => ohmBetween(gate, COMMON, (ref) => /^R1[0-3]\d$/.test(ref))),
  '5.1': () => [rails(() => undefined).high],
  '5.2': () => [touched().outputS],
  '5.3': () => [touched().high],
  '5.4': () => [touched().afterS],
  '5.5': () => [
    rails((rail, clock) => {
      rail.drive(1);
      clock.advanceTo(clock.nowMs + 50);
      rail.trip();
    }).afterS,
  ],
  '5.8': () => [
    rails((rail, clock) => {
      rail.drive(1);
      clock.advanceTo(clock.nowMs + 1000);
      rail.drive(1);
    }).high,
  ],
  '5.10': () => {
    const clock = new VirtualClock(new Random(3));
    const rail = new CoilRail(clock, () => undefined);
    rail.drive(1);
    return [(rail.code / (2 ** railSense.bits - 1)) * (railSense.fullScaleMillivolt / 1000)];
  },
  '6.1': () => [ohmBetween('SENDER', 'GROUND', chainOnly)],
  '6.2': () => [ohmBetween('BEHIND-K16', COMMON, chainOnly)],
  '6.4': () => {
    const chain = new SimulatedChain(new Random(11));
    // Every contact closed: what is left of sixteen contacts, fuse, lead and shunt, less what is no contact.
    const contacts = chain.settledOhm(0xffff) - 0.35 - 0.03 - chain.shuntOhm;
    return [contacts / 16];
  },
  '7.1': () => [voltAt('TERMINAL-IN', {})],
  '7.2': () => [voltAt('SUPPLY-IN', {})],
  '7.3': () => [voltAt('TERMINAL-IN', { SENDER: 0, GROUND: 0 })],
  '7.4': () => [voltAt('TERMINAL-IN', { SENDER: 12, GROUND: 0 })],
  '7.5': () => [voltAt('TERMINAL-IN', { SENDER: -12, GROUND: 0 })],
  '7.6': () => [voltAt('OFFSET-IN', { 'BATTERY-NEG': 0, GROUND: 0 })],
  '7.7': () => [2.5 + worst(boxes.map((box) => box.currentVolt(0)))],
  '7.8': () => [2.5 + worst(boxes.map((box) => box.referenceVolt({ top: 0.25, foot: 0.25 })))],
  '8.1': () => [voltAt(pinNet('U3', '2'), {})],
  '8.2': () => [voltAt(pinNet('U3', '9'), {})],
  '8.3': () => [voltAt(pinNet('U3', '12'), {})],
  '8.4': () => [voltAt(pinNet('U3', '5'), {})],
  '8.5': () => [tripAmp(60_000, false)],
  '8.6': () => [tripAmp(0, true)],
  '8.7': () => [stepSeconds()],
  '9.1': () => [postAmp('low')],
  '9.2': () => [postAmp('high')],
  '9.3': () => [postAmp('off')],
};

describe('the readings of the bring-up', () => {
  it('are numbered in order, each once', () => {
    const steps = rows.map(({ step }) => step);
    expect(new Set(steps).size).toBe(steps.length);
    const places = steps.map((step) => step.split('.').map(Number));
    const inOrder = places.map(([step = 0, row = 0]) => step * 100 + row);
    expect([...inOrder].sort((one, two) => one - two)).toEqual(inOrder);
    expect(steps.length).toBeGreaterThan(40);
  });

  it('begin with parts that were fitted: each part of the circuit in one step, and no other', () => {
    const fitted = [...document.replaceAll('\n', ' ').matchAll(/Fit ([^.]*)\./g)].flatMap(([, list = '']) =>
      [...list.matchAll(/\b([A-Z])(\d+)(?: to [A-Z](\d+))?/g)].flatMap(
        ([, letter = '', first, last = first]) =>
          Array.from(
            { length: Number(last) - Number(first) + 1 },
            (_, index) => `${letter}${Number(first) + index}`,
          ),
      ),
    );
    // With each chip its 100 nF, as the document says; a clip belongs to its lead, NT1 is a joint.
    const parts = file.parts
      .map(({ ref }) => ref.replace(/^R16[AB]$/, 'R16'))
      .filter((ref) => !/^(X\d|NT1|C1\d\d)$/.test(ref));
    expect([...fitted].sort()).toEqual([...new Set(parts)].sort());
  });

  it('are worked through where the document says so, and nowhere else', () => {
    const marked = rows.filter(({ isWorked }) => isWorked).map(({ step }) => step);
    expect([...Object.keys(measured)].sort()).toEqual([...marked].sort());
  });

  it.each(rows.filter(({ isWorked }) => isWorked))('$step $what: $expected', ({ step, expected }) => {
    const [from, to] = rangeOf(expected);
    const values = measured[step]?.() ?? [];
    expect(values.length).toBeGreaterThan(0);
    for (const value of values) {
      expect(value).toBeGreaterThanOrEqual(from);
      expect(value).toBeLessThanOrEqual(to);
    }
  });

  it('are read from the document as a person reads them', () => {
    expect(rangeOf('8.2 kΩ ± 5 %')).toEqual([7790, 8610]);
    expect(rangeOf('2.500 V ± 8 mV').map((volt) => volt.toFixed(3))).toEqual(['2.492', '2.508']);
    expect(rangeOf('above 10 MΩ')).toEqual([1e7, Infinity]);
    expect(rangeOf('0 V')).toEqual([-NOTHING, NOTHING]);
    expect(() => rangeOf('a step to 17 V')).toThrow(/no reading/);
    expect(() => rangeOf('3 furlongs')).toThrow(/no unit/);
  });
});

describe('steps 3 and 11 on the simulated board', () => {
  afterEach(() => void vi.restoreAllMocks());

  it('3.3: without converters, without a latch, without a table the box greets and is safe', () => {
    const row = rows.find(({ step }) => step === '3.3');
    const bench = new Bench({ isUncalibrated: true });
    for (const chip of bench.box.world.converters) chip.isHung = true;
    bench.box.world.rail.trip();
    bench.box.advance(3_000);
    const { state, calibrationId } = bench.hello();
    expect(row?.expected).toContain(`\`state=${state}\``);
    expect(row?.expected).toContain(`\`calibrationId=${calibrationId}\``);
    expect(bench.state()).toBe('safe');
  });

  const faulty: readonly (readonly [what: RegExp, make: (bench: Bench) => void])[] = [
    [
      /take U8 out of its socket \(step (\d)\)/,
      ({ box }) => void vi.spyOn(box.world.rail, 'drive').mockReturnValue(),
    ],
    [
      /short Q17 from drain to source \(step (\d)\)/,
      ({ box }) => void vi.spyOn(box.world.rail, 'isOn', 'get').mockReturnValue(true),
    ],
    [
      /take U5 out\s+of its socket \(step (\d)\)/,
      ({ box }) => {
        box.world.converters[1].isHung = true;
      },
    ],
  ];

  it.each(faulty)('11: the self-test refuses at the step that is printed: %s', (what, make) => {
    const printed = Number(what.exec(document)?.[1]);
    const bench = new Bench();
    bench.hello();
    bench.table();
    make(bench);
    expect(bench.arm('thermal')).toMatchObject({ refused: 'SELF_TEST', detail: printed });
  });
});
