import { printedCase, stripCase, wallSize, type CasePlan, type WallName } from '../circuit/case';
import { Sheet, softInk } from './sheet';

/** Pixels for a millimetre. */
const scaleOf = (plan: CasePlan): number => (plan === printedCase ? 3.6 : 3);

type View = readonly [wall: WallName, title: string, x: number, y: number];

function view(sheet: Sheet, plan: CasePlan, [wall, title, left, top]: View): void {
  const [width, height] = wallSize(plan.size)[wall];
  const scale = scaleOf(plan);
  const x = (mm: number): number => left + mm * scale;
  const y = (mm: number): number => top + (height - mm) * scale;
  sheet.text(left, top - 16, `${title}: ${width} × ${height} mm`, { bold: true, size: 15 });
  sheet.box([left, top], [width * scale, height * scale], { fill: '#fbfaf6', radius: 4 });
  for (const slot of plan.slots.filter((each) => each.wall === wall))
    sheet.box([x(slot.x), y(slot.y + slot.height)], [slot.width * scale, slot.height * scale], { radius: 6 });
  for (const hole of plan.holes.filter((each) => each.wall === wall)) {
    const radius = (hole.diameter / 2) * scale;
    const arm = radius + 7;
    sheet.raw(
      `<circle cx="${x(hole.x)}" cy="${y(hole.y)}" r="${radius.toFixed(2)}" fill="#ffffff" stroke="#14181c" stroke-width="1.8"/>`,
    );
    sheet.path(`M${x(hole.x) - arm} ${y(hole.y)} h${2 * arm} M${x(hole.x)} ${y(hole.y) - arm} v${2 * arm}`, {
      width: 0.8,
      colour: softInk,
    });
    // Near the lower edge the figures stand above the hole.
    const below = hole.y < 31 ? y(hole.y) - radius - 28 : y(hole.y) + radius + 20;
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

/** Which edge of the floor or the lid is which wall. */
function edges(sheet: Sheet, plan: CasePlan, [wall, , left, top]: View): void {
  const [width, height] = wallSize(plan.size)[wall];
  const scale = scaleOf(plan);
  const level = top + height * scale * 0.63;
  const style = { size: 13, colour: softInk } as const;
  sheet.text(left + 10, level, '← front wall', style);
  sheet.text(left + width * scale - 10, level, 'back wall →', { ...style, anchor: 'end' });
  if (plan.holes.some((hole) => hole.wall === 'side'))
    sheet.text(left + (width * scale) / 2, top + 20, '↑ side wall, row A', { ...style, anchor: 'middle' });
}

const CAUTIONS = [
  'Figures at a hole: mm from the left edge,',
  'mm from the lower edge of that wall.',
  'Punch, drill 3 mm, then open up; clamp the case,',
  'wear glasses, take off every burr.',
  'No chip may stay inside.',
  'J6 sits in a plastic bushing: its shell does not',
  'touch the case. CAL posts sit 10 mm deep in',
  'their shrouds. Pillars are plastic.',
];

/** Where the case of one printed board is drilled. */
export function drillingSheet(number: number, of: number): Sheet {
  const sheet = new Sheet({ title: 'Drilling plan of the case', number, of, width: 1760, height: 1160 });
  sheet.text(50, 70, 'Drilling plan, one printed board: walls and lid seen from outside, floor from inside', {
    size: 20,
    bold: true,
  });
  const floor: View = ['floor', 'Floor', 90, 540];
  const lid: View = ['lid', 'Lid', 960, 540];
  view(sheet, printedCase, ['front', 'Front wall, leads', 90, 150]);
  view(sheet, printedCase, ['back', 'Back wall, PC and supply', 740, 150]);
  for (const each of [floor, lid]) {
    view(sheet, printedCase, each);
    edges(sheet, printedCase, each);
  }
  sheet.note(1230, 190, CAUTIONS);
  sheet.note(90, 1040, [
    'Slots 4 × 14 mm over and under R4 to R9 and R15, 12 mm apart, the first 40 mm from the left, 96 mm from the lower edge.',
    'The board lies with its lead side to the front wall and its hot row under the slots.',
  ]);
  return sheet;
}

/** Where the case of the three strip boards is drilled. */
export function stripDrillingSheet(number: number, of: number): Sheet {
  const sheet = new Sheet({ title: 'Drilling plan, strip boards', number, of, width: 1760, height: 1260 });
  sheet.text(
    50,
    70,
    'Drilling plan, three strip boards: walls and lid seen from outside, floor from inside',
    {
      size: 20,
      bold: true,
    },
  );
  const floor: View = ['floor', 'Floor', 90, 570];
  const lid: View = ['lid', 'Lid', 840, 570];
  view(sheet, stripCase, ['front', 'Front wall, leads', 90, 150]);
  view(sheet, stripCase, ['back', 'Back wall, PC', 540, 150]);
  view(sheet, stripCase, ['side', 'Side wall, supply', 990, 150]);
  for (const each of [floor, lid]) {
    view(sheet, stripCase, each);
    edges(sheet, stripCase, each);
  }
  sheet.note(90, 1010, [
    'Floor: supply board on 10 mm, meter board 35 mm above it, path board 25 mm above that; boards cut to 36 strips of 60 holes.',
    'Row A of each along the side wall, hole 60 at the back, so that J5 and J6 sit at their own corners of the supply board.',
    'The USB module lies behind J6, over the PC’s corner and over nothing else. Nothing of J5 and nothing of J6 within 8 mm of',
    'each other or of the rest. Slots 4 × 14 mm, 12 mm apart. Lid: first 52 mm from the left, rows 95, 76 and 57 mm from the lower',
    'edge. Floor: first 64 mm from the left, 58 mm from the lower edge.',
  ]);
  sheet.note(1060, 1010, CAUTIONS);
  return sheet;
}
