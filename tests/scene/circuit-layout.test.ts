import { describe, expect, it } from 'vitest';
import { networkOf, topologies, type Topology } from '../../host/core/network';
import {
  circuitLayout,
  type CircuitLayout,
  type DrawnPart,
  type Rect,
} from '../../host/scene/circuit-layout';
import { figureWidth, wordsWidth } from '../../host/scene/text-width';

const partsOf = (topology: Topology) =>
  networkOf(topology, [1500, 1500, 1500]).parts.map((part) => ({
    ...part,
    tolerancePercent: 1,
    ratingWatt: 0.6,
  }));

/** Widths of a phone, a tablet and the widest drawing. */
const WIDTHS = [312, 358, 480, 580];
const cases = topologies.flatMap((topology) => WIDTHS.map((width) => ({ topology, width })));

const isInside = (inner: Rect, { width, height }: Pick<CircuitLayout, 'width' | 'height'>): boolean =>
  inner.x >= 0 && inner.y >= 0 && inner.x + inner.width <= width && inner.y + inner.height <= height;

const touch = (one: Rect, other: Rect): boolean =>
  one.x < other.x + other.width &&
  other.x < one.x + one.width &&
  one.y < other.y + other.height &&
  other.y < one.y + one.height;

/** The box of a part's value as it is written: 1.5 kohm. */
const valueBox = ({ value }: DrawnPart, bigPixel: number): Rect => {
  const width = figureWidth('1.5 k\u03a9', bigPixel);
  return {
    x: value.anchor === 'middle' ? value.x - width / 2 : value.x,
    y: value.y - bigPixel * 0.8,
    width,
    height: bigPixel,
  };
};

/** The box of what a bag says, as the page writes it. */
const bagBoxes = ({ parts, textPixel }: CircuitLayout): Rect[] =>
  parts.flatMap(({ bag }) => {
    if (bag === undefined) return [];
    const size = textPixel * 0.8;
    const width = wordsWidth(bag.text, size);
    const x = bag.anchor === 'middle' ? bag.x - width / 2 : bag.x;
    return [{ x, y: bag.y - size * 0.8, width, height: size }];
  });

describe('the circuit as it will be', () => {
  it.each(cases)(
    'is drawn whole, nothing over anything else: $topology at $width px',
    ({ topology, width }) => {
      const layout = circuitLayout({ topology, parts: partsOf(topology) }, width);
      expect(layout.parts).toHaveLength(partsOf(topology).length);
      const bodies = layout.parts.map(({ body }) => body);
      const values = layout.parts.map((each) => valueBox(each, layout.bigPixel));
      const gauge: Rect = {
        x: layout.gauge.x - layout.gauge.radius,
        y: layout.leadY - layout.gauge.radius,
        width: 2 * layout.gauge.radius,
        height: 2 * layout.gauge.radius,
      };
      const sender: Rect = {
        x: layout.sender.x - 31,
        y: layout.sender.top,
        width: 62,
        height: layout.sender.height + 40,
      };
      for (const each of [...bodies, ...values, gauge, sender, layout.dash])
        expect(isInside(each, layout)).toBe(true);
      const things = [...bodies, ...values, ...bagBoxes(layout), gauge, sender];
      for (const [index, one] of things.entries())
        for (const other of things.slice(index + 1))
          expect([one, other, touch(one, other)]).toEqual([one, other, false]);
      for (const body of bodies) {
        expect(body.x).toBeGreaterThan(layout.dash.x);
        expect(body.x + body.width).toBeLessThan(layout.dash.x + layout.dash.width);
        expect(body.y + body.height).toBeLessThan(layout.dash.y + layout.dash.height);
      }
    },
  );

  it('puts the series part of a series-then-shunt on the sender side of the joint, and of the other on the gauge side', () => {
    const xOf = (topology: 'series-then-shunt' | 'shunt-then-series', place: string): number => {
      const { parts } = circuitLayout({ topology, parts: partsOf(topology) }, 580);
      const found = parts.find(({ part }) => part.place === place)!;
      return found.body.x + found.body.width / 2;
    };
    expect(xOf('series-then-shunt', 'series')).toBeGreaterThan(xOf('series-then-shunt', 'shunt'));
    expect(xOf('shunt-then-series', 'series')).toBeLessThan(xOf('shunt-then-series', 'shunt'));
  });
});
