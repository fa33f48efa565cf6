import { numberOf } from '../circuit/circuit';
import { ink, softInk, type Point, type Sheet } from './sheet';

/** `terminal`: its name in the circuit, where the drawing says something else. */
export type Pin = { readonly name: string; readonly terminal?: string };

export type Chip = {
  readonly at: Point;
  readonly width: number;
  readonly title: readonly string[];
  readonly left?: readonly (Pin | undefined)[];
  readonly right?: readonly (Pin | undefined)[];
  readonly pitch?: number;
  readonly top?: number;
  readonly height?: number;
  /** Reference in the circuit; without one the block stands for no part. */
  readonly of?: string;
};

const stub = 24;

/** '3 …' for a terminal with many numbers. */
const shortNumber = (numbers: string): string =>
  numbers.includes(',') ? `${numbers.slice(0, numbers.indexOf(','))} …` : numbers;

function drawPins(sheet: Sheet, chip: Chip, side: 'left' | 'right', found: Map<string, Point>): void {
  const { at, width, pitch = 26, top = 58 } = chip;
  const edge = side === 'left' ? at[0] : at[0] + width;
  const way = side === 'left' ? -1 : 1;
  const anchor = side === 'left' ? 'start' : 'end';
  (chip[side] ?? []).forEach((pin, index) => {
    if (pin === undefined) return;
    const y = at[1] + top + index * pitch;
    sheet.path(`M${edge} ${y} H${edge + way * stub}`);
    sheet.text(edge - way * 8, y + 5, pin.name, { size: 13, anchor });
    const end: Point = [edge + way * stub, y];
    if (chip.of !== undefined) {
      const terminal = pin.terminal ?? pin.name;
      sheet.end(chip.of, terminal, end);
      sheet.text(edge + way * 5, y - 4, shortNumber(numberOf(chip.of, terminal)), {
        size: 11,
        anchor: side === 'left' ? 'end' : 'start',
        colour: softInk,
      });
    }
    found.set(pin.name, end);
  });
}

/** A part drawn as a block with named pins; answers with a finder of pin ends, which refuses an unknown name. */
export function chip(sheet: Sheet, part: Chip): (pin: string) => Point {
  const { at, width, title, left = [], right = [], pitch = 26, top = 58 } = part;
  const rows = Math.max(left.length, right.length);
  const height = part.height ?? top + rows * pitch;
  sheet.box(at, [width, height], { fill: '#fbfaf6' });
  title.forEach((line, index) =>
    sheet.text(at[0] + width / 2, at[1] + 21 + index * 17, line, {
      anchor: 'middle',
      bold: index === 0,
      size: index === 0 ? 14.5 : 12.5,
      colour: index === 0 ? ink : softInk,
    }),
  );
  const found = new Map<string, Point>();
  drawPins(sheet, part, 'left', found);
  drawPins(sheet, part, 'right', found);
  return (pin) => {
    const point = found.get(pin);
    if (point === undefined) throw new Error(`${title[0] ?? 'chip'} has no pin ${pin}`);
    return point;
  };
}
