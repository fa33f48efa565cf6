import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { COMMON } from '../../firmware-ts/board/netlist';
import {
  chainHold,
  deadMan,
  elements,
  limits,
  meterChannels,
  path,
  quantityFromReading,
  senseLoadMilliohm,
} from '../../firmware-ts/board/reference-design';
import { VirtualClock } from '../../firmware-ts/board/simulated/clock';
import { CoilRail } from '../../firmware-ts/board/simulated/coil-rail';
import { Comparators } from '../../firmware-ts/board/simulated/comparators';
import { gauge } from '../../firmware-ts/board/simulated/gauges/catalogue';
import { track } from '../../firmware-ts/board/simulated/gauges/senders';
import { Random } from '../../firmware-ts/board/simulated/random';
import { faults, jobKinds } from '../../protocol';
import { Bench, TODAY } from '../engine/bench';
import { readNetlist, valueIn } from './netlist-file';
import { ohmIn } from './netlist-ohm';

/**
 * The acceptance sheet step by step: what the circuit's data say (`reckoned`) and what the simulated board does with the real
 * firmware on it (`simulated`). Both have to lie inside the limit that the sheet prints. The same steps for either board; who
 * calls mocks the design.
 */

export type Step = {
  readonly reckoned: () => readonly number[];
  readonly simulated: () => readonly number[];
};

const notes = fileURLToPath(new URL('../../hardware-notes', import.meta.url));

/** A bench supply in the gauge's place: so many volts (set as the supply's) behind a resistance. */
function supplied(seriesOhm: number, volt: number): Bench {
  const supply = gauge({
    name: 'bench-supply',
    title: 'bench supply',
    quantity: 'temperature',
    unit: 'V',
    terminals: 2,
    mechanism: {
      kind: 'electronic',
      source: ({ supplyVolt }) => ({ openVolt: supplyVolt, sourceOhm: seriesOhm }),
      nextSwitchMs: () => Infinity,
      drive: () => 0,
      steadyDrive: (ohm) => 1 / (ohm + 1),
      lagMs: 1000,
      innerLagMs: 0,
      frictionFraction: 0,
    },
    labels: [
      ['low', 0],
      ['high', 100],
    ],
    originalSender: track({ value: 0, ohm: 100 }, { value: 100, ohm: 10 }),
    replacementSender: track({ value: 0, ohm: 100 }, { value: 100, ohm: 10 }),
  });
  const bench = new Bench({ gauge: supply });
  bench.box.world.vehicle.settings.supplyVolt = volt;
  bench.hello();
  return bench;
}

function holding(ohm: number, seriesOhm: number, volt: number): Bench {
  const bench = supplied(seriesOhm, volt);
  const table = bench.table();
  const armed = bench.arm('thermal').refused;
  if (armed !== undefined) throw new Error(`arming refused: ${armed}`);
  bench.box.advance(200);
  const set = bench.set(ohm, table).refused;
  if (set !== undefined) throw new Error(`${ohm} ohm refused: ${set}`);
  bench.live(500);
  return bench;
}

/** What flowed and what lay on the clips at the last moment before the output opened, the supply raised slowly. */
function raised(bench: Bench, byVolt: number): { amp: number; volt: number; fault: number | undefined } {
  const { world } = bench.box;
  for (let step = 0; step < 2000; step += 1) {
    const terminal = world.vehicle.terminal(world.pathOhm, world.clock.nowMs);
    bench.live(800);
    if (bench.isOutputOpen) return { ...terminal, fault: bench.events[0]?.faultCode };
    world.vehicle.settings.supplyVolt += byVolt;
  }
  throw new Error('the output never opened');
}

/** The coil supplies when edges end, s: K16's down after, the chain's later than that. */
function rails(act: (rail: CoilRail, clock: VirtualClock) => void): { outputS: number; afterS: number } {
  const clock = new VirtualClock(new Random(3));
  const rail = new CoilRail(clock, () => undefined);
  act(rail, clock);
  const fromMs = clock.nowMs;
  let [outputMs, chainMs] = [NaN, NaN];
  for (let ms = 0; ms < 600; ms += 0.25) {
    clock.advanceTo(fromMs + ms);
    if (!rail.isOn && Number.isNaN(outputMs)) outputMs = ms;
    if (!rail.isChainOn && Number.isNaN(chainMs)) chainMs = ms;
  }
  return { outputS: outputMs / 1000, afterS: (chainMs - outputMs) / 1000 };
}

const edgesEnd = (): { outputS: number; afterS: number } => rails((rail) => rail.drive(1));
const tripped = (): { outputS: number; afterS: number } =>
  rails((rail, clock) => {
    rail.drive(1);
    clock.advanceTo(clock.nowMs + 50);
    rail.trip();
  });

function tripAmp(stepMs: number, isSlowBlind: boolean): number {
  for (let amp = 0.1; amp < 2; amp += 0.005) {
    const comparators = new Comparators();
    if (comparators.look(amp, isSlowBlind ? 0 : stepMs)) return amp;
  }
  return NaN;
}

function stepS(): number {
  const comparators = new Comparators();
  for (let ms = 0; ms < 5000; ms += 1) if (comparators.look(0.65, 1)) return ms / 1000;
  return NaN;
}

/** Volts of the trip's divider from 5 VA, by the values in the netlist; the path's gain by its resistors. */
function thresholdsAmp(ohmOf: (ref: string) => number): { slow: number; atOnce: number } {
  const [bias, supply] = [2.5, 4.96];
  const upper = ohmOf('R38') + ohmOf('R39') + ohmOf('R43');
  const volt = (below: number): number => bias + ((supply - bias) * below) / upper;
  const gain = (ohmOf('R33') / ohmOf('R31')) * (path.shunt.milliohm / 1000);
  return {
    slow: (volt(ohmOf('R43')) - bias) / gain,
    atOnce: (volt(ohmOf('R43') + ohmOf('R39')) - bias) / gain,
  };
}

/** Ohm that the elements can make next to what is asked, nominal, with about what else lies in the path. */
function nearestOhm(asked: number): number {
  const residual = 1.4;
  let made = residual;
  for (const { nominalMilliohm } of [...elements].reverse())
    if (made + nominalMilliohm / 1000 <= asked) made += nominalMilliohm / 1000;
  return made;
}

/** A row of section D: made by the table against what really lies between the clips, and asked against what can be made. */
const resistance = (asked: number): Step => ({
  // Half of the largest step between settings, 1 ohm, is what may be missing; a percent of tolerance.
  reckoned: () => [asked <= limits.resistanceMaxMilliohm / 1000 ? nearestOhm(asked) - asked : NaN],
  simulated: () => {
    const bench = supplied(1000, 5);
    const table = bench.table();
    bench.arm('thermal');
    bench.box.advance(200);
    if (bench.set(asked, table).refused !== undefined) return [NaN];
    bench.live(100);
    const made = bench.setting(asked, table).resistanceMilliohm / 1000;
    return [made - bench.box.world.pathOhm];
  },
});

/** The steps of the board whose netlist file is named. `heldOhm`: what stands in C10. */
export function acceptanceSteps(
  netlistName: string,
  { heldOhm, seriesOhm }: { readonly heldOhm: number; readonly seriesOhm: number },
  askedOhm: readonly (readonly [row: string, ohm: number])[],
): Readonly<Record<string, Step>> {
  const file = readNetlist(readFileSync(`${notes}/netlist/${netlistName}`, 'utf8'));
  const ohmOf = (ref: string): number => valueIn(file.parts.find((part) => part.ref === ref)?.value ?? '');
  const apart = (net: string): Step => ({
    reckoned: () => [ohmIn(file, [net, COMMON], () => true)],
    // The simulated board has no wire between its sides at all: what it knows is that nothing there moves a reading.
    simulated: () => [Infinity],
  });
  const microfarad = (ref: string): number => {
    const text = file.parts.find((part) => part.ref === ref)?.value ?? '';
    return Number(text.split(' ')[0]);
  };
  const shotS = (resistor: string, capacitor: string, factor: number): number =>
    (factor * ohmOf(resistor) * microfarad(capacitor)) / 1e6;
  return {
    A3: apart('INPUT-0V'),
    A4: apart('J6 SHELL'),
    A6: {
      reckoned: () => [ohmIn(file, ['SENDER', 'GROUND'], () => true)],
      simulated: () => [senseLoadMilliohm / 1000],
    },
    C1: {
      reckoned: () => [shotS('R50', 'C50', deadMan.lengthFactor)],
      simulated: () => [edgesEnd().outputS],
    },
    C2: {
      reckoned: () => [shotS('R50', 'C50', deadMan.lengthFactor)],
      simulated: () => [
        edgesEnd().outputS,
        rails((rail, clock) => {
          for (let level = 1, ms = 0; ms < 400; ms += 40, level = 1 - level) {
            clock.advanceTo(clock.nowMs + 40);
            rail.drive(level);
          }
          rail.drive(1);
        }).outputS,
      ],
    },
    C3: {
      // The lease, which begins with the last word of the host, one turn, and the contact.
      reckoned: () => [1.5 + 0.05],
      simulated: () => {
        const bench = holding(40, 100, 5);
        bench.beat();
        const fromMs = bench.box.nowMs;
        while (!bench.isOutputOpen && bench.box.nowMs - fromMs < 5000) bench.box.advance(1);
        return [(bench.box.nowMs - fromMs) / 1000];
      },
    },
    C5: {
      reckoned: () => [shotS('R57', 'C51', chainHold.lengthFactor)],
      simulated: () => [edgesEnd().afterS, tripped().afterS],
    },
    C6: { reckoned: () => [thresholdsAmp(ohmOf).slow], simulated: () => [tripAmp(60_000, false)] },
    C7: { reckoned: () => [thresholdsAmp(ohmOf).atOnce], simulated: () => [tripAmp(0, true)] },
    C8: {
      reckoned: () => {
        const tau = (ohmOf('R46') * microfarad('C24')) / 1e6;
        return [-tau * Math.log(1 - thresholdsAmp(ohmOf).slow / 0.65)];
      },
      simulated: () => [stepS()],
    },
    C9: {
      reckoned: () => [limits.currentMaxMilliamp / 1000],
      simulated: () => {
        const { amp, fault } = raised(holding(10, 10, 5.4), 0.02);
        return [fault === faults.CURRENT_HIGH.number ? amp : NaN];
      },
    },
    C10: {
      reckoned: () => [limits.supplyMaxMillivolt / 1000 + 0.05],
      simulated: () => {
        const from = 15.6 * (1 + seriesOhm / heldOhm);
        const { volt, fault } = raised(holding(heldOhm, seriesOhm, from), 0.02);
        return [fault === faults.SUPPLY_HIGH.number ? volt : NaN];
      },
    },
    C11: {
      reckoned: () => [limits.reversedMillivolt / 1000 > -5 ? 1 : 0],
      simulated: () => {
        const bench = supplied(100, 5);
        bench.box.world.vehicle.settings.isReversed = true;
        bench.live(300);
        const { refused, detail } = bench.arm('thermal');
        return [refused === 'FAULT_PRESENT' && detail === faults.SUPPLY_REVERSED.number ? 1 : 0];
      },
    },
    C12: {
      reckoned: () => [limits.lowResistanceMaxMs / 1000],
      simulated: () => {
        const bench = supplied(100, 3);
        const table = bench.table();
        bench.arm('thermal');
        bench.box.advance(200);
        const fromMs = bench.box.nowMs;
        bench.set(6, table);
        while (!bench.isOutputOpen && bench.box.nowMs - fromMs < 9000) {
          bench.beat();
          bench.box.advance(20);
        }
        return [(bench.box.nowMs - fromMs) / 1000];
      },
    },
    ...Object.fromEntries(askedOhm.map(([row, ohm]) => [row, resistance(ohm)])),
    E1: {
      reckoned: () => {
        // 10 kΩ in the sleeve and 10 MΩ over 1 MΩ to 2.5 V, by the netlist's values, as the channel's law takes them back.
        const upper = ohmOf('R65') + ohmOf('R20');
        const bias = 2.5;
        const middle = bias + ((12 - bias) * ohmOf('R21')) / (upper + ohmOf('R21'));
        return [quantityFromReading('terminal', (middle - bias) * 1e6) / 1e6 / 12 - 1];
      },
      simulated: () => {
        const bench = supplied(1, 12);
        bench.live(400);
        return [(bench.beat().terminalMicrovolt ?? NaN) / 1e6 / 12 - 1];
      },
    },
    E2: {
      reckoned: () => {
        const gain = (ohmOf('R33') / ohmOf('R31')) * (path.shunt.milliohm / 1000);
        return [meterChannels.current.scale * gain - 1];
      },
      simulated: () => {
        const bench = holding(30, 30, 6);
        bench.live(600);
        const { world } = bench.box;
        const { amp } = world.vehicle.terminal(world.pathOhm, world.clock.nowMs);
        return [(bench.beat().currentMicroamp ?? NaN) / 1e6 / amp - 1];
      },
    },
    E3: {
      reckoned: () => [0],
      simulated: () => {
        const bench = supplied(100, 5);
        bench.live(400);
        return [(bench.beat().currentMicroamp ?? NaN) / 1e6];
      },
    },
    E4: {
      reckoned: () => [0],
      simulated: () => {
        const bench = supplied(100, 5);
        bench.live(2000);
        const told = (bench.ask('measure', { channel: 0 }).groundOffsetMicrovolt ?? NaN) / 1e6;
        // The bench's own ground stands so much above the clip.
        return [told - bench.box.world.vehicle.groundOffsetVolt];
      },
    },
    E6: {
      reckoned: () => [0],
      simulated: () =>
        [
          [100, 10_000],
          [1000, 500],
        ].map(([ohm = NaN, currentMicroamp = NaN]) => {
          const bench = supplied(100, 0);
          bench.box.world.vehicle.settings.isConnected = false;
          bench.box.world.calPost = { kind: 'sender', ohm };
          bench.live(300);
          const asked = { channel: 0, jobKind: jobKinds.thermal, currentMicroamp };
          return (bench.ask('ohmmeter', asked).milliohm ?? NaN) / 1000 / ohm - 1;
        }),
    },
    F3: {
      reckoned: () => [1, 1],
      simulated: () => {
        const on = (hostDay: number): Bench => {
          const bench = supplied(100, 5);
          bench.ask('hello', { protocolMajorMin: 1, protocolMajorMax: 1, hostNonce: 5, hostDay });
          return bench;
        };
        const today = on(TODAY).arm('thermal').refused === undefined;
        const late =
          on(TODAY - 30 + 365 + 12)
            .arm('thermal')
            .refused?.startsWith('CALIBRATION') === true;
        return [today ? 1 : 0, late ? 1 : 0];
      },
    },
  };
}
