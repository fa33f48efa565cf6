import type { Sheet } from './sheet';
import { layoutSheet } from './sheet-layout';
import { pathSheet } from './sheet-path';
import { currentSheet } from './sheet-current';
import { blockSheet } from './sheet-blocks';
import { controllerSheet } from './sheet-controller';
import { channelsSheet } from './sheet-channels';
import { driveSheet } from './sheet-drive';
import { hookupSheet } from './sheet-hookup';
import { powerSheet } from './sheet-power';
import { railsSheet } from './sheet-rails';
import { drillingSheet, stripDrillingSheet } from './sheet-drilling';
import { stripCopperSheet, stripPartsSheet } from './sheet-strip';
import { stripBoards } from '../strip-board/boards';
import { timingSheet } from './sheet-timing';
import { voltageSheet } from './sheet-voltages';

type Draw = (number: number, of: number) => Sheet;

const sheets: readonly (readonly [file: string, draw: Draw])[] = [
  ['blocks', blockSheet],
  ['path', pathSheet],
  ['voltages', voltageSheet],
  ['current', currentSheet],
  ['drive', driveSheet],
  ['rails', railsSheet],
  ['controller', controllerSheet],
  ['power', powerSheet],
  ['timing', timingSheet],
  ['hookup', hookupSheet],
  ['layout', layoutSheet],
  ['drilling', drillingSheet],
  ['channels', channelsSheet],
  ['drilling-strip', stripDrillingSheet],
  ...stripBoards.flatMap((board): (readonly [string, Draw])[] => [
    [`strip-${board.name}-parts`, (number, of) => stripPartsSheet(board, number, of)],
    [`strip-${board.name}-copper`, (number, of) => stripCopperSheet(board, number, of)],
  ]),
];

/** Sheets that show the circuit itself: read as conductors and terminals they are the netlist. */
const schematics = ['path', 'voltages', 'current', 'drive', 'rails', 'controller', 'power'];

/** The circuit's sheets before they become text. */
export const drawSchematics = (): readonly Sheet[] =>
  sheets
    .filter(([file]) => schematics.includes(file))
    .map(([, draw], index) => draw(index + 1, sheets.length));

/** Every drawing as [file name, SVG text], in sheet order. */
export function drawAll(): readonly (readonly [file: string, svg: string])[] {
  return sheets.map(([file, draw], index) => [`${file}.svg`, draw(index + 1, sheets.length).toSvg()]);
}
