import { describe, expect, it } from 'vitest';
import { contactBits, elements, groundLead, path } from '../../../firmware-ts/board/reference-design';
import { CalibrationSession } from '../../../firmware-ts/calibration/session';
import { limiterRow, residualRow } from '../../../firmware-ts/ladder/table';
import type { KelvinResult } from '../../../firmware-ts/meter/kelvin';

const plain: KelvinResult = {
  ohm: 0.9,
  addedOhm: 0,
  addedUncertaintyOhm: 0.01,
  uncertaintyOhm: 0.01,
  terminalMicrovolt: 9000,
  currentMicroamp: 10_000,
  offMicrovolt: 0,
  shuntOffMicroamp: 12,
  shuntOnMicroamp: 10_012,
  groundSenseMicrovolt: -3_000,
  groundOffsetMicrovolt: 12_400,
};
const elementRows = elements.map(
  (element, row) => [element.name, row, element.nominalMilliohm / 1000] as const,
);

/** A session in which the residual has been measured. */
function begun(): CalibrationSession {
  const session = new CalibrationSession();
  expect(session.take(residualRow, plain)).toBe(true);
  return session;
}

/** The whole procedure, every part as printed on it. */
function finished(): CalibrationSession {
  const session = begun();
  for (const [, row, ohm] of elementRows) session.take(row, { ...plain, addedOhm: ohm });
  session.take(limiterRow, { ...plain, addedOhm: path.limiter.milliohm / 1000 });
  return session;
}

describe('a row of the calibration', () => {
  it.each(elementRows)(
    '%s is taken within 3 % and a tenth of an ohm of what is printed on it',
    (_name, row, ohm) => {
      const allowedOhm = 0.03 * ohm + 0.1;
      for (const side of [-1, 1]) {
        const session = begun();
        expect(session.take(row, { ...plain, addedOhm: ohm + side * 1.01 * allowedOhm })).toBe(false);
        expect(session.ohm(row)).toBeNaN();
        expect(session.take(row, { ...plain, addedOhm: ohm + side * 0.99 * allowedOhm })).toBe(true);
        expect(session.ohm(row)).toBeCloseTo(ohm + side * 0.99 * allowedOhm, 9);
      }
    },
  );

  it('of the limiter is taken within 8 %', () => {
    const ohm = path.limiter.milliohm / 1000;
    expect(begun().take(limiterRow, { ...plain, addedOhm: 1.085 * ohm })).toBe(false);
    expect(begun().take(limiterRow, { ...plain, addedOhm: 1.075 * ohm })).toBe(true);
  });

  it('that is no number is not taken', () => {
    expect(begun().take(3, { ...plain, addedOhm: NaN })).toBe(false);
    expect(new CalibrationSession().take(residualRow, { ...plain, ohm: NaN })).toBe(false);
  });

  it.each([
    ['one of the two shunt resistors is open', { shuntOffMicroamp: 0, shuntOnMicroamp: 20_000 }],
    ['half of the shunt is bridged', { shuntOffMicroamp: 0, shuntOnMicroamp: 5_000 }],
    ['the sense wires of the shunt are swapped', { shuntOffMicroamp: 0, shuntOnMicroamp: -10_000 }],
    ['the shunt feels nothing', { shuntOffMicroamp: 12, shuntOnMicroamp: 12 }],
    ['six milliamps are shown where none flow', { shuntOffMicroamp: 6_000, shuntOnMicroamp: 16_000 }],
    ['the shunt was not read', { shuntOffMicroamp: NaN, shuntOnMicroamp: 10_000 }],
  ])('is not taken when %s: guard and comparators would go by it', (_what, shunt) => {
    const session = new CalibrationSession();
    expect(session.take(residualRow, { ...plain, ...shunt })).toBe(false);
    expect(session.isReadyFor(0)).toBe(false);
  });

  it('needs the residual first', () => {
    const session = new CalibrationSession();
    expect([session.isReadyFor(0), session.isReadyFor(limiterRow), session.isReadyFor(residualRow)]).toEqual([
      false,
      false,
      true,
    ]);
    expect(begun().isReadyFor(0)).toBe(true);
  });

  it('is measured with the larger current as long as the source can drive it', () => {
    const session = begun();
    const ranges = elementRows.map(([, row]) => session.rangeOf(row));
    // 340 ohm at 10 mA are the 3.4 V that the source has: R10 is 255 ohm, R11 464.
    expect(ranges.lastIndexOf('high')).toBe(9);
    expect(ranges.indexOf('low')).toBe(10);
    expect([session.rangeOf(limiterRow), session.rangeOf(residualRow)]).toEqual(['high', 'high']);
  });

  it('inserts its own resistor and nothing else', () => {
    const session = begun();
    expect(session.insertedMask(residualRow)).toBeUndefined();
    expect(session.insertedMask(0)).toBe(contactBits.allMask & ~1);
    expect(session.insertedMask(limiterRow)).toBe(contactBits.allMask & ~contactBits.limiterBypassMask);
  });
});

describe('the residual', () => {
  it('is refused when nothing, or more than contacts and leads can have', () => {
    for (const [ohm, isTaken] of [
      [0, false],
      [0.001, true],
      [4.99, true],
      [5.01, false],
    ] as const) {
      expect(new CalibrationSession().take(residualRow, { ...plain, ohm }), `${ohm} ohm`).toBe(isTaken);
    }
  });

  it('is the mean of its measurements and the ground lead, surer with each', () => {
    const session = new CalibrationSession();
    const uncertainties: number[] = [];
    for (const ohm of [0.8, 1.0, 0.9, 0.9]) {
      session.take(residualRow, { ...plain, ohm });
      uncertainties.push(session.uncertaintyOhm(residualRow));
    }
    expect(session.ohm(residualRow)).toBeCloseTo(0.9 + groundLead.milliohm / 1000, 9);
    expect(uncertainties).toEqual([...uncertainties].sort((a, b) => b - a));
    // 40 mohm of contacts once, 20 as the mean of four; 10 of the measurement and 35 of the ground lead stay.
    expect(uncertainties[0]).toBeCloseTo(Math.hypot(0.04, 0.01, 0.06 / Math.sqrt(3)), 4);
    expect(uncertainties[3]).toBeCloseTo(Math.hypot(0.02, 0.01, 0.06 / Math.sqrt(3)), 4);
  });
});

describe('what is stored', () => {
  it('has every row, and says which is missing until then', () => {
    expect(new CalibrationSession().missingRow()).toBe(0);
    const session = begun();
    expect(session.missingRow()).toBe(0);
    session.take(0, { ...plain, addedOhm: 1 });
    expect(session.missingRow()).toBe(1);
    expect(finished().missingRow()).toBe(-1);
  });

  it('corrects the meter: gain and zero of the shunt channel, zeros of terminals and ground leads', () => {
    const session = new CalibrationSession();
    // 10 mA by the reference, 10.1 mA more through the shunt with it on than off: gain 1/1.01.
    session.take(residualRow, { ...plain, shuntOffMicroamp: 12, shuntOnMicroamp: 10_112, offMicrovolt: -75 });
    const stored = session.calibration({
      counter: 3,
      calibrationId: 9,
      calibrationDay: 20_000,
      calibrationEndDay: 20_365,
    });
    expect(stored.currentGainPartsPerMillion).toBeCloseTo((1 / 1.01 - 1) * 1e6, 3);
    expect(stored).toMatchObject({
      currentOffsetNanoamp: 12_000,
      terminalZeroMicrovolt: -75,
      groundSenseZeroMicrovolt: -3_000,
      groundOffsetZeroMicrovolt: 12_400,
      counter: 3,
    });
  });

  it('holds every row to the scale of the divider that its zero tells', () => {
    const session = new CalibrationSession();
    // 1 % too little divided: zero volts read as 25 mV, everything above as 1 % less.
    const low = { ...plain, offMicrovolt: 25_000 };
    session.take(residualRow, { ...low, ohm: 0.99 });
    session.take(5, { ...low, addedOhm: 21.5 * 0.99 });
    expect(session.ohm(residualRow)).toBeCloseTo(1 + groundLead.milliohm / 1000, 9);
    expect(session.ohm(5)).toBeCloseTo(21.5, 9);
  });

  it('takes nothing over when the shunt does not feel the current at all', () => {
    const session = new CalibrationSession();
    expect(session.take(residualRow, { ...plain, shuntOnMicroamp: 12 })).toBe(false);
    expect([session.ohm(residualRow), session.isReadyFor(0)]).toEqual([NaN, false]);
  });
});
