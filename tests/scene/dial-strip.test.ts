import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { dialStrip, type DialStrip, type Scale } from '../../host/scene/dial-strip';
import { figureWidth } from '../../host/scene/text-width';

const uneven: Scale = {
  unit: 'degC',
  marks: [
    { label: 'C', reading: 40, angleFraction: 0 },
    { label: '60', reading: 60, angleFraction: 0.12 },
    { label: '80', reading: 80, angleFraction: 0.33 },
    { label: '100', reading: 100, angleFraction: 0.64 },
    { label: 'H', reading: 120, angleFraction: 1 },
  ],
};
const tank: Scale = {
  unit: 'L',
  marks: [
    { label: 'E', reading: 0, angleFraction: 0 },
    { label: '1/2', reading: 25, angleFraction: 0.5 },
    { label: 'F', reading: 50, angleFraction: 1 },
  ],
};

/** Any dial: places and readings that ascend together, or readings that fall along the arc. */
const anyScale = (): fc.Arbitrary<Scale> =>
  fc
    .record({
      places: fc.uniqueArray(fc.integer({ min: 0, max: 100 }), { minLength: 2, maxLength: 12 }),
      steps: fc.array(fc.integer({ min: 1, max: 60 }), { minLength: 12, maxLength: 12 }),
      isFalling: fc.boolean(),
    })
    .map(({ places, steps, isFalling }) => ({
      unit: 'kPa',
      marks: [...places]
        .sort((one, other) => one - other)
        .map((place, index) => {
          const reading =
            steps.slice(0, index + 1).reduce((sum, step) => sum + step, 0) * (isFalling ? -1 : 1);
          return { label: String(reading), reading, angleFraction: place / 100 };
        }),
    }));

const FIGURE_PIXEL = 19;
const space = (right: number) => ({ left: 60, right, figurePixel: FIGURE_PIXEL });

const spanOf = ({ x, text, anchor }: DialStrip['figures'][number]): readonly [number, number] => {
  const width = figureWidth(text, FIGURE_PIXEL);
  const from = anchor === 'start' ? x : anchor === 'end' ? x - width : x - width / 2;
  return [from, from + width];
};

describe('the dial laid flat', () => {
  it('has its marks where they stand on the arc', () => {
    const strip = dialStrip(uneven, space(1060));
    expect(strip.marks.map(({ label, x }) => [label, Math.round(x)])).toEqual([
      ['C', 60],
      ['60', 180],
      ['80', 390],
      ['100', 700],
      ['H', 1060],
    ]);
    expect(strip.figures.map(({ text }) => text)).toEqual(['C', '60', '80', '100', 'H']);
  });

  it('keeps every figure on the strip and apart from the others, for any dial and any width', () => {
    let shown = 0;
    fc.assert(
      fc.property(anyScale(), fc.integer({ min: 320, max: 1240 }), (scale, right) => {
        const strip = dialStrip(scale, space(right));
        const spans = strip.figures.map(spanOf);
        shown += spans.length;
        for (const [index, [from, to]] of spans.entries()) {
          expect(from).toBeGreaterThanOrEqual(60);
          expect(to).toBeLessThanOrEqual(right);
          if (index > 0) expect(from).toBeGreaterThan(spans[index - 1]![1]);
        }
      }),
    );
    expect(shown).toBeGreaterThan(200);
  });

  it('has its strokes on the strip, a long one at each mark', () => {
    fc.assert(
      fc.property(anyScale(), fc.integer({ min: 320, max: 1240 }), (scale, right) => {
        const strip = dialStrip(scale, space(right));
        for (const { x } of strip.ticks) {
          expect(x).toBeGreaterThan(59);
          expect(x).toBeLessThan(right + 1);
        }
        expect(strip.ticks.filter(({ size }) => size === 'mark')).toHaveLength(scale.marks.length);
      }),
    );
  });

  it('is strictly one way: another reading is another place', () => {
    fc.assert(
      fc.property(anyScale(), (scale) => {
        const { xOf } = dialStrip(scale, space(1000));
        const readings = scale.marks.map((mark) => mark.reading);
        const [from, to] = [Math.min(...readings), Math.max(...readings)];
        const xs = Array.from({ length: 50 }, (_, index) => xOf(from + ((to - from) * index) / 49));
        const way = Math.sign(xs[49]! - xs[0]!);
        for (const [index, x] of xs.entries())
          if (index > 0) expect(way * (x - xs[index - 1]!)).toBeGreaterThan(0);
      }),
    );
  });

  it('bears the unit at its last number, and none at a letter', () => {
    const numbered = {
      ...uneven,
      marks: uneven.marks.map((mark) => ({ ...mark, label: String(mark.reading) })),
    };
    expect(dialStrip(numbered, space(1060)).figures.at(-1)!.text).toBe('120 \u00b0C');
    expect(dialStrip(tank, space(1060)).figures.map(({ text }) => text)).toEqual(['E', '1/2', 'F']);
  });

  it('shows no more than the stretch that is asked for, and readings beyond the dial when they are asked for', () => {
    const part = dialStrip(uneven, { ...space(1060), from: 60, to: 120 });
    expect(part.marks.map(({ label }) => label)).toEqual(['60', '80', '100', 'H']);
    expect(Math.round(part.xOf(60))).toBe(60);
    const beyond = dialStrip(uneven, { ...space(1060), also: [20] });
    expect(beyond.xOf(20)).toBeCloseTo(60, 6);
    expect(beyond.marks).toHaveLength(5);
  });

  it('takes the printed division for its strokes where they have room', () => {
    const ticks = dialStrip({ ...tank, divisionReading: 5 }, space(1060)).ticks;
    expect(ticks).toHaveLength(11);
  });
});
