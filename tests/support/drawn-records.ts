import { draw } from '../../host/server/record/draw-record';
import { recordDesk } from '../../host/server/record/record-desk';

/** Records drawn where they are asked for, without a thread. */
export const drawnRecords = recordDesk({ reckon: draw, close: () => Promise.resolve() }, 'test');
