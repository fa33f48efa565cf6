import { meterBoard } from './meter';
import { pathBoard } from './path';
import { powerBoard } from './power';

/** The first build on three strip boards, in the order they are built. */
export const stripBoards = [powerBoard, pathBoard, meterBoard] as const;
