import { holes, slots, wallMm, type WallName } from '../circuit/case';
import { Sheet, softInk } from './sheet';

const SCALE = 3.6;

const views: readonly (readonly [wall: WallName, title: string, x: number, y: number])[] = [
  ['front', 'Front wall, leads', 90, 150],
  ['back', 'Back wall, PC and supply', 740, 150],
  ['floor', 'Floor', 90, 540],
  ['lid', 'Lid', 960, 540],
];

function view(sheet: Sheet, [wall, title, left, top]: (typeof views)[number]): void {
  const [width, height] = wallMm[wall];
  const x = (mm: number): number => left + mm * SCALE;
  const y = (mm: number): number => top + (height - mm) * SCALE;
  sheet.text(left, top - 16, `${title}: ${width} × ${height} mm`, { bold: true, size: 15 });
  sheet.box([left, top], [width * SCALE, height * SCALE], { fill: '#fbfaf6', radius: 4 });
  for (const slot of slots.filter((each) => each.wall === wall))
    sheet.box([x(slot.x), y(slot.y + slot.height)], [slot.width * SCALE, slot.height * SCALE], { radius: 6 });
  for (const hole of holes.filter((each) => each.wall === wall)) {
    const radius = (hole.diameter / 2) * SCALE;
    const arm = radius + 7;
    sheet.raw(
      `<circle cx="${x(hole.x)}" cy="${y(hole.y)}" r="${radius.toFixed(2)}" fill="#ffffff" stroke="#14181c" stroke-width="1.8"/>`,
    );
    sheet.path(`M${x(hole.x) - arm} ${y(hole.y)} h${2 * arm} M${x(hole.x)} ${y(hole.y) - arm} v${2 * arm}`, {
      width: 0.8,
      colour: softInk,
    });
    // Near the lower edge the figures stand above the hole.
    const below = hole.y < 25 ? y(hole.y) - radius - 28 : y(hole.y) + radius + 20;
    sheet.text(x(hole.x), below, `${hole.name} ⌀${hole.diameter}`, {
      bold: true,
      anchor: 'middle',
      size: 13.5,
    });
    sheet.text(x(hole.x), below + 17, `${hole.x}, ${hole.y}`, {
      anchor: 'middle',
      size: 13,
      colour: softInk,
    });
  }
}

/** Where the case is drilled. */
export function drillingSheet(number: number, of: number): Sheet {
  const sheet = new Sheet({ title: 'Drilling plan of the case', number, of, width: 1760, height: 1160 });
  sheet.text(50, 70, 'Drilling plan: walls and lid seen from outside, floor from inside', {
    size: 20,
    bold: true,
  });
  for (const each of views) view(sheet, each);
  sheet.note(1230, 190, [
    'Figures at a hole: mm from the left edge,',
    'mm from the lower edge of that wall.',
    'Punch, drill 3 mm, then open up; clamp the case,',
    'wear glasses, take off every burr.',
    'No chip may stay inside.',
    'J6 sits in a plastic bushing: its shell does not',
    'touch the case. CAL posts sit 10 mm deep in',
    'their shrouds. Pillars are plastic.',
  ]);
  sheet.note(90, 1040, [
    'Slots 4 × 14 mm over and under R4 to R9 and R15, 12 mm apart, the first 40 mm from the left, 96 mm from the lower edge.',
    'The board lies with its lead side to the front wall and its hot row under the slots.',
  ]);
  return sheet;
}
