import type { Sheet } from './sheet';
import { pathSheet } from './sheet-path';
import { currentSheet } from './sheet-current';
import { controllerSheet } from './sheet-controller';
import { driveSheet } from './sheet-drive';
import { powerSheet } from './sheet-power';
import { voltageSheet } from './sheet-voltages';

type Draw = (number: number, of: number) => Sheet;

const sheets: readonly (readonly [file: string, draw: Draw])[] = [
  ['path', pathSheet],
  ['voltages', voltageSheet],
  ['current', currentSheet],
  ['drive', driveSheet],
  ['controller', controllerSheet],
  ['power', powerSheet],
];

/** Every drawing as [file name, SVG text], in sheet order. */
export function drawAll(): readonly (readonly [file: string, svg: string])[] {
  return sheets.map(([file, draw], index) => [`${file}.svg`, draw(index + 1, sheets.length).toSvg()]);
}
