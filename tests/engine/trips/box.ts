import { Bench } from '../bench';
import { equal, isTrue } from '../check';
import { magnetic, nothingToMend } from './case';
import type { TripCase } from './case';

// Guards of the box itself and of the link: host, coil rail, meter, memory, restarts.

const LEASE_MS = 1500;

const deadMan: TripCase = {
  fault: 'DEAD_MAN',
  when: 'when the host has been silent for longer than the lease',
  unless: 'when the host speaks sixty milliseconds before the lease is over, again and again',
  start: () => magnetic(60),
  exceed: (bench) => {
    bench.beat();
    bench.box.advance(LEASE_MS + 40);
    isTrue(bench.isOutputOpen, 'open within 40 ms of the lease');
  },
  approach: (bench) => {
    for (let beat = 0; beat < 5; beat += 1) {
      bench.beat();
      // Its bytes are taken eight in a turn.
      bench.box.advance(LEASE_MS - 60);
    }
  },
  measured: [LEASE_MS + 1, LEASE_MS + 45],
  limit: LEASE_MS,
  mend: nothingToMend,
  spared: 'driving',
};

const SHORT_LEASE_MS = 400;

const shortLease: TripCase = {
  ...deadMan,
  when: 'after the shorter lease that a setting has asked for',
  unless: 'within the shorter lease that a setting has asked for',
  start: () => {
    const bench = magnetic(60);
    const fields = bench.setting(80, bench.table(), SHORT_LEASE_MS);
    equal(bench.ask('set', fields).refused, undefined, 'set');
    return bench;
  },
  exceed: (bench) => {
    bench.beat();
    bench.box.advance(SHORT_LEASE_MS + 40);
    isTrue(bench.isOutputOpen, 'open within 40 ms of the lease');
  },
  approach: (bench) => {
    for (let beat = 0; beat < 5; beat += 1) {
      bench.beat();
      bench.box.advance(SHORT_LEASE_MS - 60);
    }
  },
  measured: [SHORT_LEASE_MS + 1, SHORT_LEASE_MS + 45],
  limit: SHORT_LEASE_MS,
};

const RAIL_MIN_MILLIVOLT = 4600;

const railAt =
  (millivolt: number, forMs: number) =>
  (bench: Bench): void => {
    bench.box.world.rail.supplyMillivolt = millivolt;
    bench.live(forMs);
  };

const brownOut: TripCase = {
  fault: 'BROWN_OUT',
  when: "when the box's own supply is ten millivolts too low for the relays",
  unless: "when the box's own supply is ten millivolts above what the relays need",
  start: () => magnetic(60),
  exceed: railAt(RAIL_MIN_MILLIVOLT - 10, 300),
  approach: railAt(RAIL_MIN_MILLIVOLT + 10, 3000),
  measured: [RAIL_MIN_MILLIVOLT - 12, RAIL_MIN_MILLIVOLT - 8],
  limit: RAIL_MIN_MILLIVOLT,
  mend: (bench) => {
    bench.box.world.rail.supplyMillivolt = 5000;
  },
  spared: 'driving',
};

const coilSupply: TripCase = {
  ...brownOut,
  fault: 'COIL_SUPPLY',
  when: 'when the coil rail is cut off',
  unless: 'when the coil rail dips for twenty milliseconds, as it does when a coil closes',
  exceed: railAt(0, 300),
  approach: (bench) => {
    bench.box.world.rail.supplyMillivolt = 0;
    bench.box.advance(20);
    bench.box.world.rail.supplyMillivolt = 5000;
    bench.live(1000);
  },
  measured: [0, 0],
};

const restartsBy =
  (cause: 'watchdog' | 'brown-out' | 'power') =>
  (bench: Bench): void => {
    bench.box.restart(cause);
    bench.box.advance(10);
    isTrue(bench.isOutputOpen, 'open at once');
    bench.hello(3);
  };

const brownOutReset: TripCase = {
  ...brownOut,
  when: 'by a restart because its own supply has failed',
  unless: 'by a restart because somebody has switched it on',
  exceed: restartsBy('brown-out'),
  approach: restartsBy('power'),
  measured: [0, 0],
  mend: nothingToMend,
  spared: 'safe',
};

const watchdog: TripCase = {
  ...brownOutReset,
  fault: 'WATCHDOG_RESET',
  when: 'by a restart of its own, and counts those since it was switched on',
  unless: 'by a restart of its own that was followed by one from the switch',
  exceed: (bench) => {
    bench.box.restart('watchdog');
    restartsBy('watchdog')(bench);
  },
  approach: (bench) => {
    bench.box.restart('watchdog');
    restartsBy('power')(bench);
  },
  measured: [2, 2],
  limit: 0,
};

const hangFor = (bench: Bench, ms: number): void => {
  for (const chip of bench.box.world.converters) chip.isHung = true;
  bench.box.advance(ms);
};

const unhang = (bench: Bench): void => {
  for (const chip of bench.box.world.converters) chip.isHung = false;
};

const meterSilent: TripCase = {
  fault: 'METER_SILENT',
  when: 'when no reading has come for longer than sixty milliseconds',
  unless: 'when readings fail to come for twenty milliseconds and the chips are set up anew',
  start: () => magnetic(60),
  exceed: (bench) => {
    hangFor(bench, 90);
    isTrue(bench.isOutputOpen, 'open in time');
  },
  approach: (bench) => {
    hangFor(bench, 20);
    unhang(bench);
    bench.live(1000);
  },
  measured: [61, 68],
  limit: 60,
  mend: unhang,
  spared: 'driving',
};

const oneChipSilent: TripCase = {
  ...meterSilent,
  when: 'when only the chip that reads the current has fallen silent',
  unless: 'when only the chip that reads the current fails for twenty milliseconds',
  exceed: (bench) => {
    bench.box.world.converters[1].isHung = true;
    bench.box.advance(90);
    isTrue(bench.isOutputOpen, 'open in time');
  },
  approach: (bench) => {
    bench.box.world.converters[1].isHung = true;
    bench.box.advance(20);
    unhang(bench);
    bench.live(1000);
  },
};

const table: TripCase = {
  fault: 'CALIBRATION_INVALID',
  when: 'when one milliohm of the element table in memory changes by itself',
  unless: 'when a stored copy goes bad but the table in memory is what was loaded',
  start: () => magnetic(60),
  exceed: (bench) => {
    bench.box.spoilTable();
    bench.live(1100);
  },
  approach: (bench) => {
    bench.box.flash.clear();
    bench.live(3000);
  },
  measured: [2, 2],
  limit: 2,
  mend: nothingToMend,
  spared: 'driving',
};

/** Makes reading the coil rail throw: nothing in the firmware expects that. */
function breakRail(bench: Bench): void {
  const broken = {
    get supplyMillivolt(): number {
      throw new Error('the converter of the chip does not answer');
    },
  };
  Object.defineProperties(bench.box.world.rail, Object.getOwnPropertyDescriptors(broken));
}

function mendRail(bench: Bench): void {
  Object.defineProperties(bench.box.world.rail, Object.getOwnPropertyDescriptors({ supplyMillivolt: 5000 }));
}

const loopThrows: TripCase = {
  fault: 'INTERNAL',
  when: 'when a turn of its main loop throws, and names the place',
  unless: 'when only a reading throws, once',
  start: () => magnetic(60),
  exceed: (bench) => {
    breakRail(bench);
    bench.box.advance(30);
    isTrue(bench.isOutputOpen, 'open in time');
    mendRail(bench);
  },
  approach: (bench) => {
    hangFor(bench, 7);
    unhang(bench);
    bench.live(1000);
  },
  measured: [1, 1],
  limit: 0,
  mend: nothingToMend,
  spared: 'driving',
};

/** Fails the first step: edges keep coming, so the rail never falls. */
function keepRailUp(bench: Bench): void {
  const { rail, clock } = bench.box.world;
  for (let edge = 0; edge < 60; edge += 1) clock.at(bench.box.nowMs + 50 * edge, () => rail.drive(edge % 2));
  bench.box.advance(200);
}

const selfTest: TripCase = {
  fault: 'SELF_TEST',
  when: 'and stays open when the dead-man does not cut the coils at arming',
  unless: 'and arms when the dead-man cuts the coils',
  start: () => {
    const bench = new Bench({ gauge: 'two-coil-fuel' });
    bench.hello();
    return bench;
  },
  exceed: (bench) => {
    keepRailUp(bench);
    const refused = bench.arm();
    equal([refused.refused, refused.detail], ['SELF_TEST', 1], 'refusal');
  },
  approach: (bench) => void bench.arm(),
  measured: [1, 1],
  limit: 5,
  mend: (bench) => bench.box.advance(3000),
  spared: 'armed',
};

const railDead: TripCase = {
  ...selfTest,
  when: 'and stays open when the coils are not fed at arming',
  unless: 'and arms when the coils are fed just enough',
  exceed: (bench) => {
    bench.box.world.rail.supplyMillivolt = RAIL_MIN_MILLIVOLT - 10;
    const refused = bench.arm();
    equal([refused.refused, refused.detail], ['SELF_TEST', 2], 'refusal');
  },
  approach: (bench) => {
    bench.box.world.rail.supplyMillivolt = RAIL_MIN_MILLIVOLT + 10;
    bench.arm();
  },
  measured: [2, 2],
  mend: (bench) => {
    bench.box.world.rail.supplyMillivolt = 5000;
  },
};

const meterDead: TripCase = {
  ...selfTest,
  when: 'and stays open when the meter is silent at arming',
  unless: 'and arms when the meter reads',
  exceed: (bench) => {
    hangFor(bench, 100);
    const refused = bench.arm();
    equal([refused.refused, refused.detail], ['SELF_TEST', 3], 'refusal');
  },
  measured: [3, 3],
  mend: unhang,
};

export const boxCases: readonly TripCase[] = [
  deadMan,
  shortLease,
  brownOut,
  coilSupply,
  brownOutReset,
  watchdog,
  meterSilent,
  oneChipSilent,
  table,
  loopThrows,
  selfTest,
  railDead,
  meterDead,
];
