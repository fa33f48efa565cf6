/** Blocks and arrows for diagrams that show what belongs together rather than every conductor. */
import { ink, softInk, wireColour, type Point, type Sheet } from './sheet';

export type Block = {
  readonly at: Point;
  readonly size: readonly [width: number, height: number];
  readonly title: string;
  readonly lines?: readonly string[];
  readonly fill?: string;
};

export function block(sheet: Sheet, part: Block): void {
  const { at, size, title, lines = [], fill = '#ffffff' } = part;
  sheet.box(at, size, { fill, radius: 5 });
  const middle = at[0] + size[0] / 2;
  const firstY = at[1] + size[1] / 2 + 5 - lines.length * 8.5;
  sheet.text(middle, firstY, title, { bold: true, anchor: 'middle', size: 14.5 });
  lines.forEach((line, index) =>
    sheet.text(middle, firstY + 18 * (index + 1), line, { anchor: 'middle', size: 12.5, colour: softInk }),
  );
}

/** A line along the points with a head at its end; `both` puts one at its start too. */
export function arrow(sheet: Sheet, points: readonly Point[], both = false): void {
  sheet.wire(...points);
  const last = points.at(-1);
  const before = points.at(-2);
  if (last === undefined || before === undefined) return;
  head(sheet, before, last);
  const [first, second] = points;
  if (both && first !== undefined && second !== undefined) head(sheet, second, first);
}

function head(sheet: Sheet, from: Point, to: Point): void {
  const length = Math.hypot(to[0] - from[0], to[1] - from[1]) || 1;
  const along: Point = [(to[0] - from[0]) / length, (to[1] - from[1]) / length];
  const corner = (side: number): string =>
    `${to[0] - along[0] * 11 + along[1] * 5 * side} ${to[1] - along[1] * 11 - along[0] * 5 * side}`;
  sheet.path(`M${to[0]} ${to[1]} L${corner(1)} L${corner(-1)} Z`, {
    fill: wireColour,
    colour: wireColour,
    width: 1,
  });
}

/** A tinted area that holds what shares one zero volts. */
export function region(sheet: Sheet, at: Point, size: readonly [number, number], name: string): void {
  sheet.box(at, size, { fill: '#f4f6f2', colour: '#9aa39a', radius: 10, dash: '2 5' });
  sheet.text(at[0] + 14, at[1] + 24, name, { bold: true, size: 14, colour: ink });
}
