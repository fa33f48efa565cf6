import { describe, expect, it } from 'vitest';
import { contactGuard } from '../../../firmware-ts/guard/contact';
import { currentGuard, hardwareCurrentGuard } from '../../../firmware-ts/guard/current';
import { deadManGuard } from '../../../firmware-ts/guard/dead-man';
import type { Guard, GuardView, Trip } from '../../../firmware-ts/guard/guard';
import { jobLimits } from '../../../firmware-ts/guard/job-limits';
import { lowResistanceGuard } from '../../../firmware-ts/guard/low-resistance';
import { meterSilentGuard } from '../../../firmware-ts/guard/meter-silent';
import { elementPowerGuard, ratedLimitMilliwatt, totalPowerGuard } from '../../../firmware-ts/guard/power';
import { railGuard } from '../../../firmware-ts/guard/rail';
import { supplyGuard } from '../../../firmware-ts/guard/supply';
import { weldedGuard } from '../../../firmware-ts/guard/welded';
import { ElementTable, limiterRow } from '../../../firmware-ts/ladder/table';
import type { FaultName } from '../../../protocol';

const table = new ElementTable();
table.fillNominal();
const context = { limits: jobLimits.thermal, table };
const CLOSED_100_OHM = 0xffff & ~((1 << 5) | (1 << 7) | (1 << 2) | (1 << 0));

/** A gauge driven soundly: 5 V across 100 ohm. */
const sound: GuardView = {
  elapsedMs: 7,
  isFresh: true,
  isArmed: true,
  isOutputClosed: true,
  isDriving: true,
  isSettled: true,
  isOutputAtRestOpen: false,
  isCalibrated: true,
  terminalMicrovolt: 5e6,
  currentMicroamp: 0,
  peakLimitMilliamp: 300,
  meterAgeMs: 5,
  contactMask: CLOSED_100_OHM,
  madeMilliohm: table.madeMilliohm(CLOSED_100_OHM),
  hostSilentMs: 100,
  leaseMs: 1500,
  railMillivolt: 5000,
  isRailWanted: true,
  isHardwareTripped: false,
};
sound.currentMicroamp = (sound.terminalMicrovolt / sound.madeMilliohm) * 1000;

/** First trip in so many looks at the same view. */
function lookAt(guard: Guard, change: Partial<GuardView>, looks = 20): Trip | undefined {
  for (let look = 0; look < looks; look += 1) {
    const trip = guard.check({ ...sound, ...change }, context);
    if (trip !== undefined) return trip;
  }
  return undefined;
}

const heavy = { currentMicroamp: 260_000, elapsedMs: 1000 };

type Row = readonly [fault: FaultName, make: () => Guard, change: Partial<GuardView>, looks: number];

/** What trips each guard, and the value that is no number in the same place. */
const rows: readonly Row[] = [
  ['DEAD_MAN', () => deadManGuard, { hostSilentMs: 1501 }, 1],
  ['CURRENT_HIGH', currentGuard, { currentMicroamp: 300_001 }, 1],
  ['CURRENT_HIGH', currentGuard, { currentMicroamp: -300_001 }, 1],
  ['CURRENT_HIGH', () => hardwareCurrentGuard, { isHardwareTripped: true }, 1],
  ['SUPPLY_HIGH', supplyGuard, { terminalMicrovolt: 16_001_000 }, 2],
  ['SUPPLY_REVERSED', supplyGuard, { terminalMicrovolt: -201_000 }, 2],
  ['ELEMENT_POWER', elementPowerGuard, { ...heavy, contactMask: 0xffff & ~(1 << 7) }, 200],
  ['TOTAL_POWER', totalPowerGuard, heavy, 400],
  ['LOW_RESISTANCE_TIME', lowResistanceGuard, { madeMilliohm: 7_499, elapsedMs: 100 }, 60],
  ['CONTACT_STUCK', contactGuard, { terminalMicrovolt: 6e6 }, 5],
  ['OUTPUT_OPEN', contactGuard, { terminalMicrovolt: 9e6, currentMicroamp: 3 }, 5],
  ['OUTPUT_WELDED', weldedGuard, { isOutputAtRestOpen: true, currentMicroamp: 600 }, 5],
  ['METER_SILENT', () => meterSilentGuard, { meterAgeMs: 61 }, 1],
  ['BROWN_OUT', railGuard, { railMillivolt: 4_500 }, 10],
  ['COIL_SUPPLY', railGuard, { railMillivolt: 0 }, 10],
];

describe.each(rows)('the guard for %s', (fault, make, change, looks) => {
  it('trips with the measured value and the limit', () => {
    const trip = lookAt(make(), change, looks);
    expect(trip?.fault).toBe(fault);
    expect(Number.isFinite(trip?.measured) && Number.isFinite(trip?.limit)).toBe(true);
  });

  it('has nothing to say about a sound circuit', () => {
    expect(lookAt(make(), {}, 500)).toBeUndefined();
  });
});

const MEASURED = [
  'hostSilentMs',
  'currentMicroamp',
  'terminalMicrovolt',
  'madeMilliohm',
  'meterAgeMs',
  'railMillivolt',
] as const;

/** The same view with no numbers in the place of those that trip; time and contacts stay as they are. */
const withoutNumbers = (change: Partial<GuardView>): Partial<GuardView> => {
  const view = { ...change };
  for (const key of MEASURED) if (key in change) view[key] = NaN;
  return view;
};

describe('numbers that are no numbers', () => {
  /** Told by a pin, not by a number. */
  const byPin = rows.filter(([, , change]) => change.isHardwareTripped === true);
  /** A resistance that is no number cannot be told from an open circuit. */
  const byResistance = rows.filter(([fault]) => fault === 'OUTPUT_OPEN');
  const byNumber = rows.filter((row) => !byPin.includes(row) && !byResistance.includes(row));

  it('are tried on every guard', () => {
    expect([byPin.length, byResistance.length, byNumber.length]).toEqual([1, 1, rows.length - 2]);
  });

  it.each(byNumber)('trip %s no later than the fault itself', (_fault, make, change, looks) => {
    expect(lookAt(make(), withoutNumbers(change), looks * 3)).toBeDefined();
  });

  it.each(byResistance)(
    'trip the supply in place of %s, which cannot know',
    (_fault, make, change, looks) => {
      const view = withoutNumbers(change);
      expect(view.terminalMicrovolt).toBeNaN();
      expect(lookAt(make(), view, looks * 3)).toBeUndefined();
      expect(lookAt(supplyGuard(), view, looks)?.fault).toMatch(/^SUPPLY_/);
    },
  );
});

describe('guards with a memory', () => {
  it('forget a fault that does not last: one sample of voltage, one of a wrong resistance', () => {
    const high = supplyGuard();
    expect(lookAt(high, { terminalMicrovolt: 20e6 }, 1)).toBeUndefined();
    expect(lookAt(high, {}, 1)).toBeUndefined();
    expect(lookAt(high, { terminalMicrovolt: 20e6 }, 1)).toBeUndefined();
    const contact = contactGuard();
    expect(lookAt(contact, { terminalMicrovolt: 9e6 }, 4)).toBeUndefined();
    expect(lookAt(contact, {}, 1)).toBeUndefined();
    expect(lookAt(contact, { terminalMicrovolt: 9e6 }, 4)).toBeUndefined();
  });

  it('pay time below the floor back at the rate it was spent', () => {
    const guard = lowResistanceGuard();
    const low = { madeMilliohm: 5_000, elapsedMs: 100 };
    expect(lookAt(guard, low, 40)).toBeUndefined();
    expect(lookAt(guard, { elapsedMs: 100 }, 20)).toBeUndefined();
    expect(lookAt(guard, low, 29)).toBeUndefined();
    expect(lookAt(guard, low, 2)?.fault).toBe('LOW_RESISTANCE_TIME');
  });

  it('do not forget time below the floor at arming: the heater does not cool by it', () => {
    const guard = lowResistanceGuard();
    const low = { madeMilliohm: 5_000, elapsedMs: 100 };
    expect(lookAt(guard, low, 45)).toBeUndefined();
    guard.reset();
    expect(lookAt(guard, low, 6)?.fault).toBe('LOW_RESISTANCE_TIME');
  });

  it('feel power with the thermal time of the part, and a gross overload at once', () => {
    const oneElement = 0xffff & ~(1 << 7);
    const guard = elementPowerGuard();
    expect(lookAt(guard, { ...heavy, contactMask: oneElement }, 20)).toBeUndefined();
    const gross = { currentMicroamp: 600_000, contactMask: oneElement, elapsedMs: 7 };
    expect(lookAt(elementPowerGuard(), gross, 1)?.fault).toBe('ELEMENT_POWER');
  });

  it('count nothing while the pulsing feed is off', () => {
    expect(lookAt(contactGuard(), { terminalMicrovolt: 100, currentMicroamp: 1 }, 50)).toBeUndefined();
  });
});

describe('the guard for the coil rail', () => {
  it('bears a dip of two turns, as when a coil closes, and opens on one of four', () => {
    const low = { railMillivolt: 4_500, elapsedMs: 16 };
    expect(lookAt(railGuard(), low, 2)).toBeUndefined();
    expect(lookAt(railGuard(), low, 4)?.fault).toBe('BROWN_OUT');
  });
});

describe('the guard for the current', () => {
  const TURN_MS = 8;
  /** A stabiliser that sticks closed: 14 V through 12.2 and 10 ohm. */
  const STUCK_MILLIAMP = (14 / 22.2) * 1000;
  const PEAK_MILLIAMP = 1.25 * STUCK_MILLIAMP;

  /** Pulses of so long in each second, until it trips or the time is over; ms. */
  function bears(onMs: number, forMs: number, guard = currentGuard()): number {
    for (let atMs = 0; atMs < forMs; atMs += TURN_MS) {
      const milliamp = atMs % 1000 < onMs ? STUCK_MILLIAMP : 0;
      const change = {
        currentMicroamp: milliamp * 1000,
        elapsedMs: TURN_MS,
        peakLimitMilliamp: PEAK_MILLIAMP,
      };
      if (guard.check({ ...sound, ...change }, context) !== undefined) return atMs;
    }
    return forMs;
  }

  it('opens within 2.5 s when a stabiliser sticks closed, from cold and after its ordinary pulses', () => {
    expect(bears(1000, 10_000)).toBeLessThan(2500);
    expect(bears(1000, 10_000)).toBeGreaterThan(500);
    const guard = currentGuard();
    // (5 / 14)^2 of the time: 225 mA root mean square.
    expect(bears(128, 600_000, guard)).toBe(600_000);
    expect(bears(1000, 10_000, guard)).toBeLessThan(2500);
  });

  it('keeps the heat of a job over the arming of the next', () => {
    const guard = currentGuard();
    bears(1000, 1000, guard);
    guard.reset();
    expect(bears(1000, 10_000, guard)).toBeLessThan(bears(1000, 10_000));
  });

  it('opens on one sample above the peak, and counts a current that is no number as far too much', () => {
    const over = { currentMicroamp: 801_000, peakLimitMilliamp: 800 };
    expect(lookAt(currentGuard(), over, 1)).toMatchObject({ fault: 'CURRENT_HIGH', limit: 800 });
    expect(lookAt(currentGuard(), { currentMicroamp: 799_000, peakLimitMilliamp: 800 }, 1)).toBeUndefined();
    const unknown = { currentMicroamp: NaN, isFresh: false, elapsedMs: 100 };
    expect(lookAt(currentGuard(), unknown, 100)?.fault).toBe('CURRENT_HIGH');
  });

  it('allows one sample more than the mean to a thermal job only', () => {
    const kinds = Object.entries(jobLimits);
    const withPulses = kinds.filter(([, own]) => own.peakLimitMilliamp > own.currentLimitMilliamp);
    expect(withPulses.map(([kind, own]) => [kind, own.peakLimitMilliamp])).toEqual([['thermal', 800]]);
    for (const [, own] of kinds)
      expect(own.peakLimitMilliamp).toBeGreaterThanOrEqual(own.currentLimitMilliamp);
  });
});

describe('the guard for the power of each resistor', () => {
  const rowsOfChain = Array.from({ length: limiterRow + 1 }, (_, row) => row);
  const LOOK_MS = 500;
  const LONG_LOOKS = 400; // five time constants of the slowest part

  /** Only this row in the path, carrying a part of what it may for good. */
  const carrying = (row: number, part: number): Partial<GuardView> => {
    const milliwatt = part * Math.min(context.limits.elementPowerLimitMilliwatt, ratedLimitMilliwatt(row));
    const amp = Math.sqrt(milliwatt / table.milliohm[row]!);
    return { contactMask: 0xffff & ~(1 << row), currentMicroamp: amp * 1e6, elapsedMs: LOOK_MS };
  };

  it.each(rowsOfChain)(
    "opens on a fiftieth more than row %i's own rating, and bears a fiftieth less",
    (row) => {
      expect(lookAt(elementPowerGuard(), carrying(row, 0.98), LONG_LOOKS)).toBeUndefined();
      expect(lookAt(elementPowerGuard(), carrying(row, 1.02), LONG_LOOKS)?.fault).toBe('ELEMENT_POWER');
    },
  );

  it.each(rowsOfChain)(
    'bears just under six times what row %i may carry for an instant, and no more',
    (row) => {
      const instant = (times: number) => ({ ...carrying(row, times), elapsedMs: 8 });
      expect(lookAt(elementPowerGuard(), instant(5.9), 5)).toBeUndefined();
      expect(lookAt(elementPowerGuard(), instant(6.1), 1)?.fault).toBe('ELEMENT_POWER');
    },
  );

  it('keeps the heat of a job over the arming of the next: a resistor does not cool by being armed', () => {
    const guard = elementPowerGuard();
    const hot = carrying(7, 2);
    let looks = 0;
    while (lookAt(guard, hot, 1) === undefined) looks += 1;
    guard.reset();
    // Each resistor is looked at in its turn.
    expect(lookAt(guard, { ...hot, elapsedMs: 8 }, limiterRow + 1)?.fault).toBe('ELEMENT_POWER');
    expect(looks).toBeGreaterThan(20);
  });

  it('charges a resistor only for the time it is in the path, however often the contacts move', () => {
    // Two parts of one rating, in turns of the main loop, one in the path at a time, each at 1.8 times its limit.
    const [one, other] = [carrying(0, 1.8), carrying(1, 1.8)].map((view) => ({ ...view, elapsedMs: 8 }));
    const guard = elementPowerGuard();
    for (let turn = 0; turn < 30_000; turn += 1)
      expect(
        guard.check({ ...sound, ...(turn % 2 === 0 ? one : other) }, context),
        `turn ${turn}`,
      ).toBeUndefined();
    // Half of the time 2.4 times the limit is 1.2 times it.
    const hotter = [carrying(0, 2.4), carrying(1, 2.4)].map((view) => ({ ...view, elapsedMs: 8 }));
    const trips = Array.from({ length: 30_000 }, (_, turn) =>
      guard.check({ ...sound, ...hotter[turn % 2] }, context),
    );
    expect(trips.some((trip) => trip?.fault === 'ELEMENT_POWER')).toBe(true);
  });

  it('counts nothing for what is shorted, and nothing while the output is open', () => {
    const { currentMicroamp } = carrying(0, 3);
    const nothingInserted = { currentMicroamp: currentMicroamp!, contactMask: 0xffff, elapsedMs: LOOK_MS };
    expect(lookAt(elementPowerGuard(), nothingInserted, LONG_LOOKS)).toBeUndefined();
    const open = { ...carrying(0, 3), isOutputClosed: false };
    expect(lookAt(elementPowerGuard(), open, LONG_LOOKS)).toBeUndefined();
  });
});

describe('the guard for the power of the whole box', () => {
  const carrying = (part: number): Partial<GuardView> => {
    const amp = Math.sqrt((part * context.limits.totalPowerLimitMilliwatt) / sound.madeMilliohm);
    return { currentMicroamp: amp * 1e6, elapsedMs: 1000 };
  };
  const LONG_LOOKS = 400; // more than six time constants

  it('opens on a fiftieth more than its limit, and bears a fiftieth less for good', () => {
    expect(lookAt(totalPowerGuard(), carrying(0.98), LONG_LOOKS)).toBeUndefined();
    expect(lookAt(totalPowerGuard(), carrying(1.02), LONG_LOOKS)?.fault).toBe('TOTAL_POWER');
  });

  it('cools while the output is open', () => {
    const guard = totalPowerGuard();
    expect(lookAt(guard, carrying(1.5), 60)).toBeUndefined();
    expect(lookAt(guard, { ...carrying(1.5), isOutputClosed: false }, 60)).toBeUndefined();
    expect(lookAt(guard, carrying(1.5), 40)).toBeUndefined();
    expect(lookAt(guard, carrying(1.5), 60)?.fault).toBe('TOTAL_POWER');
  });
});

describe('what a resistor may carry for good', () => {
  it('is three quarters of what is printed on it, the limiter too', () => {
    // R7 5 W, R10 2 W, R14 0.6 W, the limiter 10 W: hardware-notes/parts.md.
    expect([6, 9, 13, limiterRow].map(ratedLimitMilliwatt)).toEqual([5250, 1500, 450, 7500]);
  });
});
