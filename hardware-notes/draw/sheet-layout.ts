import { elements } from '../../firmware-ts/board/reference-design';
import { block } from './blocks';
import { isolationColour, Sheet, softInk } from './sheet';

/** Drawing scale and the corner of the board on the sheet. */
const pixelsPerMm = 7;
const left = 110;
const top = 130;
const boardMm = { width: 190, height: 110 } as const;

const x = (mm: number): number => left + mm * pixelsPerMm;
const y = (mm: number): number => top + mm * pixelsPerMm;

type Zone = {
  readonly mm: readonly [x: number, y: number, width: number, height: number];
  readonly title: string;
  readonly lines?: readonly string[];
  readonly fill?: string;
};

const hot = '#fde3d5';
const path = '#e9f1fa';
const analogue = '#eaf6ea';
const foreign = '#f6ecec';

const zones: readonly Zone[] = [
  { mm: [34, 4, 22, 14], title: 'R15', lines: ['10 W, 5 mm up'], fill: hot },
  { mm: [60, 4, 84, 14], title: 'R4 … R9', lines: ['5 mm of air beneath, vents above and below'], fill: hot },
  { mm: [4, 24, 24, 16], title: 'K16, D1', lines: ['beside J1'], fill: path },
  {
    mm: [34, 24, 110, 24],
    title: `K1 … K15, R1 … R3, R10 … R${elements.length}`,
    lines: ['each relay next to its resistor, chain in order,', 'heavy traces of 3 mm'],
    fill: path,
  },
  { mm: [4, 44, 24, 12], title: 'R16', lines: ['sense at its body'], fill: path },
  {
    mm: [34, 52, 110, 12],
    title: 'Q1 … Q16, D2 … D17, R121 … R136',
    lines: ['drivers right under their relays'],
  },
  {
    mm: [4, 68, 44, 36],
    title: 'Voltage inputs, U1, U2, U6',
    lines: ['guard ring at BIAS,', 'washed and dry,', 'no digital trace below'],
    fill: analogue,
  },
  { mm: [52, 68, 30, 17], title: 'U4, U5, U16', lines: ['short to U1'], fill: analogue },
  { mm: [52, 88, 30, 16], title: 'Ohmmeter', lines: ['Q21 … Q25'], fill: analogue },
  { mm: [86, 68, 24, 17], title: 'U3, U7 … U9', lines: ['trip, one-shots'] },
  { mm: [86, 88, 24, 16], title: 'Q17, Q26, C52', lines: ['coil supplies'] },
  { mm: [114, 68, 30, 36], title: 'U10', lines: ['controller,', 'in a socket,', 'USB covered'] },
  { mm: [156, 4, 30, 46], title: 'PC side', lines: ['U12, J6'], fill: foreign },
  { mm: [156, 62, 30, 42], title: 'Input side', lines: ['J5, Q20, D25, C90'], fill: foreign },
  { mm: [144, 22, 16, 10], title: 'U11', fill: '#ffffff' },
  { mm: [144, 78, 16, 12], title: 'U15', fill: '#ffffff' },
];

const posts: readonly (readonly [name: string, mm: number])[] = [
  ['J1', 30],
  ['J2', 48],
  ['J3', 68],
  ['J4', 80],
  ['J7', 92],
  ['J8', 102],
];

function barriers(sheet: Sheet): void {
  const strip = (fromMm: number, toMm: number): void =>
    sheet.raw(
      `<rect x="${x(146)}" y="${y(fromMm)}" width="${8 * pixelsPerMm}" height="${(toMm - fromMm) * pixelsPerMm}" fill="#f8d9d0" opacity="0.55"/>`,
    );
  strip(0, boardMm.height);
  sheet.raw(
    `<rect x="${x(154)}" y="${y(52)}" width="${36 * pixelsPerMm}" height="${8 * pixelsPerMm}" fill="#f8d9d0" opacity="0.55"/>`,
  );
  sheet.text(x(150), y(-2), '8 mm, no copper', {
    size: 13,
    anchor: 'middle',
    colour: isolationColour,
    bold: true,
  });
  sheet.text(x(172), y(57), '8 mm, no copper', {
    size: 13,
    anchor: 'middle',
    colour: isolationColour,
    bold: true,
  });
}

function edge(sheet: Sheet): void {
  for (const [name, mm] of posts) {
    sheet.raw(`<circle cx="${x(0)}" cy="${y(mm)}" r="12" fill="#ffffff" stroke="#14181c" stroke-width="2"/>`);
    sheet.text(x(0) - 22, y(mm) + 5, name, { bold: true, anchor: 'end' });
  }
  sheet.text(x(boardMm.width / 2) - 90, y(boardMm.height) + 30, `${boardMm.width} mm`, {
    anchor: 'middle',
    colour: softInk,
  });
  sheet.text(x(boardMm.width) + 14, y(boardMm.height / 2), `${boardMm.height} mm`, { colour: softInk });
}

/** A floor plan for the board: what must be near to what, and what must be kept apart. */
export function layoutSheet(number: number, of: number): Sheet {
  const sheet = new Sheet({ title: 'Floor plan of the board', number, of, width: 1640, height: 1080 });
  sheet.text(50, 70, 'Floor plan, seen from the parts side', { size: 20, bold: true });
  sheet.box([left, top], [boardMm.width * pixelsPerMm, boardMm.height * pixelsPerMm], {
    fill: '#fdfdfb',
    radius: 8,
  });
  barriers(sheet);
  for (const zone of zones) {
    const [xMm, yMm, width, height] = zone.mm;
    block(sheet, {
      at: [x(xMm), y(yMm)],
      size: [width * pixelsPerMm, height * pixelsPerMm],
      title: zone.title,
      lines: zone.lines ?? [],
      fill: zone.fill ?? '#ffffff',
    });
  }
  edge(sheet);
  sheet.note(110, 985, [
    'Hot parts on the upper edge, the 10 MΩ inputs at the other end. One star point for box common at the foot of R16;',
    'the GROUND lead, the analogue ground, the coil return and U15’s 0 V meet there and nowhere else.',
  ]);
  return sheet;
}
