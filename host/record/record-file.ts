import type { Findings } from '../job/findings';
import { inShownUnit, type JobEvent, type JobState } from '../job';
import type { RecordModel } from './model/record-model';
import { recordFonts } from './files/fonts';
import { pdfOf, type Paper } from './files/pdf';
import { svgOf } from './files/svg';
import { journalSum, stateForRecord } from './job-sum';
import { loomLabel } from './sheets/loom-label';
import { drawnRecord, type DrawnRecord } from './sheets/record-sheets';

export type RecordWish = {
  readonly events: readonly JobEvent[];
  /** Of the job as it is kept; they are made in the unit that is shown. */
  readonly findings: (state: JobState) => Findings;
  readonly program: string;
  /** After its first so many entries; all of them when left out. */
  readonly entries?: number;
};

/** A record and every form it is handed over in, each made when it is asked for. */
export type JobRecord = {
  readonly model: RecordModel;
  readonly pdf: (paper: Paper) => Promise<Uint8Array>;
  /** The sheets as SVG, for a page that has the letters. */
  readonly svgSheets: () => readonly string[];
  readonly labelPdf: () => Promise<Uint8Array>;
  readonly labelSvg: () => string;
};

/** What finds a record's own job again: in the file's properties, and printed on its last sheet. */
const recordMark = ({ jobId, journal }: RecordModel, paper: Paper): string =>
  `needlewright/record/1 paper=${paper} entries=${journal.entries} sum=${journal.sha256} job=${jobId}`;

/** The record of a journal; undefined where the journal opens no job. */
export function recordOfJournal({ events, findings, program, entries }: RecordWish): JobRecord | undefined {
  const state = stateForRecord(events, entries);
  if (state === undefined) return undefined;
  const fonts = recordFonts();
  const drawn: DrawnRecord = drawnRecord(
    { state: inShownUnit(state), findings: findings(state), journal: journalSum(events, entries), program },
    fonts,
  );
  const { model, sheets } = drawn;
  const facts = (paper: Paper, title: string) => ({
    title,
    subject: model.found.sentence,
    keywords: recordMark(model, paper),
    at: new Date(state.lastAt),
    producer: `Needlewright ${program}`,
    ...(model.shop === undefined ? {} : { author: model.shop }),
  });
  const title = `${model.simulated ? 'SIMULATED ' : ''}Record ${model.jobId}`;
  const label = () => loomLabel(fonts, model);
  return {
    model,
    pdf: (paper) => pdfOf(sheets, fonts, facts(paper, title), paper),
    svgSheets: () => sheets.map((sheet, index) => svgOf(sheet, { idPrefix: `record-${index + 1}-` })),
    labelPdf: () => pdfOf([label()], fonts, facts('a4', `Label of ${title}`), undefined),
    labelSvg: () => svgOf(label(), { idPrefix: 'label-', withFonts: fonts }),
  };
}
