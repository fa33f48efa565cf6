import { stat } from 'node:fs/promises';
import { basename, resolve } from 'node:path';
import { plotAsSvg, plotOfJournal, plotSubjects, type PlotSubject } from '../../../record/plot-file';
import { findingsOfJob } from '../../../server/findings/findings-of-job';
import { JOURNAL_FILE } from '../../../store';
import { JSON_OPTION, type Command, type Report, type Surroundings } from '../../command';
import { CATALOGUE_OPTIONS } from '../../input/catalogue-place';
import { isPairsInput } from '../../input/curve-kind';
import { MARKS_OPTION } from '../../input/dial-marks';
import { CURVE_FILE_OPTIONS } from '../../input/gauge-and-sender';
import { readInput } from '../../input/input-file';
import { readJobFrom } from '../../input/job-journal';
import { LIMIT_OPTION, SCALE_OPTION } from '../../input/proof-limits';
import { DIVISION_OPTION } from '../../input/proof-pairs';
import { REFERENCE_OPTIONS } from '../../input/reference-options';
import { SEARCH_OPTIONS } from '../../input/trim-options';
import { InputError, RefusedError } from '../../input-error';
import type { Arguments } from '../../options';
import { writeNew } from '../../output/new-file';
import type { AnswerOf } from '../../output/schemas';
import { curvePlot, type Drawn } from './curves';
import { pairsPlot, trimPlot } from './errors';
import { modelPlot } from './model';

const USUAL_WIDTH = 640;

/** One picture of a job, a file, a card or a model, for a letter or a web page. */
export const plotCommand: Command = {
  name: 'plot',
  summary: 'a picture as SVG: any curve, error or circuit, of a job, a file, a card or a model',
  usage: 'JOB | CURVE | PAIRS.csv | - | --model NAME [--of curve|errors|circuit] [--svg FILE]',
  example: 'needlewright plot readings.csv --sender points.csv --svg curve.svg',
  details: [
    'JOB: its curve (the ohms that the gauge wants with their 95 % band, what was read, what the sender gives), its errors',
    '(as found, as left and as reckoned, with the limit of the job) or its circuit.',
    'CURVE: a table of ohms and readings or of a sender (a CSV file, or pasted: -), the JSON of "curve" or "sender", or a',
    'card of the catalogue by its name. With --sender both are drawn; with --sender and --of errors what trim reckons.',
    'PAIRS.csv, as proof takes it: the errors with their uncertainty and the limit; it wants --scale or --marks.',
    '--model: the specimens of a model one over the other, or with --of errors how far each is from the middle.',
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
    title: { kind: 'text', value: 'TEXT', help: 'what stands above; the name of the file when left out' },
    ...MARKS_OPTION,
    unit: { kind: 'text', value: 'UNIT', help: 'unit of the dial when no column says it' },
    model: { kind: 'text', value: 'NAME', help: 'a model of the catalogue' },
    simulated: { kind: 'flag', help: 'simulated cards of the model too' },
    ...CATALOGUE_OPTIONS,
    ...SCALE_OPTION,
    ...DIVISION_OPTION,
    ...REFERENCE_OPTIONS,
    ...CURVE_FILE_OPTIONS,
    ...SEARCH_OPTIONS,
    ...LIMIT_OPTION,
    ...JSON_OPTION,
  },
  words: { least: 0, most: 1 },
  run,
};

const USAGE = `usage: needlewright plot ${plotCommand.usage}`;

async function run(given: Arguments, surroundings: Surroundings): Promise<Report> {
  const of = plotSubjects.find((each) => each === given.text('of'));
  const [word] = given.words;
  const widthPixel = given.number('width-px') ?? USUAL_WIDTH;
  const { svg, warnings, subject } =
    word !== undefined && (await isJob(word))
      ? await ofJob(word, of ?? 'curve', widthPixel)
      : await ofOther(of, given, surroundings).then(({ drawn, subject: drew }) => ({
          svg: plotAsSvg(drawn.plotted, widthPixel),
          warnings: drawn.warnings,
          subject: drew,
        }));
  const file = given.text('svg');
  if (file !== undefined) await writeNew(file, svg);
  const answer: AnswerOf<'plot'> = {
    ...{ schema: 'needlewright/plot/1', of: subject, written: file ?? null },
    ...{ svg, warnings: [...warnings] },
  };
  return { text: file === undefined ? [svg] : [], json: answer, warnings };
}

const isJob = async (word: string): Promise<boolean> =>
  basename(word) === JOURNAL_FILE ||
  (await stat(resolve(word)).then(
    (found) => found.isDirectory(),
    () => false,
  ));

type Picture = {
  readonly svg: string;
  readonly warnings: readonly string[];
  readonly subject: PlotSubject;
};

async function ofJob(word: string, of: PlotSubject, widthPixel: number): Promise<Picture> {
  const { events } = await readJobFrom(word);
  if (events.length === 0) throw new InputError('this is not the journal of a job', { file: word });
  const svg = plotOfJournal({ events, findings: findingsOfJob, of, widthPixel });
  if (svg === undefined)
    throw new RefusedError('NOTHING_TO_DRAW', `this job has nothing to show of ${of} yet`);
  return { svg, warnings: [], subject: of };
}

type Other = { readonly drawn: Drawn; readonly subject: 'curve' | 'errors' };

/** What is no job: a model, a gauge with a sender, a table, a card. */
async function ofOther(
  of: PlotSubject | undefined,
  given: Arguments,
  surroundings: Surroundings,
): Promise<Other> {
  const [model, gauge, sender] = [given.text('model'), given.text('gauge'), given.text('sender')];
  const named = [given.words[0], gauge, model].filter((each) => each !== undefined);
  const [path = sender] = named;
  if (path === undefined) throw new InputError(USAGE);
  if (named.length > 1) throw new InputError(`one thing is drawn at a time; ${USAGE}`);
  if (of === 'circuit') throw new InputError('a circuit is drawn of a job; name the folder of one');
  if (model !== undefined)
    return { drawn: await modelPlot(model, of ?? 'curve', given, surroundings), subject: of ?? 'curve' };
  if (of === 'errors' && sender !== undefined)
    return { drawn: await trimPlot({ gauge: path, sender }, given, surroundings), subject: 'errors' };
  const input = await readInput(path, surroundings);
  if (input.kind === 'csv' && isPairsInput(input)) {
    if (of === 'curve')
      throw new InputError('these are readings beside what is true, without ohms: draw --of errors', {
        file: input.file,
      });
    return { drawn: pairsPlot(input, given), subject: 'errors' };
  }
  if (of === 'errors')
    throw new InputError(
      'errors need a sender beside the gauge (--sender CURVE), or a table of readings and what is true',
      { file: input.file },
    );
  return { drawn: await curvePlot(input, given, surroundings), subject: 'curve' };
}
