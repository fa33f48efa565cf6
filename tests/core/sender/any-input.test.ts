import fc from 'fast-check';
import { plain } from '../../../host/words/notation';
import { saidRefusal } from '../../../host/words/refusal';
import { describe, expect, it } from 'vitest';
import {
  fitSender,
  senderOhmAt,
  senderResponse,
  senderValueAt,
  type SenderLawName,
} from '../../../host/core/sender';
import { answered } from '../../support/answer';

const models: (SenderLawName | undefined)[] = [
  undefined,
  'steinhart-hart',
  'beta',
  'exponential',
  'linear',
  'polynomial',
  'table',
];
const anyNumber = fc.oneof(
  fc.double({ min: -100, max: 400, noNaN: true }),
  fc.integer({ min: -5, max: 5 }),
  fc.double(),
);
const anyOhm = fc.oneof(
  fc.double({ min: 0, max: 1e4, noNaN: true }),
  fc.double({ min: Math.log(1e-3), max: Math.log(1e7), noNaN: true }).map(Math.exp),
  fc.constantFrom(0, 1, 90, 1e9, -1, Number.NaN, Infinity),
);
const anyUncertainty = fc.option(fc.constantFrom(0, 0.1, 1, 1e-9, 1e6, -1), { nil: undefined });
const anyPoint = fc.record({
  value: anyNumber,
  resistanceOhm: anyOhm,
  valueUncertainty: anyUncertainty,
  resistanceUncertaintyOhm: anyUncertainty,
});
/** Points a person could have measured: values and ohms of ordinary size, any shape. */
const anyOrdinaryPoint = fc.record({
  value: fc.double({ min: -40, max: 160, noNaN: true }),
  resistanceOhm: fc.double({ min: Math.log(0.5), max: Math.log(1e5), noNaN: true }).map(Math.exp),
});
const anyUnit = fc.constantFrom('degC', 'degF', 'bar', 'psi', '%', 'fathom');

/** Every number inside plain data. */
function numbersIn(data: unknown): number[] {
  if (typeof data === 'number') return [data];
  if (typeof data !== 'object' || data === null) return [];
  return Object.values(data).flatMap(numbersIn);
}

function checkSender(
  points: Parameters<typeof fitSender>[0],
  unit: string,
  model: SenderLawName | undefined,
): void {
  const sender = fitSender(points, { unit, model });
  if (sender.kind === 'refused') {
    expect(sender.code).toMatch(/^SENDER_/);
    expect(saidRefusal(sender, plain)).not.toMatch(/undefined|\[object/);
    return;
  }
  expect(numbersIn(sender).filter((each) => !Number.isFinite(each))).toEqual([]);
  expect(sender.usableFrom).toBeLessThanOrEqual(sender.knownFrom);
  expect(sender.usableTo).toBeGreaterThanOrEqual(sender.knownTo);
  const response = answered(senderResponse(sender));
  for (const value of [
    sender.usableFrom,
    sender.knownFrom,
    (sender.knownFrom + sender.knownTo) / 2,
    sender.usableTo,
  ]) {
    const found = senderOhmAt(sender, value);
    expect(numbersIn(found).filter((each) => !Number.isFinite(each))).toEqual([]);
    const ohm = response.ohm(value);
    expect(Number.isFinite(ohm) && ohm >= 0).toBe(true);
    expect(numbersIn(senderValueAt(sender, ohm)).every(Number.isFinite)).toBe(true);
    expect(Number.isFinite(response.value(ohm))).toBe(true);
    expect(response.relativeUncertainty(value)).toBeLessThanOrEqual(1);
  }
}

describe('whatever a person types', () => {
  it('is answered in finite numbers or refused in words (anything at all)', () => {
    fc.assert(
      fc.property(fc.array(anyPoint, { maxLength: 8 }), anyUnit, fc.constantFrom(...models), checkSender),
      { numRuns: 500 },
    );
  });

  it('is answered in finite numbers or refused in words (numbers of ordinary size)', () => {
    fc.assert(
      fc.property(
        fc.array(anyOrdinaryPoint, { minLength: 2, maxLength: 8 }),
        anyUnit,
        fc.constantFrom(...models),
        checkSender,
      ),
      { numRuns: 500 },
    );
  });

  it('is answered in finite numbers or refused in words (resistance rising or falling throughout)', () => {
    const anyRun = fc.array(anyOrdinaryPoint, { minLength: 2, maxLength: 8 }).chain((points) =>
      fc.boolean().map((isRising) => {
        const values = points.map(({ value }) => value).sort((one, other) => one - other);
        const ohms = points
          .map(({ resistanceOhm }) => resistanceOhm)
          .sort((one, other) => (isRising ? one - other : other - one));
        return values.map((value, i) => ({ value, resistanceOhm: ohms[i]! }));
      }),
    );
    fc.assert(fc.property(anyRun, anyUnit, fc.constantFrom(...models), checkSender), { numRuns: 500 });
  });
});
