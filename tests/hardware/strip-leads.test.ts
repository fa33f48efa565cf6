import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { outlineOf } from '../../hardware-notes/strip-board/packages';
import { readStripDocument } from './strip-document';

const place = fileURLToPath(new URL('../../hardware-notes/strip-board.md', import.meta.url));
const document = readStripDocument(readFileSync(place, 'utf8'));

describe('the leads of the parts', () => {
  /** Offset of pin n of a package with two rows, from pin 1, both rows counted from its mark: as every data sheet numbers them. */
  const twoRows =
    (pins: number, apart: number) =>
    (pin: number): readonly [number, number] =>
      pin <= pins / 2 ? [pin - 1, 0] : [pins - pin, apart];
  /** Pins in one row, in holes from the first. K16: 0, 5.08, 15.24, 17.78 mm; U15: 4 is left out. Source: their data sheets. */
  const inRow: Readonly<Record<string, Readonly<Record<string, number>>>> = {
    K16: { 14: 0, 13: 2, A2: 6, A1: 7 },
    U15: { 1: 0, 2: 1, 3: 2, 5: 4, 6: 5, 7: 6, 8: 7 },
  };
  /** G6S-2, mm from pin 1. Source: the land pattern of a public footprint library. */
  const relay: Readonly<Record<string, readonly [number, number]>> = {
    1: [0, 0],
    3: [5.08, 0],
    4: [7.62, 0],
    5: [10.16, 0],
    12: [0, 5.08],
    10: [5.08, 5.08],
    9: [7.62, 5.08],
    8: [10.16, 5.08],
  };

  const offsetsOf = (ref: string): Map<string, readonly [number, number]> => {
    const own = document.leads.filter((each) => each.ref === ref);
    const first = own[0];
    if (first === undefined) throw new Error(`the boards have no ${ref}`);
    return new Map(
      own.map(({ pin, spot }) => [
        pin,
        [spot.row - first.spot.row, spot.column - first.spot.column] as const,
      ]),
    );
  };
  /** The same part turned by half a turn is still that part; a mirrored one is another. */
  const isSame = (
    found: ReadonlyMap<string, readonly [number, number]>,
    wanted: (pin: string) => readonly [number, number],
  ): boolean => {
    const zero = wanted([...found.keys()][0] ?? '');
    return [1, -1].some((way) =>
      [...found].every(([pin, [row, column]]) => {
        const [down, right] = wanted(pin);
        return row === way * (down - zero[0]) && column === way * (right - zero[1]);
      }),
    );
  };

  it.each([
    ['U1', 14, 3],
    ['U2', 14, 3],
    ['U3', 14, 3],
    ['U4', 16, 3],
    ['U5', 16, 3],
    ['U6', 8, 3],
    ['U7', 14, 3],
    ['U8', 16, 3],
    ['U9', 14, 3],
    ['U16', 8, 3],
    ['Q24', 8, 3],
    ['U10', 40, 7],
    ['U11', 8, 6],
  ] as const)('%s has its %i pins where the package has them, rows %i holes apart', (ref, pins, apart) => {
    const found = offsetsOf(ref);
    expect(found.size).toBe(pins);
    expect(isSame(found, (pin) => twoRows(pins, apart)(Number(pin)))).toBe(true);
    const mirrored = new Map([...found].map(([pin, [row, column]]) => [pin, [row, -column] as const]));
    expect(isSame(mirrored, (pin) => twoRows(pins, apart)(Number(pin)))).toBe(false);
  });

  it.each(['K1', 'K2', 'K3', 'K4', 'K5', 'K6', 'K7', 'K8', 'K15'])('%s fits the relay', (ref) => {
    const at = (pin: string): readonly [number, number] => {
      const [down = 0, right = 0] = relay[pin] ?? [];
      return [Math.round(down / 2.54), Math.round(right / 2.54)];
    };
    expect(isSame(offsetsOf(ref), at)).toBe(true);
  });

  it.each(['K16', 'U15'])('%s fits the holes of its row', (ref) => {
    const found = offsetsOf(ref);
    expect(isSame(found, (pin) => [inRow[ref]?.[pin] ?? NaN, 0])).toBe(true);
  });

  it('of transistors stand in three holes in order, of two-ended parts in a line long enough for them', () => {
    const refs = [...new Set(document.leads.map(({ ref }) => ref))];
    for (const ref of refs.filter((each) => /^(Q(?!24)|U14|D2[0-3]$)/.test(each)))
      expect(
        isSame(offsetsOf(ref), (pin) => [Number(pin) - 1, 0]),
        ref,
      ).toBe(true);
    const two = refs.filter((each) => /^[RCDF]\d/.test(each) && !/^(R3[4-7]|D2[0-3]|D38)$/.test(each));
    expect(two.length).toBeGreaterThan(120);
    for (const ref of two) {
      const far = [...offsetsOf(ref).values()].at(-1) ?? [0, 0];
      expect(Math.min(Math.abs(far[0]), Math.abs(far[1])), ref).toBe(0);
      const outline = outlineOf(ref);
      const holes = Math.max(Math.abs(far[0]), Math.abs(far[1]));
      // A lying part's leads are bent at 1.5 mm or more from its body.
      if (outline.kind === 'lying') expect(holes * 2.54, ref).toBeGreaterThanOrEqual(outline.length + 3);
    }
  });
});
