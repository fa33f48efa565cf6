import { valueOf } from '../../firmware-ts/board/netlist';
import { constructions, elements, path, pins } from '../../firmware-ts/board/reference-design';
import { ohmText, partOhmText, wattText } from './format';
import { Sheet, softInk } from './sheet';
import { clip, common, flag, twoTerminal } from './symbols';

const upperRowY = 250;
const lowerRowY = 520;
const cellWidth = 150;
const upperLeftX = 470;

type Cell = { readonly x: number; readonly y: number; readonly resistor: string; readonly contact: string };

function cell(sheet: Sheet, place: Cell, value: readonly string[], pin: string): void {
  const { x, y, resistor, contact } = place;
  const left = x + 35;
  sheet.wire([x, y], [left, y]);
  twoTerminal(sheet, 'resistor', { at: [left, y], name: resistor, value });
  sheet.wire([left + 80, y], [x + cellWidth, y]);
  const contactY = y - 62;
  sheet.wire([x + 15, y], [x + 15, contactY], [left, contactY]);
  twoTerminal(sheet, 'contact', { at: [left, contactY], name: '', of: contact.split(' ')[0] ?? '' });
  sheet.wire([left + 80, contactY], [x + cellWidth - 15, contactY], [x + cellWidth - 15, y]);
  sheet.dot(x + 15, y);
  sheet.dot(x + cellWidth - 15, y);
  sheet.text(x + 75, contactY - 26, contact, { bold: true, anchor: 'middle' });
  sheet.text(x + 75, contactY + 20, pin, { size: 11.5, anchor: 'middle', colour: softInk });
}

function elementCell(sheet: Sheet, index: number, x: number, y: number): void {
  const element = elements[index]!;
  const kind = element.construction === 'wirewound' ? 'wirewound' : 'metal film';
  cell(
    sheet,
    { x, y, resistor: element.name, contact: `K${index + 1}` },
    [
      `${ohmText(element.nominalMilliohm)} ${element.tolerancePercent} %`,
      `${wattText(element.ratedMilliwatt)} ${kind}`,
    ],
    `GP${pins.elements[index]}`,
  );
}

function entry(sheet: Sheet): void {
  clip(sheet, [70, upperRowY], 'J1 SENDER', { remark: 'red, force', end: ['X1', 'JAW'] });
  sheet.wire([77, upperRowY], [160, upperRowY]);
  twoTerminal(sheet, 'fuse', {
    at: [160, upperRowY],
    name: 'F1',
    value: [`${path.fuse.ratedMilliamp / 1000} A fast`, 'in the lead'],
  });
  sheet.wire([240, upperRowY], [350, upperRowY]);
  sheet.wire([270, upperRowY], [270, 380]);
  sheet.dot(270, upperRowY);
  twoTerminal(sheet, 'suppressor', {
    at: [270, 380],
    down: true,
    labelLeft: true,
    name: 'D1',
    value: [`${path.suppressor.standoffMillivolt / 1000} V two-way`, `${path.suppressor.peakWatt} W`],
  });
  sheet.wire([270, 460], [270, 700]);
  twoTerminal(sheet, 'contact', { at: [350, upperRowY], name: '', of: 'K16' });
  sheet.text(390, upperRowY - 30, 'K16 output', { bold: true, anchor: 'middle' });
  sheet.note(390, upperRowY + 24, [`GP${pins.output}`, 'normally open'], {
    size: 11.5,
    anchor: 'middle',
    colour: softInk,
  });
  sheet.wire([430, upperRowY], [upperLeftX, upperRowY]);
}

function chain(sheet: Sheet): void {
  cell(
    sheet,
    { x: upperLeftX, y: upperRowY, resistor: path.limiter.name, contact: 'K15 bypass' },
    [
      `${ohmText(path.limiter.milliohm)} ${path.limiter.tolerancePercent} %`,
      `${wattText(path.limiter.ratedMilliwatt)} limiter`,
    ],
    `GP${pins.limiterBypass}`,
  );
  for (let place = 1; place <= 6; place += 1) {
    elementCell(sheet, elements.length - place, upperLeftX + place * cellWidth, upperRowY);
  }
  const rightX = upperLeftX + 7 * cellWidth;
  sheet.wire([rightX, upperRowY], [rightX + 20, upperRowY], [rightX + 20, lowerRowY], [rightX, lowerRowY]);
  for (let place = 0; place < 8; place += 1) {
    elementCell(sheet, 7 - place, rightX - (place + 1) * cellWidth, lowerRowY);
  }
}

function exit(sheet: Sheet): void {
  const x = 320;
  sheet.wire([x, lowerRowY], [x, 580]);
  twoTerminal(sheet, 'resistor', {
    at: [x, 580],
    down: true,
    name: path.shunt.name,
    of: `${path.shunt.name}A`,
    value: [ohmText(path.shunt.milliohm), '2 × 1 Ω 1 %'],
  });
  sheet.wire([x, 660], [x, 700]);
  // From inside the solder joints: the flag's own wire runs along the resistor's lead.
  sheet.wire([x, 580], [x, 586], [x + 130, 586]);
  flag(sheet, [x + 130, 586], 'right', 'SHUNT+');
  sheet.wire([x, 660], [x, 654], [x + 130, 654]);
  flag(sheet, [x + 130, 654], 'right', 'SHUNT-');
  sheet.dot(x, 586);
  sheet.dot(x, 654);
  clip(sheet, [50, 700], 'J2 GROUND', { remark: 'black, force', end: ['X2', 'JAW'] });
  sheet.wire([57, 700], [150, 700]);
  twoTerminal(sheet, 'fuse', {
    at: [150, 700],
    name: path.groundFuse.name,
    value: [`${path.groundFuse.ratedMilliamp / 1000} A ceramic`, 'in the lead'],
  });
  sheet.wire([230, 700], [x, 700]);
  sheet.dot(270, 700);
  sheet.dot(296, 700);
  sheet.wire([296, 700], [296, 716]);
  common(sheet, 296, 716, 'box common');
}

function senses(sheet: Sheet): void {
  const leads = [
    ['J1 sense', 150, 'SENDER-SENSE', 'R65', 'X1'],
    ['J2 sense', 800, 'GROUND-SENSE', 'R67', 'X2'],
    ['J3 FEED', 870, 'FEED-SENSE', 'R66', 'X3'],
    ['J4 BATTERY −', 940, 'BATTERY-NEG-SENSE', 'R68', 'X4'],
  ] as const;
  for (const [name, y, net, sleeve, jaw] of leads) {
    clip(sheet, [70, y], name, { end: [jaw, 'JAW'] });
    sheet.wire([77, y], [160, y]);
    twoTerminal(sheet, 'resistor', { at: [160, y], name: sleeve, value: [partOhmText(valueOf(sleeve))] });
    flag(sheet, [250, y], 'right', net);
    sheet.wire([240, y], [250, y]);
  }
}

function remarks(sheet: Sheet): void {
  const film = constructions['metal-film'].temperatureCoefficientPpmPerKelvin;
  sheet.note(640, 690, [
    'All contacts are drawn with their coils dead: output open, every element and the limiter in the path.',
    'K1 to K15: both poles of a two-pole signal relay in parallel. K16: 5 A relay, gold-plated contact.',
    'Sense wires leave from the clips, outside F1 and F4: J1 and J2 are two-wire (Kelvin) leads.',
    'Each of the four sense wires has 10 kΩ in its clip’s sleeve: no fuse protects it.',
    'F4 is what a feed on box common meets: swapped clips, or CAL − on the chassis.',
    'SHUNT+ and SHUNT− are taken at the body of R16, inside its solder joints.',
    'No semiconductor lies in the path: a diode would read as ohms (0.35 V at 225 mA is 1.6 Ω). Swapped clips',
    'meet an open K16 and a two-way D1, so nothing flows; the meter sees the sign and the box refuses to arm.',
    `Elements 1 %, ${film} ppm/K or better; each is measured in place, the printed value is only the starting point.`,
    'Box common is the node of the GROUND clip. It meets neither the input supply nor the PC.',
  ]);
}

/** The way the gauge current takes: clip, fuse, output contact, limiter, ladder, shunt, clip. */
export function pathSheet(number: number, of: number): Sheet {
  const sheet = new Sheet({ title: 'Sender path and ladder', number, of, width: 1640, height: 1020 });
  sheet.text(50, 70, 'The path of the gauge current', { size: 20, bold: true });
  entry(sheet);
  chain(sheet);
  exit(sheet);
  senses(sheet);
  remarks(sheet);
  return sheet;
}
