import type { RecordModel } from '../../record/model/record-model';
import { moreSheets } from '../../words/record';
import { counted } from '../../words/sentence';
import type { Report } from '../command';

const USUAL_SHEETS = 2;

/** What a record comes to, and what was written of it. */
export function recordReport(model: RecordModel, sheets: number, written: readonly string[]): Report {
  const { found, journal, jobId, simulated } = model;
  return {
    text: [
      `${simulated ? 'SIMULATED ' : ''}record ${jobId}: ${found.sentence}`,
      ...found.more.map((line) => `  ${line}`),
      ...found.dangers.map((line) => `  ${line}`),
      `  journal: ${counted(journal.entries, 'entry', 'entries')}, sum ${journal.sha256}`,
      ...(sheets > USUAL_SHEETS ? [`  ${moreSheets(sheets)}`] : []),
      ...written.map((file) => `written: ${file}`),
    ],
    json: { ...model, sheets, written: [...written] },
  };
}
