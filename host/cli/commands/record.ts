import { version } from '../../../package.json';
import { recordOfJournal, type JobRecord } from '../../record/record-file';
import { findingsOfJob } from '../../server/findings/findings-of-job';
import { JSON_OPTION, type Command, type Report, type Surroundings } from '../command';
import { InputError } from '../input-error';
import { writeNew } from '../output/new-file';
import { verifyRecord } from './verify-record';
import { readJobFrom } from '../input/job-journal';
import { recordReport } from '../output/record-report';
import type { Arguments } from '../options';

const PAPERS = ['a4', 'letter'] as const;

/** The record of a job: as text or data, as a PDF file to hand over, and the label for the loom. */
export const recordCommand: Command = {
  name: 'record',
  summary: 'the record of a job: a PDF file to hand over, the label for the loom',
  usage: 'JOB [--pdf FILE] [--paper a4|letter] [--label FILE] [--verify FILE] [--json]',
  example: 'needlewright record jobs/harrow-six --pdf harrow-six.pdf --label loom.pdf',
  details: [
    '--verify says whether a record belongs to the job: a PDF file, the data of --json, or what is printed beside Journal on the',
    'last sheet ("35 entries, sum 1ab8 5013 8918 44e8"); and what was entered since.',
    'JOB is the folder of a job. Sheet 1 is for the customer, the others for whoever checks the work.',
    'The same job gives the same bytes. The job is only looked at: a record may be made while the page works in it.',
    '--label writes the label for the loom, 50 mm x 25 mm, as PDF or, where the name ends so, as SVG.',
    'A file that is there already is not written over.',
  ],
  options: {
    pdf: { kind: 'text', value: 'FILE', help: 'write the sheets as a PDF file' },
    paper: { kind: 'choice', choices: PAPERS, help: 'what it will be printed on; a4 when left out' },
    label: { kind: 'text', value: 'FILE', help: 'write the label for the loom (.pdf or .svg)' },
    verify: { kind: 'text', value: 'FILE', help: 'whether this record belongs to the job' },
    ...JSON_OPTION,
  },
  words: { least: 1, most: 1 },
  run,
};

async function run(given: Arguments, surroundings: Surroundings): Promise<Report> {
  const job = await readJobFrom(given.words[0] ?? '.');
  const verified = given.text('verify');
  if (verified !== undefined) return verifyRecord(verified, job, surroundings);
  const record = recordOfJournal({
    events: job.events,
    findings: findingsOfJob,
    program: version,
    photographs: await job.photographs(),
  });
  if (record === undefined)
    throw new InputError('this is not the journal of a job', { file: given.words[0] });
  const written = await writeFiles(given, record);
  return recordReport(record.model, record.sheetCount, written);
}

async function writeFiles(given: Arguments, record: JobRecord): Promise<string[]> {
  const paper = PAPERS.find((each) => each === given.text('paper')) ?? 'a4';
  const pdf = given.text('pdf');
  const label = given.text('label');
  const written: string[] = [];
  const write = async (file: string, content: Uint8Array | string): Promise<void> => {
    await writeNew(file, content);
    written.push(file);
  };
  if (pdf !== undefined) await write(pdf, await record.pdf(paper));
  if (label !== undefined)
    await write(label, label.toLowerCase().endsWith('.svg') ? record.labelSvg() : await record.labelPdf());
  return written;
}
