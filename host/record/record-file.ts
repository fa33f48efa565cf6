import type { Findings } from '../job/findings';
import { inShownUnit, type JobEvent, type JobState } from '../job';
import type { RecordModel } from './model/record-model';
import { recordFonts } from './files/fonts';
import { pdfOf, type Paper } from './files/pdf';
import { svgOf } from './files/svg';
import type { Picture } from './paper/items';
import { journalSum, stateForRecord } from './job-sum';
import { markText } from './record-mark';
import { loomLabel } from './sheets/loom-label';
import { drawnRecord, type DrawnRecord } from './sheets/record-sheets';

export type RecordWish = {
  readonly events: readonly JobEvent[];
  /** Of the job as it is kept; they are made in the unit that is shown. */
  readonly findings: (state: JobState) => Findings;
  readonly program: string;
  /** After its first so many entries; all of them when left out. */
  readonly entries?: number;
  /** The photographs that are there, with their bytes. */
  readonly photographs?: readonly Picture[];
};

/** A record and every form it is handed over in, each made when it is asked for. */
export type JobRecord = {
  readonly model: RecordModel;
  /** Every photograph that the journal names was given: what is drawn is what the job holds. */
  readonly isWhole: boolean;
  readonly sheetCount: number;
  readonly pdf: (paper: Paper) => Promise<Uint8Array>;
  /** The sheets as SVG, for a page that has the letters. */
  readonly svgSheets: (addressOf?: (picture: Picture) => string) => readonly string[];
  readonly labelPdf: () => Promise<Uint8Array>;
  readonly labelSvg: () => string;
};

/** The record of a journal; undefined where the journal opens no job. */
export function recordOfJournal(wish: RecordWish): JobRecord | undefined {
  const { events, findings, program, entries, photographs = [] } = wish;
  const state = stateForRecord(events, entries);
  if (state === undefined) return undefined;
  const fonts = recordFonts();
  const drawn: DrawnRecord = drawnRecord(
    {
      state: inShownUnit(state),
      findings: findings(state),
      journal: journalSum(events, entries),
      program,
      photographs,
    },
    fonts,
  );
  const { model, sheets } = drawn;
  const facts = (heads: string, keywords: string) => ({
    title: heads,
    subject: model.found.sentence,
    keywords,
    at: new Date(state.lastAt),
    producer: `Needlewright ${program}`,
    ...(model.shop === undefined ? {} : { author: model.shop }),
  });
  const mark = (paper: Paper) =>
    markText({
      entries: model.journal.entries,
      sum: model.journal.sha256,
      jobId: model.jobId,
      paper,
      program,
    });
  const title = `${model.simulated ? 'SIMULATED ' : ''}Record ${model.jobId}`;
  const label = () => loomLabel(fonts, model);
  return {
    model,
    sheetCount: sheets.length,
    pdf: (paper) => pdfOf(sheets, fonts, facts(title, mark(paper)), paper),
    isWhole: model.photographs.every(({ photographId }) =>
      photographs.some((each) => each.photographId === photographId),
    ),
    svgSheets: (addressOf) =>
      sheets.map((sheet, index) =>
        svgOf(sheet, {
          idPrefix: `record-${index + 1}-`,
          ...(addressOf === undefined ? {} : { addressOf }),
        }),
      ),
    labelPdf: () => pdfOf([label()], fonts, facts(`Label of ${title}`, 'loom label'), undefined),
    labelSvg: () => svgOf(label(), { idPrefix: 'label-', withFonts: fonts }),
  };
}
