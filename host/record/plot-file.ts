import type { Findings } from '../job/findings';
import { inShownUnit, type JobEvent, type JobState } from '../job';
import { shownUnit } from '../words/shown';
import { recordFonts } from './files/fonts';
import { svgOf } from './files/svg';
import { journalSum, stateForRecord } from './job-sum';
import { picturesOf } from './model/pictures';
import { boxPath, INK, moved, textAt, type Drawing } from './paper/items';
import type { Block } from './paper/block';
import { circuitBlock } from './plots/circuit';
import { errorPlot, ohmsPlot } from './plots/plots';

export const plotSubjects = ['curve', 'errors', 'circuit'] as const;
export type PlotSubject = (typeof plotSubjects)[number];

type PlotWish = {
  readonly events: readonly JobEvent[];
  readonly findings: (state: JobState) => Findings;
  readonly of: PlotSubject;
  readonly widthPixel: number;
};

const MARGIN = 10;
const TAG_SIZE = 13;
const TAG = { size: TAG_SIZE, font: 'strong', colour: INK.doubt, anchor: 'end' } as const;
/** Height of a plot as a part of its width. */
const SHAPE = 0.62;

/**
 * One picture of a job's record as an SVG file with its letters within: ohms over the dial (gauge and sender), errors with
 * the job's limit, or the circuit. Undefined: the job has nothing to show of it.
 */
export function plotOfJournal({ events, findings, of, widthPixel }: PlotWish): string | undefined {
  const kept = stateForRecord(events);
  if (kept === undefined) return undefined;
  const state = inShownUnit(kept);
  const fonts = recordFonts();
  const size = { width: widthPixel - 2 * MARGIN, height: (widthPixel - 2 * MARGIN) * SHAPE };
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
  const drawn = block[of]();
  if (drawn === undefined) return undefined;
  const height = drawn.height + 2 * MARGIN;
  const drawing: Drawing = {
    title: `${state.simulated ? 'SIMULATED ' : ''}${of} of ${state.title}`,
    width: widthPixel,
    height,
    items: [
      { kind: 'path', d: boxPath({ x: 0, y: 0, width: widthPixel, height }), fill: INK.paper },
      moved(MARGIN, MARGIN, drawn.items),
      ...(state.simulated ? [textAt(widthPixel - MARGIN, MARGIN + TAG_SIZE, 'SIMULATED', TAG)] : []),
    ],
  };
  return svgOf(drawing, { idPrefix: 'plot-', withFonts: fonts });
}
