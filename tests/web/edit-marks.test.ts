import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { gauge as gaugeSchema, type Gauge, type Mark } from '../../host/job/schema/gauge';
import {
  labelledMark,
  markAfter,
  markAt,
  marksProblem,
  movedMark,
  valuedMark,
  withoutMark,
} from '../../host/web/dial/edit-marks';
import { gripsOf, moveGrip, nearestGrip, removeGrip } from '../../host/web/dial/grips';
import { pointAt } from '../../host/web/dial/dial-geometry';

const letters: readonly Mark[] = [
  { label: 'C', reading: 40, angleFraction: 0 },
  { label: 'N', reading: 85, angleFraction: 0.3 },
  { label: 'H', reading: 120, angleFraction: 1 },
];
const gauge: Gauge = {
  quantity: 'temperature',
  mechanism: 'thermal',
  unit: 'degC',
  marks: [...letters],
  zones: [{ fromReading: 110, toReading: 120, meaning: 'danger' }],
};

const fraction = fc.double({ min: -0.5, max: 1.5, noNaN: true });
const deed = fc.oneof(
  fc.record({ kind: fc.constant('add' as const), fraction }),
  fc.record({ kind: fc.constant('after' as const), index: fc.nat(12) }),
  fc.record({ kind: fc.constant('move' as const), index: fc.nat(12), fraction }),
  fc.record({ kind: fc.constant('remove' as const), index: fc.nat(12) }),
);
type Deed = typeof deed extends fc.Arbitrary<infer Each> ? Each : never;

const done = (marks: readonly Mark[], each: Deed): readonly Mark[] => {
  switch (each.kind) {
    case 'add':
      return markAt(marks, each.fraction)?.marks ?? marks;
    case 'after':
      return markAfter(marks, each.index)?.marks ?? marks;
    case 'move':
      return each.index < marks.length ? movedMark(marks, each.index, each.fraction) : marks;
    case 'remove':
      return withoutMark(marks, each.index);
  }
};

describe('marks placed by hand', () => {
  it('stay a scale that the host accepts, whatever is added, dragged and taken away, rising or falling', () => {
    fc.assert(
      fc.property(fc.array(deed, { maxLength: 40 }), fc.boolean(), (deeds, falls) => {
        const start = falls ? letters.map((mark) => ({ ...mark, reading: -mark.reading })) : letters;
        const marks = deeds.reduce(done, start);
        expect(marksProblem(marks)).toBeUndefined();
        expect(gaugeSchema.safeParse({ ...gauge, marks }).success).toBe(true);
      }),
    );
  });

  it('keep their order: a mark stops short of its neighbours and of the ends of the arc', () => {
    expect(movedMark(letters, 1, 2)[1]?.angleFraction).toBeCloseTo(0.995, 9);
    expect(movedMark(letters, 1, -1)[1]?.angleFraction).toBeCloseTo(0.005, 9);
    expect(movedMark(letters, 0, -1)[0]?.angleFraction).toBe(0);
    expect(movedMark(letters, 2, 7)[2]?.angleFraction).toBe(1);
  });

  it('get the value that the uneven scale has where they are put', () => {
    const added = markAt(letters, 0.15);
    expect(added?.index).toBe(1);
    expect(added?.marks[1]).toEqual({ label: '62.5', reading: 62.5, angleFraction: 0.15 });
    expect(markAt(letters, 0.3)).toBeUndefined();
  });

  it('take a number as label for what they stand for, but only where it fits the scale', () => {
    expect(labelledMark(letters, 1, '90')[1]).toEqual({ label: '90', reading: 90, angleFraction: 0.3 });
    expect(labelledMark(letters, 1, '130')[1]).toEqual({ label: '130', reading: 85, angleFraction: 0.3 });
    expect(labelledMark(letters, 1, 'NORM')[1]?.reading).toBe(85);
  });

  it('change a label that was their number, and keep a letter', () => {
    expect(valuedMark(labelledMark(letters, 1, '90'), 1, 88)[1]).toMatchObject({ label: '88', reading: 88 });
    expect(valuedMark(letters, 1, 88)[1]).toMatchObject({ label: 'N', reading: 88 });
  });
});

describe('a handle on the drawn dial', () => {
  it('is the nearest one within reach, and none beyond it', () => {
    const grips = gripsOf(gauge);
    const at = pointAt(0.3, 110, 100);
    expect(nearestGrip(grips, { x: at.x + 4, y: at.y - 3 }, 10)).toEqual({ kind: 'mark', index: 1 });
    expect(nearestGrip(grips, { x: at.x + 40, y: at.y }, 10)).toBeUndefined();
  });

  it("moves a zone's end to the value under it", () => {
    const moved = moveGrip(gauge, { kind: 'zone', index: 0, end: 'fromReading' }, 0.65);
    expect(moved.zones?.[0]).toEqual({ fromReading: 102.5, toReading: 120, meaning: 'danger' });
  });

  it('leaves a scale its last two marks', () => {
    const one = removeGrip(gauge, { kind: 'mark', index: 2 });
    expect(one.gauge.marks).toHaveLength(2);
    expect(one.next).toEqual({ kind: 'mark', index: 1 });
    expect(removeGrip(one.gauge, { kind: 'mark', index: 0 }).gauge.marks).toHaveLength(2);
    expect(removeGrip(gauge, { kind: 'zone', index: 0, end: 'toReading' }).gauge.zones).toEqual([]);
  });
});
