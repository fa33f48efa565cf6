import { fourChannelPins } from '../../firmware-ts/board/reference-design';
import { arrow, block, region } from './blocks';
import { isolationColour, Sheet } from './sheet';

const boards = [0, 1, 2, 3] as const;

function controller(sheet: Sheet): void {
  region(sheet, [40, 110], [420, 760], 'Master board, on the supply’s common');
  block(sheet, {
    at: [110, 240],
    size: [280, 480],
    title: 'Controller',
    lines: ['the same firmware,', 'board file of four channels'],
  });
  block(sheet, {
    at: [110, 760],
    size: [280, 70],
    title: 'Isolator and USB bridge',
    lines: ['as on one channel'],
  });
  arrow(
    sheet,
    [
      [250, 720],
      [250, 760],
    ],
    true,
  );
}

function channel(sheet: Sheet, index: number): void {
  const y = 110 + index * 195;
  region(sheet, [760, y], [820, 175], `Channel ${index}, on its own GROUND clip’s common`);
  block(sheet, {
    at: [830, y + 55],
    size: [190, 90],
    title: 'Relay register',
    lines: ['16 bits, latched', 'reads back'],
  });
  block(sheet, {
    at: [1050, y + 55],
    size: [150, 90],
    title: 'Dead-man, trip',
    lines: ['own coil rail'],
    fill: '#fdeee6',
  });
  block(sheet, {
    at: [1230, y + 55],
    size: [150, 90],
    title: 'Ladder, K16',
    lines: ['own fuse, leads'],
    fill: '#e9f1fa',
  });
  block(sheet, {
    at: [1410, y + 55],
    size: [140, 90],
    title: 'Meter',
    lines: ['two converters', 'own ohmmeter'],
  });
  block(sheet, { at: [650, y + 55], size: [140, 90], title: 'Isolators', lines: ['SPI, I²C, pulse'] });
  sheet.wire([790, y + 100], [830, y + 100]);
  arrow(
    sheet,
    [
      [460, y + 100],
      [650, y + 100],
    ],
    true,
  );
  sheet.text(555, y + 91, `select GP${fourChannelPins.select[index]}`, { size: 12.5, anchor: 'middle' });
  sheet.text(555, y + 118, `pulse GP${fourChannelPins.deadManPulse[index]}`, {
    size: 12.5,
    anchor: 'middle',
  });
  sheet.path(`M720 ${y + 6} V${y + 52} M720 ${y + 148} V${y + 178}`, {
    colour: isolationColour,
    width: 2.4,
    dash: '9 7',
  });
}

/** Four channels for a bench with a whole cluster: four channel boards, each with its own common. */
export function channelsSheet(number: number, of: number): Sheet {
  const sheet = new Sheet({ title: 'Extension to four channels', number, of, width: 1640, height: 1000 });
  sheet.text(50, 70, 'Four channels', { size: 20, bold: true });
  controller(sheet);
  for (const index of boards) channel(sheet, index);
  sheet.note(50, 910, [
    'Every channel floats on its own GROUND clip and has its own isolated 5 V, fuse, trip and one-shot: a fault in one opens one.',
    `Shared: SPI clock GP${fourChannelPins.spiClock}, data out GP${fourChannelPins.spiOut}, data in GP${fourChannelPins.spiIn}; I²C GP${fourChannelPins.meterData}, GP${fourChannelPins.meterClock} through a 1:4 switch.`,
  ]);
  return sheet;
}
