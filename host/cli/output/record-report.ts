import type { RecordModel } from '../../record/model/record-model';
import type { Report } from '../command';

/** What a record comes to, and what was written of it. */
export function recordReport(model: RecordModel, written: readonly string[]): Report {
  const { found, journal, jobId, simulated } = model;
  return {
    text: [
      `${simulated ? 'SIMULATED ' : ''}record ${jobId}: ${found.sentence}`,
      ...found.more.map((line) => `  ${line}`),
      ...found.dangers.map((line) => `  ${line}`),
      `  journal: ${journal.entries} entries, sum ${journal.sha256}`,
      ...written.map((file) => `written: ${file}`),
    ],
    json: { ...model, written: [...written] },
  };
}
