import type { Findings } from '../job/findings';
import { inShownUnit, type JobEvent, type JobState } from '../job';
import type { ErrorQuestion } from '../scene/error-scene';
import type { OhmsQuestion } from '../scene/ohms-scene';
import { shownUnit } from '../words/shown';
import { recordFonts, type Fonts } from './files/fonts';
import { svgOf } from './files/svg';
import { journalSum, stateForRecord } from './job-sum';
import { picturesOf } from './model/pictures';
import { paragraph, stacked, type Block } from './paper/block';
import { boxPath, INK, moved, textAt, type Drawing } from './paper/items';
import { circuitBlock } from './plots/circuit';
import { errorPlot, ohmsPlot, type PlotSize } from './plots/plots';

export const plotSubjects = ['curve', 'errors', 'circuit'] as const;
export type PlotSubject = (typeof plotSubjects)[number];

type PlotWish = {
  readonly events: readonly JobEvent[];
  readonly findings: (state: JobState) => Findings;
  readonly of: PlotSubject;
  readonly widthPixel: number;
};

/** What is plotted without a job: its name, what is drawn of it, and what must be said to read it. */
export type Plotted = {
  readonly title: string;
  readonly subtitle: string;
  readonly says: readonly string[];
  readonly isSimulated: boolean;
  readonly picture:
    | { readonly kind: 'ohms'; readonly question: OhmsQuestion }
    | { readonly kind: 'errors'; readonly question: ErrorQuestion };
};

const MARGIN = 10;
const TAG_SIZE = 13;
const TAG = { size: TAG_SIZE, font: 'strong', colour: INK.doubt, anchor: 'end' } as const;
/** Height of a plot as a part of its width. */
const SHAPE = 0.62;
const TITLE_SIZE = 16;
const SAYS_SIZE = 11.5;
const SIMULATED = 'SIMULATED';
/** So much of the first line belongs to that word. */
const TAG_ROOM = 90;

const sizeIn = (widthPixel: number): PlotSize => ({
  width: widthPixel - 2 * MARGIN,
  height: (widthPixel - 2 * MARGIN) * SHAPE,
});

/**
 * One picture of a job's record as an SVG file with its letters within: ohms over the dial (gauge and sender), errors with
 * the job's limit, or the circuit. Undefined: the job has nothing to show of it.
 */
export function plotOfJournal({ events, findings, of, widthPixel }: PlotWish): string | undefined {
  const kept = stateForRecord(events);
  if (kept === undefined) return undefined;
  const state = inShownUnit(kept);
  const fonts = recordFonts();
  const size = sizeIn(widthPixel);
  const { ohms, errors, circuit } = picturesOf({
    state,
    findings: findings(kept),
    journal: journalSum(events),
    program: '',
    photographs: [],
  });
  const block: Readonly<Record<PlotSubject, () => Block | undefined>> = {
    curve: () => ohms && ohmsPlot(fonts, ohms.question, size),
    errors: () => errors && errorPlot(fonts, errors, shownUnit(state.gauge.unit), size),
    circuit: () => circuit && circuitBlock(circuit, state.gauge.quantity, size.width),
  };
  const subtitles: Readonly<Record<PlotSubject, string>> = {
    curve: ohms?.title ?? '',
    errors: 'Indicated less true',
    circuit: 'The circuit as it is left',
  };
  const drawn = block[of]();
  if (drawn === undefined) return undefined;
  return framed(fonts, drawn, {
    ...{ title: state.title, subtitle: subtitles[of], says: [], isSimulated: state.simulated },
    widthPixel,
  });
}

/** A plot of what a file, the catalogue or a computation holds, as an SVG file with its letters within. */
export function plotAsSvg(plotted: Plotted, widthPixel: number): string {
  const fonts = recordFonts();
  const { picture } = plotted;
  const size = sizeIn(widthPixel);
  const drawn =
    picture.kind === 'ohms'
      ? ohmsPlot(fonts, picture.question, size)
      : errorPlot(fonts, picture.question, shownUnit(picture.question.scale.unit), size);
  return framed(fonts, drawn, { ...plotted, widthPixel });
}

type Frame = Omit<Plotted, 'picture'> & { readonly widthPixel: number };

/** Its name above, what must be said below, on paper. */
function framed(
  letters: Fonts,
  drawn: Block,
  { title, subtitle, says, isSimulated, widthPixel }: Frame,
): string {
  const width = widthPixel - 2 * MARGIN;
  const name = paragraph(letters, {
    text: title,
    width: width - (isSimulated ? TAG_ROOM : 0),
    size: TITLE_SIZE,
    font: 'engraved',
  });
  const soft = (text: string): Block =>
    paragraph(letters, { text, width, size: SAYS_SIZE, colour: INK.soft });
  const whole = stacked([stacked([name, soft(subtitle)], 1), drawn, ...says.map(soft)], 6);
  const height = whole.height + 2 * MARGIN;
  const drawing: Drawing = {
    title: `${isSimulated ? `${SIMULATED} ` : ''}${title}: ${subtitle}`,
    width: widthPixel,
    height,
    items: [
      { kind: 'path', d: boxPath({ x: 0, y: 0, width: widthPixel, height }), fill: INK.paper },
      moved(MARGIN, MARGIN, whole.items),
      ...(isSimulated ? [textAt(widthPixel - MARGIN, MARGIN + TAG_SIZE, SIMULATED, TAG)] : []),
    ],
  };
  return svgOf(drawing, { idPrefix: 'plot-', withFonts: letters });
}
