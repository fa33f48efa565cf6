import { contactBits } from '../../../firmware-ts/board/reference-design';
import { Bench, LIMITER_ROW, RESIDUAL_ROW } from '../bench';
import { equal, isTrue } from '../check';
import { beatFor, feed, magnetic, nothingToMend } from './case';
import type { TripCase } from './case';

// Guards of the gauge circuit: current, heat, voltage, resistance.

const REACTION_MS = 50;
const MEND_VOLT = 13.5;

const unfeed = (bench: Bench): void => {
  bench.box.world.vehicle.settings.supplyVolt = MEND_VOLT;
  bench.box.world.vehicle.settings.isReversed = false;
};

/** Lives on in silence until the output is open, and holds the box to its reaction time. */
function opensInTime(bench: Bench): void {
  const fromMs = bench.box.nowMs;
  while (bench.box.nowMs - fromMs < 3 * REACTION_MS && !bench.isOutputOpen) bench.box.advance(1);
  const tookMs = bench.box.nowMs - fromMs;
  isTrue(tookMs <= REACTION_MS, `open within ${REACTION_MS} ms, took ${tookMs}`);
}

const milliamp = (bench: Bench): number => Math.abs(bench.beat().currentMicroamp ?? NaN) / 1000;
const millivolt = (bench: Bench): number => (bench.beat().terminalMicrovolt ?? NaN) / 1000;

/** Feeds a bench so that a resistance in its path carries so many milliwatt. */
function heat(bench: Bench, milliohm: number, milliwatt: number): void {
  feed(bench, milliamp(bench), Math.sqrt((milliwatt * 1e6) / milliohm));
}

const current: TripCase = {
  fault: 'CURRENT_HIGH',
  when: 'on one milliamp more than the job allows',
  unless: 'on one milliamp less than the job allows',
  start: () => magnetic(60, { currentLimitMilliamp: 90 }),
  exceed: (bench) => {
    feed(bench, milliamp(bench), 91);
    opensInTime(bench);
  },
  approach: (bench) => {
    feed(bench, milliamp(bench), 89);
    bench.live(3000);
  },
  measured: [90, 92],
  limit: 90,
  mend: unfeed,
  spared: 'driving',
};

const comparator: TripCase = {
  ...current,
  when: 'by the comparator on the shunt when that is faster, and says so',
  unless: 'on five milliamps less than the job allows, far below the comparator',
  start: () => magnetic(8),
  exceed: (bench) => {
    feed(bench, milliamp(bench), 1250);
    opensInTime(bench);
  },
  approach: (bench) => {
    feed(bench, milliamp(bench), 245);
    bench.live(1000);
  },
  measured: [400, 400],
  limit: 400,
};

const ELEMENT_LIMIT_MILLIWATT = 300;
/** R7, the largest of those that make 60 ohm. */
const HOTTEST_ROW = 6;
const WIREWOUND_MS = 40_000;
const BOX_MS = 60_000;

/** Four times the limit heats a cold part to its limit in ln(4/3) time constants, 5/4 of it in ln 5. */
const [HIGH_TIMES, LOW_TIMES] = [4, 1.25] as const;
/** Nine tenths of what the lower of the two needs. */
const BORNE_TIMES = 0.9 * Math.log(LOW_TIMES / (LOW_TIMES - 1));

function opensWhenHot(bench: Bench, timeConstantMs: number): void {
  const tookMs = beatFor(bench, timeConstantMs);
  const wantedMs = timeConstantMs * Math.log(HIGH_TIMES / (HIGH_TIMES - 1));
  isTrue(Math.abs(tookMs / wantedMs - 1) < 0.05, `open after ${wantedMs.toFixed(0)} ms, took ${tookMs}`);
}

const element: TripCase = {
  fault: 'ELEMENT_POWER',
  when: 'on four times the limit in one resistor, after its own thermal time',
  unless: 'on a quarter more than the limit in one resistor, for nine tenths of the time that it bears that',
  start: () => magnetic(60, { elementPowerLimitMilliwatt: ELEMENT_LIMIT_MILLIWATT }),
  exceed: (bench) => {
    heat(bench, bench.table()[HOTTEST_ROW]!, HIGH_TIMES * ELEMENT_LIMIT_MILLIWATT);
    opensWhenHot(bench, WIREWOUND_MS);
  },
  approach: (bench) => {
    heat(bench, bench.table()[HOTTEST_ROW]!, LOW_TIMES * ELEMENT_LIMIT_MILLIWATT);
    bench.live(BORNE_TIMES * WIREWOUND_MS);
  },
  // Each resistor is looked at four times a second.
  measured: [300, 306],
  limit: ELEMENT_LIMIT_MILLIWATT,
  mend: unfeed,
  spared: 'driving',
};

const overload: TripCase = {
  ...element,
  when: 'at once on more than six times the limit in one resistor',
  unless: 'on less than six times the limit in one resistor, for a second',
  exceed: (bench) => {
    heat(bench, bench.table()[HOTTEST_ROW]!, 6.1 * ELEMENT_LIMIT_MILLIWATT);
    opensInTime(bench);
  },
  approach: (bench) => {
    heat(bench, bench.table()[HOTTEST_ROW]!, 5.9 * ELEMENT_LIMIT_MILLIWATT);
    bench.live(1000);
  },
  measured: [1815, 1845],
};

const TOTAL_LIMIT_MILLIWATT = 400;

const total: TripCase = {
  fault: 'TOTAL_POWER',
  when: 'on four times the limit in the whole box, after its thermal time',
  unless: 'on a quarter more than the limit in the whole box, for nine tenths of the time that it bears that',
  start: () => magnetic(60, { totalPowerLimitMilliwatt: TOTAL_LIMIT_MILLIWATT }),
  exceed: (bench) => {
    heat(bench, bench.beat().madeMilliohm ?? NaN, HIGH_TIMES * TOTAL_LIMIT_MILLIWATT);
    opensWhenHot(bench, BOX_MS);
  },
  approach: (bench) => {
    heat(bench, bench.beat().madeMilliohm ?? NaN, LOW_TIMES * TOTAL_LIMIT_MILLIWATT);
    bench.live(BORNE_TIMES * BOX_MS);
  },
  measured: [400, 402],
  limit: TOTAL_LIMIT_MILLIWATT,
  mend: unfeed,
  spared: 'driving',
};

const overVoltage: TripCase = {
  fault: 'SUPPLY_HIGH',
  when: 'on a tenth of a volt more than the job allows at the terminals',
  unless: 'on a tenth of a volt less than the job allows at the terminals',
  start: () => magnetic(3000),
  exceed: (bench) => {
    feed(bench, millivolt(bench), 16_100);
    opensInTime(bench);
  },
  approach: (bench) => {
    feed(bench, millivolt(bench), 15_900);
    bench.live(3000);
  },
  measured: [16_050, 16_150],
  limit: 16_000,
  mend: unfeed,
  spared: 'driving',
};

const reversed: TripCase = {
  fault: 'SUPPLY_REVERSED',
  when: 'on 205 mV the wrong way round',
  unless: 'on 195 mV the wrong way round',
  start: () => magnetic(500),
  exceed: (bench) => {
    feed(bench, millivolt(bench), 205);
    bench.box.world.vehicle.settings.isReversed = true;
    opensInTime(bench);
  },
  approach: (bench) => {
    feed(bench, millivolt(bench), 195);
    bench.box.world.vehicle.settings.isReversed = true;
    bench.live(3000);
  },
  measured: [-210, -200],
  limit: -200,
  mend: unfeed,
  spared: 'driving',
};

const FLOOR_MS = 5000;

const lowResistance: TripCase = {
  fault: 'LOW_RESISTANCE_TIME',
  when: 'after five seconds below the resistance floor',
  unless: 'when it leaves the resistance floor before five seconds are over',
  start: () => Bench.driving(6),
  exceed: (bench) => {
    const tookMs = beatFor(bench, 2 * FLOOR_MS);
    isTrue(tookMs > FLOOR_MS - 500 && tookMs <= FLOOR_MS + 75, `after five seconds, took ${tookMs}`);
  },
  approach: (bench) => {
    beatFor(bench, FLOOR_MS - 900);
    equal(bench.set(40, bench.table()).refused, undefined, 'up');
    bench.live(2000);
  },
  // Asked every second turn, and a turn with a request is longer.
  measured: [FLOOR_MS + 1, FLOOR_MS + 45],
  limit: FLOOR_MS,
  mend: nothingToMend,
  spared: 'driving',
};

const INSERTED: readonly number[] = [7, 2, 1]; // R8, R3, R2: 78.6 ohm
const BARELY_WRONG = 1;
const TOO_WRONG = 2;

const insertedMilliohm = (bench: Bench): number => {
  const table = bench.table();
  return INSERTED.reduce((sum, row) => sum + table[row]!, table[RESIDUAL_ROW]!);
};

/** Drives R8, R3 and R2 in series: 2 % and 0.6 ohm of that lie between R2 and R3. */
function threeInserted(): Bench {
  const bench = magnetic(60);
  const contactMask = INSERTED.reduce((mask, row) => mask & ~(1 << row), contactBits.allMask);
  const resistanceMilliohm = insertedMilliohm(bench);
  const complementMask = ~contactMask & 0xffff;
  const fields = { channel: 0, contactMask, complementMask, resistanceMilliohm, leaseMs: 1500 };
  equal(bench.ask('set', fields).refused, undefined, 'set');
  bench.live(300);
  return bench;
}

const weld = (bench: Bench, contact: number | 'output', as: 'closed' | 'open'): void => {
  bench.box.world.chain.contact(contact)!.weld = as;
  bench.live(500);
};

const stuck: TripCase = {
  fault: 'CONTACT_STUCK',
  when: 'when a contact welds and takes more off than the meter may be wrong by',
  unless: 'when a contact welds whose resistor the meter cannot be sure of',
  start: threeInserted,
  exceed: (bench) => weld(bench, TOO_WRONG, 'closed'),
  approach: (bench) => weld(bench, BARELY_WRONG, 'closed'),
  measured: [74_500, 77_000],
  limit: insertedMilliohm,
  mend: (bench) => {
    for (const row of INSERTED) bench.box.world.chain.contact(row)!.weld = undefined;
  },
  spared: 'driving',
};

/** What a two-coil gauge needs so that its sender terminal, open, carries so much. */
const openAt = (millivoltOpen: number): number => (2 * millivoltOpen) / 1000;

function outputStaysOpen(): Bench {
  const bench = new Bench({ gauge: 'two-coil-fuel' });
  bench.box.world.chain.contact('output')!.weld = 'open';
  bench.box.world.vehicle.settings.supplyVolt = openAt(450);
  bench.hello();
  bench.arm('magnetic');
  equal(bench.set(80, bench.table()).refused, undefined, 'set');
  return bench;
}

const outputOpen: TripCase = {
  fault: 'OUTPUT_OPEN',
  when: 'when the output contact does not close on more than half a volt',
  unless: 'when no current flows because there is less than half a volt to drive it',
  start: outputStaysOpen,
  exceed: (bench) => {
    bench.box.world.vehicle.settings.supplyVolt = openAt(550);
    bench.live(500);
  },
  approach: (bench) => void bench.live(1000),
  measured: [10_000_000, 0x7fff_ffff],
  // The limiter has stayed in, because nothing proved that it may come out.
  limit: (bench) => bench.setting(80, bench.table()).resistanceMilliohm + bench.table()[LIMITER_ROW]!,
  mend: (bench) => {
    bench.box.world.chain.contact('output')!.weld = undefined;
    unfeed(bench);
  },
  spared: 'driving',
};

/** A welded output with everything else inserted, fed so that so many microamps flow through it. */
function weldedWith(microamp: number): (bench: Bench) => void {
  return (bench) => {
    const { world } = bench.box;
    world.chain.contact('output')!.weld = 'closed';
    bench.ask('open', { channel: 0 });
    bench.box.advance(20);
    const { volt, amp } = world.vehicle.terminal(world.pathOhm, world.clock.nowMs);
    isTrue(volt > 0, 'fed');
    feed(bench, amp * 1e6, microamp);
    bench.box.advance(1000);
  };
}

const welded: TripCase = {
  fault: 'OUTPUT_WELDED',
  when: 'with everything in the path when more than half a milliamp flows through an open output',
  unless: 'when less than half a milliamp leaks through an open output',
  start: () => magnetic(60),
  exceed: weldedWith(550),
  approach: weldedWith(450),
  measured: [545, 555],
  limit: 500,
  mend: (bench) => {
    bench.box.world.chain.contact('output')!.weld = undefined;
    unfeed(bench);
  },
  spared: 'safe',
};

export const circuitCases: readonly TripCase[] = [
  current,
  comparator,
  element,
  overload,
  total,
  overVoltage,
  reversed,
  lowResistance,
  stuck,
  outputOpen,
  welded,
];
