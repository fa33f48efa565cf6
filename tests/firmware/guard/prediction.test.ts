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

  it('is nothing without current or with numbers that are none', () => {
    const seen = { terminalMicrovolt: 5e6, currentMicroamp: 499, openCircuitMicrovolt: 5e6 };
    expect(predict(seen, target, jobLimits.thermal).kind).toBe('unknown');
    expect(predict({ ...seen, currentMicroamp: NaN }, target, jobLimits.thermal).kind).toBe('unknown');
    const noVolt = { ...seen, currentMicroamp: 50_000, terminalMicrovolt: NaN };
    expect(predict(noVolt, target, jobLimits.thermal).kind).toBe('too-much');
  });
});
