import { describe, expect, it } from 'vitest';
import { contactBits } from '../../../firmware-ts/board/reference-design';
import { jobLimits } from '../../../firmware-ts/guard/job-limits';
import { predict } from '../../../firmware-ts/guard/prediction';
import { ElementTable } from '../../../firmware-ts/ladder/table';

const table = new ElementTable();
table.fillNominal();
const R6 = 5;
const target = { contactMask: contactBits.allMask & ~(1 << R6), table };
const targetOhm = table.madeMilliohm(target.contactMask) / 1000;
const limitAmp = jobLimits.thermal.currentLimitMilliamp / 1000;

/** Seen at 100 ohm: a source of three times the target's resistance that would drive so much current into the target. */
function foreseen(amp: number): ReturnType<typeof predict> {
  const sourceOhm = 3 * targetOhm;
  const openVolt = amp * (sourceOhm + targetOhm);
  const presentAmp = openVolt / (sourceOhm + 100);
  const point = {
    terminalMicrovolt: presentAmp * 100 * 1e6,
    currentMicroamp: presentAmp * 1e6,
    openCircuitMicrovolt: openVolt * 1e6,
  };
  return predict(point, target, jobLimits.thermal);
}

describe('what is foreseen of a setting', () => {
  it('counts the source as 5 % stiffer than it was found', () => {
    // 0.95 of a source of three parts in four: the current comes out 4 / 3.85 times as large.
    expect(foreseen((0.999 * limitAmp * 3.85) / 4).kind).toBe('bearable');
    const tooMuch = foreseen((1.001 * limitAmp * 3.85) / 4);
    expect(tooMuch).toMatchObject({ kind: 'too-much', refusal: 'PREDICTED_CURRENT' });
  });

  it('takes a source that was never seen open as one without resistance', () => {
    const seen = { terminalMicrovolt: 5e6, currentMicroamp: 50_000, openCircuitMicrovolt: 0 };
    const bearable = { ...seen, terminalMicrovolt: 0.99 * limitAmp * targetOhm * 1e6 };
    const tooMuch = { ...seen, terminalMicrovolt: 1.01 * limitAmp * targetOhm * 1e6 };
    expect(predict(bearable, target, jobLimits.thermal).kind).toBe('bearable');
    expect(predict(tooMuch, target, jobLimits.thermal).kind).toBe('too-much');
  });

  it('looks at the limiter too, and at it with its own rating', () => {
    const withLimiter = { contactMask: contactBits.allMask & ~contactBits.limiterBypassMask, table };
    const ohm = table.madeMilliohm(withLimiter.contactMask) / 1000;
    // 7.5 W in 47 ohm are 399 mA.
    const at = (amp: number): ReturnType<typeof predict> => {
      const volt = amp * ohm * 1e6;
      const point = { terminalMicrovolt: volt, currentMicroamp: amp * 1e6, openCircuitMicrovolt: volt };
      return predict(point, withLimiter, { ...jobLimits.thermal, currentLimitMilliamp: 1000 });
    };
    expect(at(0.398).kind).toBe('bearable');
    expect(at(0.401)).toMatchObject({ refusal: 'PREDICTED_POWER', limit: 7500 });
  });

  it('is nothing without current or with numbers that are none', () => {
    const seen = { terminalMicrovolt: 5e6, currentMicroamp: 499, openCircuitMicrovolt: 5e6 };
    expect(predict(seen, target, jobLimits.thermal).kind).toBe('unknown');
    expect(predict({ ...seen, currentMicroamp: NaN }, target, jobLimits.thermal).kind).toBe('unknown');
    const noVolt = { ...seen, currentMicroamp: 50_000, terminalMicrovolt: NaN };
    expect(predict(noVolt, target, jobLimits.thermal).kind).toBe('too-much');
  });
});

describe('what is foreseen behind a pulsing stabiliser', () => {
  // 12.2 ohm of heater at 13.5 V, on for (5 / 13.5)^2 of the time; 22 ohm are in the path.
  const duty = (5 / 13.5) ** 2;
  const amp = 13.5 / (12.2 + 100);
  const point = {
    terminalMicrovolt: amp * 100 * 1e6,
    currentMicroamp: amp * 1e6,
    openCircuitMicrovolt: 13.5e6,
  };
  const peakMilliamp = (13.5 / (0.95 * 12.2 + targetOhm)) * 1000;

  it('lets a thermal job have the peaks, a quarter more than foreseen, when their mean square is bearable', () => {
    expect(peakMilliamp).toBeGreaterThan(jobLimits.thermal.currentLimitMilliamp);
    const foreseenPulses = predict(point, target, jobLimits.thermal, { duty });
    expect(foreseenPulses).toMatchObject({ kind: 'bearable' });
    if (foreseenPulses.kind === 'bearable')
      expect(foreseenPulses.peakMilliamp).toBeCloseTo(1.25 * peakMilliamp, 3);
  });

  it('refuses the same peaks on a steady feed, waits where the feed is not known, and allows no other kind them', () => {
    expect(predict(point, target, jobLimits.thermal, 'steady').kind).toBe('too-much');
    expect(predict(point, target, jobLimits.thermal, 'unknown').kind).toBe('unknown');
    for (const kind of ['magnetic', 'electronic', 'unknown', 'fuel'] as const)
      expect(predict(point, target, jobLimits[kind], { duty }).kind, kind).toBe('too-much');
  });

  it("lets a fuel job go as low as the vehicle's own sender, at a tenth more than that circuit's own peak", () => {
    // What `tightened` makes of it: tests/firmware/box/state.test.ts.
    const own = (originalLeastMilliohm: number) => ({
      ...jobLimits.fuel,
      peakLimitMilliamp: 800,
      originalLeastMilliohm,
    });
    const milliohm = 1000 * targetOhm;
    for (const least of [milliohm, milliohm + 599, milliohm / 2]) {
      const seen = predict(point, target, own(least), { duty });
      expect(seen.kind).toBe('bearable');
      const ofOriginal = 1.1 * (13.5 / (12.2 + least / 1000)) * 1000;
      if (seen.kind === 'bearable')
        expect(seen.peakMilliamp).toBeCloseTo(Math.min(1.25 * peakMilliamp, ofOriginal, 800), 3);
    }
    const tooLow = predict(point, target, own(milliohm + 601), { duty });
    expect(tooLow).toMatchObject({ kind: 'too-much', refusal: 'PREDICTED_CURRENT' });
    expect(predict(point, target, own(milliohm), 'steady').kind).toBe('too-much');
    expect(predict(point, target, own(milliohm), 'unknown').kind).toBe('unknown');
  });

  it('lets the pulses pass a resistor at just under six times what it may carry for good, and no more', () => {
    const peakMilliwatt = peakMilliamp ** 2 * (table.milliohm[R6]! / 1e6);
    const at = (elementPowerLimitMilliwatt: number) =>
      predict(point, target, { ...jobLimits.thermal, elementPowerLimitMilliwatt }, { duty });
    expect(at(peakMilliwatt / 5.9).kind).toBe('bearable');
    expect(at(peakMilliwatt / 6.1)).toMatchObject({ kind: 'too-much', refusal: 'PREDICTED_POWER' });
  });

  it('refuses pulses whose root mean square is too much, and peaks above what any pulse may have', () => {
    // 386 mA for 0.6 of the time are 299 mA; the duty counts a tenth more.
    const tooLong = (limitAmp / (peakMilliamp / 1000)) ** 2;
    expect(predict(point, target, jobLimits.thermal, { duty: 0.95 * tooLong }).kind).toBe('too-much');
    expect(predict(point, target, jobLimits.thermal, { duty: 0.89 * tooLong }).kind).toBe('bearable');
    const stiff = { ...point, openCircuitMicrovolt: point.terminalMicrovolt };
    const atMost = { ...jobLimits.thermal, peakLimitMilliamp: 500 };
    expect(predict(stiff, target, atMost, { duty: 0.05 })).toMatchObject({ refusal: 'PREDICTED_CURRENT' });
  });
});
