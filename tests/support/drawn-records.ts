import { drawRecord } from '../../host/server/record/draw-record';
import { recordDesk } from '../../host/server/record/record-desk';

/** Records drawn where they are asked for, without a thread. */
export const drawnRecords = recordDesk({ reckon: drawRecord, close: () => Promise.resolve() }, 'test');
