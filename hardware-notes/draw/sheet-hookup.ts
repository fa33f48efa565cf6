import { boxLeads } from '../../host/job/hook-up';
import { arrow, block, region } from './blocks';
import { isolationColour, Sheet } from './sheet';
import { clip, common, twoTerminal } from './symbols';

type Lead = readonly [name: string, y: number];

/** Sockets one below the other, in the order in which the page draws them too. */
const leads: readonly Lead[] = boxLeads.map(({ name }, index) => [name, 60 * (index + 1)]);

/** "red, on the wire taken off the sender". */
const leadWords = (name: string): string => {
  const lead = boxLeads.find((each) => each.name === name);
  return lead === undefined ? name : `${lead.colour}, ${lead.says}`;
};

/** The front of the box at `x`, `y`: answers with the clip positions by name. */
function front(sheet: Sheet, x: number, y: number): (name: string) => number {
  sheet.box([x, y], [150, 290], { fill: '#fbfaf6', radius: 6 });
  sheet.text(x + 75, y + 28, 'Box', { bold: true, anchor: 'middle', size: 16 });
  for (const [name, offset] of leads) sheet.text(x + 14, y + offset + 5, name, { size: 13.5, bold: true });
  return (name) => y + (leads.find(([lead]) => lead === name)?.[1] ?? 0);
}

function inVehicle(sheet: Sheet): void {
  region(sheet, [50, 100], [1540, 430], '1  Standing in for a sender, in the vehicle or on the bench');
  const y = 170;
  const at = front(sheet, 620, y);
  block(sheet, { at: [1180, 150], size: [240, 130], title: 'Gauge', lines: ['feed', '', 'sender terminal'] });
  sheet.wire([770, at('SENDER')], [1100, at('SENDER')], [1100, 250], [1180, 250]);
  sheet.text(925, at('SENDER') - 9, `${leadWords('SENDER')} *`, {
    size: 12.5,
    anchor: 'middle',
  });
  sheet.wire([770, at('FEED')], [1140, at('FEED')], [1140, 185], [1180, 185]);
  sheet.text(925, at('FEED') - 9, leadWords('FEED'), { size: 12.5, anchor: 'middle' });
  block(sheet, {
    at: [1180, 330],
    size: [240, 60],
    title: 'Sender’s ground',
    lines: ['engine; fuel: body at the dash'],
  });
  sheet.wire([770, at('GROUND')], [1060, at('GROUND')], [1060, 360], [1180, 360]);
  sheet.text(915, at('GROUND') - 9, leadWords('GROUND'), { size: 12.5, anchor: 'middle' });
  block(sheet, { at: [1180, 430], size: [240, 60], title: 'Battery negative', lines: ['at the post'] });
  sheet.wire([770, at('BATTERY −')], [1020, at('BATTERY −')], [1020, 460], [1180, 460]);
  sheet.text(895, at('BATTERY −') - 9, leadWords('BATTERY −'), { size: 12.5, anchor: 'middle' });
  supplyAndHost(sheet);
}

function supplyAndHost(sheet: Sheet): void {
  block(sheet, {
    at: [300, 170],
    size: [200, 60],
    title: 'DC 9 to 18 V',
    lines: ['fused 1 A at the source'],
  });
  sheet.wire([500, 200], [620, 200]);
  sheet.text(560, 191, 'supply, J5', { size: 12.5, anchor: 'middle' });
  block(sheet, { at: [90, 360], size: [130, 60], title: 'Host', lines: ['USB'] });
  block(sheet, { at: [330, 360], size: [150, 60], title: 'Isolator, bridge', lines: ['inside the box'] });
  arrow(
    sheet,
    [
      [220, 390],
      [330, 390],
    ],
    true,
  );
  arrow(
    sheet,
    [
      [480, 390],
      [620, 390],
    ],
    true,
  );
  sheet.path('M405 320 V355 M405 425 V470', { colour: isolationColour, width: 2.4, dash: '9 7' });
  sheet.text(
    90,
    500,
    'The sender itself is unplugged and hangs free. Ignition off while any clip is moved.',
    { size: 13 },
  );
  sheet.text(
    90,
    520,
    '* Fuel: at the dash end of the wire. Nothing is clipped, made or broken at the tank, the GROUND clip neither.',
    { size: 13, bold: true },
  );
}

function calibration(sheet: Sheet): void {
  region(sheet, [50, 560], [750, 395], '2  Self-calibration');
  const y = 620;
  const at = front(sheet, 130, y);
  clip(sheet, [560, at('SENDER')], 'CAL +');
  clip(sheet, [560, at('GROUND')], 'CAL −');
  sheet.wire([280, at('SENDER')], [553, at('SENDER')]);
  sheet.wire([280, at('GROUND')], [553, at('GROUND')]);
  sheet.wire([280, at('BATTERY −')], [480, at('BATTERY −')], [480, at('GROUND')]);
  sheet.dot(480, at('GROUND'));
  sheet.note(320, at('BATTERY −') + 24, [
    'SENDER clip on CAL +, GROUND and BATTERY − on CAL −,',
    'nothing else clipped anywhere. The box sends its own current',
    'through its own ladder and measures with the sense wires at',
    'the clips: fuse, lead and contacts are in the result.',
  ]);
}

function senderBench(sheet: Sheet): void {
  region(sheet, [840, 560], [750, 395], '3  Ohmmeter for a sender on the bench');
  const y = 620;
  const at = front(sheet, 920, y);
  twoTerminal(sheet, 'resistor', {
    at: [1330, at('SENDER') - 10],
    down: true,
    name: 'sender',
    value: ['in its bath'],
  });
  sheet.wire(
    [1070, at('SENDER')],
    [1300, at('SENDER')],
    [1300, at('SENDER') - 10],
    [1330, at('SENDER') - 10],
  );
  sheet.wire(
    [1070, at('GROUND')],
    [1300, at('GROUND')],
    [1300, at('GROUND') + 10],
    [1330, at('GROUND') + 10],
  );
  sheet.wire([1330, at('SENDER') + 70], [1330, at('GROUND') + 10]);
  clip(sheet, [1500, at('SENDER') - 10], 'CAL +');
  clip(sheet, [1500, at('GROUND') + 10], 'CAL −');
  sheet.wire([1330, at('SENDER') - 10], [1493, at('SENDER') - 10]);
  sheet.wire([1330, at('GROUND') + 10], [1493, at('GROUND') + 10]);
  sheet.dot(1330, at('SENDER') - 10);
  sheet.dot(1330, at('GROUND') + 10);
  sheet.note(1110, at('GROUND') + 76, [
    'Two extra leads bring the current from the CAL posts;',
    'the clips sense: all but 0.02 Ω of lead drops out.',
    'The output stays open. Never a sender in a tank with',
    'more than the 500 µA range.',
  ]);
  common(sheet, 1500, at('GROUND') + 40);
  sheet.wire([1500, at('GROUND') + 17], [1500, at('GROUND') + 40]);
}

/** Which clip goes where, in the three ways the box is used. */
export function hookupSheet(number: number, of: number): Sheet {
  const sheet = new Sheet({ title: 'Leads and hook-up', number, of, width: 1640, height: 1060 });
  sheet.text(50, 70, 'Which clip goes where', { size: 20, bold: true });
  inVehicle(sheet);
  calibration(sheet);
  senderBench(sheet);
  return sheet;
}
