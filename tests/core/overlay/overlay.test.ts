import { describe, expect, it } from 'vitest';
import { overlayOf, type OverlayQuestion } from '../../../host/core/overlay/overlay';
import { answered, refusalCode } from '../../support/answer';

const question: OverlayQuestion = {
  radiusMm: 40,
  hubMm: 3,
  startDegrees: -50,
  sweepDegrees: 100,
  marks: [
    { label: 'E', arcFraction: 0 },
    { label: '1/2', arcFraction: 0.5 },
    { label: 'F', arcFraction: 1 },
  ],
  paper: 'A4',
};
const bars = (acrossMm: number, upMm: number) => overlayOf({ ...question, bars: { acrossMm, upMm } });

describe('a face to lay over a dial', () => {
  it('has its marks where the arc has them, clockwise from straight up', () => {
    const { lines, hub } = answered(overlayOf(question));
    expect(lines.map(({ degrees }) => degrees)).toEqual([-50, 0, 50]);
    // Straight up is above the hub: a smaller y on paper.
    expect(lines[1]?.to.x).toBeCloseTo(hub.x, 12);
    expect(lines[1]?.to.y).toBeCloseTo(hub.y - 40, 12);
    expect(lines[0]!.to.x).toBeLessThan(hub.x);
  });

  it('is true up to half a percent, made true up to two, and refused beyond', () => {
    expect(answered(bars(100.5, 99.5)).scale).toEqual({ across: 1, up: 1 });
    expect(answered(bars(99, 101)).scale).toEqual({ across: 100 / 99, up: 100 / 101 });
    expect(answered(bars(98, 102)).scale.across).toBeCloseTo(100 / 98, 12);
    expect(refusalCode(bars(97.9, 100))).toBe('OVERLAY_SCALED');
    expect(refusalCode(bars(100, 102.1))).toBe('OVERLAY_SCALED');
    expect(refusalCode(bars(NaN, 100))).toBe('OVERLAY_SIZE');
    expect(refusalCode(bars(100, 0))).toBe('OVERLAY_SIZE');
  });

  it.each<Partial<OverlayQuestion>>([
    { radiusMm: 0 },
    { radiusMm: 200 },
    { hubMm: 39 },
    { sweepDegrees: 0 },
    { sweepDegrees: NaN },
    { startDegrees: Infinity },
    { marks: [] },
    { marks: [...question.marks, { label: 'x', arcFraction: 3 }] },
  ])('is refused with %j', (wrong) => {
    expect(refusalCode(overlayOf({ ...question, ...wrong }))).toBe('OVERLAY_SIZE');
  });
});
