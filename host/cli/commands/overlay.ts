import { overlayOf, papers, type Overlay, type OverlayMark } from '../../core/overlay/overlay';

import { OVERLAY_CAUTIONS } from '../../words/strap';
import { JSON_OPTION, type Command, type Report, type Surroundings } from '../command';
import { cellOf, CellReader, finish, recogniseColumns, requireColumn } from '../input/columns';
import { readGrid } from '../input/input-file';
import { InputError, refusedError } from '../input-error';
import type { Arguments } from '../options';
import { overlaySvg } from '../output/overlay-svg';
import type { AnswerOf } from '../output/schemas';

const MM = { kind: 'number', value: 'MM', min: 0, max: 300 } as const;
const DEGREES = { kind: 'number', value: 'DEG', min: -360, max: 360 } as const;

/** A new face for an old dial, true to size. */
export const overlayCommand: Command = {
  name: 'overlay',
  summary: 'a new face to lay over a dial, true to size, as SVG',
  usage: 'MARKS.csv --radius-mm R --start DEG --sweep DEG [options] > face.svg',
  example: 'needlewright overlay marks.csv --radius-mm 21 --start -50 --sweep 100 > face.svg',
  details: [
    'In: label and arc_fraction (0 at the low end of the arc, 1 at its high end).',
    'Out: one SVG page in millimetres, with the hub, the marks, a cut line and a bar of 100 mm each way. Print it without',
    '"fit to page", measure both bars and give them back with --bars: over 0.5 % off it is scaled, over 2 % refused.',
    OVERLAY_CAUTIONS[0] ?? '',
  ],
  options: {
    'radius-mm': { ...MM, help: 'from the hub to the outer ends of the marks' },
    'hub-mm': { ...MM, help: 'radius of the hole for the pointer\u2019s shaft; 3 when left out' },
    start: { ...DEGREES, help: 'of the low end, clockwise from straight up' },
    sweep: { ...DEGREES, help: 'from the low end to the high end, clockwise above 0' },
    paper: { kind: 'choice', choices: papers, help: 'A4 when left out' },
    bars: {
      kind: 'numbers',
      value: 'ACROSS,UP',
      min: 1,
      max: 200,
      help: 'what a ruler says of the two bars, mm',
    },
    title: { kind: 'text', value: 'TEXT', help: 'what stands above it' },
    ...JSON_OPTION,
  },
  words: { least: 1, most: 1 },
  run,
};

const USUAL_HUB_MM = 3;

const needed = (given: Arguments, name: 'radius-mm' | 'start' | 'sweep'): number => {
  const value = given.number(name);
  if (value === undefined) throw new InputError(`--${name} is missing: measure it on the dial`);
  return value;
};

async function run(given: Arguments, surroundings: Surroundings): Promise<Report> {
  const marks = await readMarks(given.words[0] ?? '-', surroundings);
  const [acrossMm, upMm, ...more] = given.numbers('bars') ?? [];
  if (more.length > 0 || (acrossMm !== undefined && upMm === undefined))
    throw new InputError('--bars: give both, across and up, as 99.8,100.1');
  const overlay = overlayOf({
    radiusMm: needed(given, 'radius-mm'),
    hubMm: given.number('hub-mm') ?? USUAL_HUB_MM,
    startDegrees: needed(given, 'start'),
    sweepDegrees: needed(given, 'sweep'),
    marks,
    paper: papers.find((name) => name === given.text('paper')) ?? 'A4',
    bars: acrossMm === undefined || upMm === undefined ? undefined : { acrossMm, upMm },
  });
  if (overlay.kind === 'refused') throw refusedError(overlay);
  const svg = overlaySvg(overlay, given.text('title') ?? 'Dial overlay');
  return { text: [svg], json: jsonOf(overlay, svg), warnings: [...OVERLAY_CAUTIONS] };
}

/** Labels and places of a dial. Throws InputError with row and column. */
async function readMarks(path: string, surroundings: Surroundings): Promise<readonly OverlayMark[]> {
  const columns = recogniseColumns(await readGrid(path, surroundings), ['label', 'value']);
  const label = requireColumn(path, columns, 'label', 'label');
  const place = requireColumn(path, columns, 'value', 'arc_fraction');
  const reader = new CellReader(columns);
  const marks = columns.table.rows.map((row) => {
    const text = cellOf(row, label).text.trim();
    if (text === '') reader.reject(row, label, 'the cell is empty');
    return { label: text, arcFraction: reader.number(row, place, onTheArc) };
  });
  finish(path, reader);
  return marks;
}

const onTheArc = (value: number): string | undefined =>
  value >= -0.25 && value <= 1.25 ? undefined : 'a place on the arc lies from 0 to 1';

const jsonOf = (overlay: Overlay, svg: string): AnswerOf<'overlay'> => ({
  schema: 'needlewright/overlay/1',
  kind: 'overlay',
  width_mm: overlay.widthMm,
  height_mm: overlay.heightMm,
  scale_across: overlay.scale.across,
  scale_up: overlay.scale.up,
  marks: overlay.lines.map(({ label, degrees }) => ({ label, degrees })),
  svg,
});
