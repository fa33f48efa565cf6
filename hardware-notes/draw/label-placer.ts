import { ink, type Point, type Sheet } from './sheet';

type Box = { readonly left: number; readonly top: number; readonly right: number; readonly bottom: number };

const meets = (one: Box, two: Box): boolean =>
  one.left < two.right && two.left < one.right && one.top < two.bottom && two.top < one.bottom;

/** Average advance of a letter, as a part of its size. */
const ADVANCE = 0.6;

/** How far a name may slide along its part. */
const SHIFTS = [0, 6, -6, 12, -12, 18, -18, 24, -24, 36, -36];

/** Puts names where they cover neither each other nor what is drawn beneath. */
export class LabelPlacer {
  readonly #sheet: Sheet;
  readonly #taken: Box[] = [];

  constructor(sheet: Sheet) {
    this.#sheet = sheet;
  }

  /** A dot that no name may cover. */
  keepOff([x, y]: Point, radius: number): void {
    this.#taken.push({ left: x - radius, right: x + radius, top: y - radius, bottom: y + radius });
  }

  /** A name inside an outline, along its longer side; with its value where there is room. */
  inside(
    [x, y]: Point,
    [width, height]: readonly [number, number],
    [name, value]: readonly [string, string],
  ): void {
    const isUpright = height > width;
    const [long, short] = isUpright ? [height, width] : [width, height];
    const texts = value === '' ? [name] : [`${name} ${value}`, name];
    const looks = [13, 12, 11, 10].flatMap((size) =>
      texts.flatMap((text) => [true, false].map((isAlong) => ({ size, text, isAlong }))),
    );
    for (const { size, text, isAlong } of looks) {
      const length = text.length * size * ADVANCE;
      const [along, across] = isAlong ? [length, size] : [size, length];
      if (along > long - 4 || across > short) continue;
      const free = SHIFTS.filter((shift) => Math.abs(shift) + along / 2 <= long / 2);
      const turned = isAlong === isUpright;
      const isPut = free.some((shift) =>
        this.#put(isUpright ? [x, y + shift] : [x + shift, y], text, { size, turned, colour: ink }),
      );
      if (isPut) return;
    }
    this.beside([x, y], name, ink, Math.min(width, height) / 2);
  }

  /** A name beside a hole, on the first side that is free. Throws when there is none. */
  beside([x, y]: Point, text: string, colour: string, off = 8): void {
    for (const size of [11, 10, 9, 8])
      for (const far of [0, 3, 6, 10, 16, 22, 30]) {
        const half = (text.length * size * ADVANCE) / 2;
        const places: readonly (readonly [Point, boolean])[] = [
          [[x + off + far + half, y], false],
          [[x - off - far - half, y], false],
          [[x, y - off - far - size / 2], false],
          [[x, y + off + far + size / 2], false],
          [[x + off + far, y + half], true],
          [[x - off - far, y + half], true],
          [[x + off + far, y - half], true],
          [[x - off - far, y - half], true],
        ];
        for (const [at, turned] of places) if (this.#put(at, text, { size, turned, colour })) return;
      }
    throw new Error(`no room for the name ${text}`);
  }

  #put(
    [x, y]: Point,
    text: string,
    { size, turned, colour }: { readonly size: number; readonly turned: boolean; readonly colour: string },
  ): boolean {
    const [half, tall] = [(text.length * size * ADVANCE) / 2, size * 0.42];
    const [across, down] = turned ? [tall, half] : [half, tall];
    const box = { left: x - across, right: x + across, top: y - down, bottom: y + down };
    if (this.#taken.some((each) => meets(each, box))) return false;
    this.#taken.push(box);
    const place = turned ? ` transform="rotate(-90 ${x.toFixed(1)} ${y.toFixed(1)})"` : '';
    this.#sheet.raw(
      `<text${place} x="${x.toFixed(1)}" y="${(y + size * 0.35).toFixed(1)}" font-size="${size}" text-anchor="middle" fill="${colour}" font-weight="bold" stroke="#ffffff" stroke-width="2.5" paint-order="stroke">${text}</text>`,
    );
    return true;
  }
}
