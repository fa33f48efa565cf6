import type { Gauge } from '../../job/schema/gauge';
import { picturesOf } from '../model/pictures';
import type { RecordSource } from '../model/context';
import { recordOf } from '../model/record';
import type { RecordModel } from '../model/record-model';
import type { Drawing } from '../paper/items';
import type { Letters } from '../paper/letters';
import { sheetOf } from './frame';
import { circuitSection, sheetOne } from './sheet-one';
import { figureSheets } from './sheets-two';

export type DrawnRecord = { readonly model: RecordModel; readonly sheets: readonly Drawing[] };

/** The record of a job on its sheets: the first for the customer, the others for whoever checks it. */
export function drawnRecord(source: RecordSource, letters: Letters): DrawnRecord {
  const model = recordOf(source);
  const gauge: Gauge = source.state.gauge;
  const pictures = picturesOf(source);
  const first = sheetOne({ letters, model, pictures, gauge });
  const left = first.hasFailures ? { ...model, failures: [] } : model;
  const { circuit } = pictures;
  const isLeft = circuit !== undefined && !first.hasCircuit;
  const figures = figureSheets(
    letters,
    { model: left, gauge },
    {
      photographs: source.photographs,
      circuit: isLeft ? (width) => circuitSection({ letters, model, gauge, circuit }, width) : undefined,
    },
  );
  const inside = [first.items, ...figures];
  const sheets = inside.map((items, index) =>
    sheetOf(
      letters,
      { jobId: model.jobId, simulated: model.simulated, number: index + 1, count: inside.length },
      items,
    ),
  );
  return { model, sheets };
}
