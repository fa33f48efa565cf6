import { plotOfJournal, plotSubjects } from '../../record/plot-file';
import { findingsOfJob } from '../../server/findings/findings-of-job';
import { JSON_OPTION, type Command, type Report, type Surroundings } from '../command';
import { InputError, RefusedError } from '../input-error';
import { readJobFrom } from '../input/job-journal';
import type { Arguments } from '../options';
import { writeNew } from '../output/new-file';

const USUAL_WIDTH = 640;

/** One picture of a job, for a letter or a web page. */
export const plotCommand: Command = {
  name: 'plot',
  summary: 'a picture of a job as SVG: its curve, its errors or its circuit',
  usage: 'JOB --of curve|errors|circuit [--svg FILE] [--width-px W]',
  details: [
    'curve: the ohms that the gauge wants with their 95 % band, what was read, and what the sender gives.',
    'errors: as found, as left and as reckoned, with the limit of the job. circuit: what is fitted.',
    'The letters are in the file. Without --svg it goes to standard output.',
  ],
  options: {
    of: { kind: 'choice', choices: plotSubjects, help: 'what to draw; curve when left out' },
    svg: { kind: 'text', value: 'FILE', help: 'the file to write; one that is there is not written over' },
    'width-px': {
      kind: 'number',
      value: 'W',
      min: 260,
      max: 3000,
      help: `width; ${USUAL_WIDTH} when left out`,
    },
    ...JSON_OPTION,
  },
  words: { least: 1, most: 1 },
  run,
};

async function run(given: Arguments, { out }: Surroundings): Promise<Report | undefined> {
  const { events } = await readJobFrom(given.words[0] ?? '.');
  const of = plotSubjects.find((each) => each === given.text('of')) ?? 'curve';
  const svg = plotOfJournal({
    events,
    findings: findingsOfJob,
    of,
    widthPixel: given.number('width-px') ?? USUAL_WIDTH,
  });
  if (events.length === 0) throw new InputError('this is not the journal of a job', { file: given.words[0] });
  if (svg === undefined)
    throw new RefusedError('NOTHING_TO_DRAW', `this job has nothing to show of ${of} yet`);
  const file = given.text('svg');
  if (file !== undefined) await writeNew(file, svg);
  if (given.flag('json'))
    return { text: [], json: { schema: 'needlewright/plot/1', of, written: file ?? null, svg } };
  if (file === undefined) out(svg);
  return undefined;
}
