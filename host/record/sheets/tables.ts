import type { Gauge } from '../../job/schema/gauge';
import { printed } from '../../words/notation';
import { VERDICT_WORDS } from '../../words/proof';
import { expandedWords, wayWords } from '../../words/record';
import { shownError, shownOhm, shownReading, sureOhm } from '../../words/shown';
import type { BudgetRow, Fact, MarkRow, PairRow, RecordModel } from '../model/record-model';
import type { Row, Table } from '../paper/table';

/** A record and the dial its figures are written for. */
export type Written = { readonly model: RecordModel; readonly gauge: Gauge };

const end = (title: string) => ({ title, align: 'end' }) as const;

/** A figure of the dial without its unit, which stands once beside the table. */
const bare = (text: string): string => text.split(' ')[0] ?? text;

/** The ohms at each mark, with what the sender in the vehicle gives. */
export function marksTable({ model, gauge }: Written): Table {
  const hasSender = model.marks.some(({ senderOhm }) => senderOhm !== undefined);
  return {
    title: 'Ohms at each mark',
    columns: [
      { title: 'Mark' },
      end('Gauge wants'),
      end('\u00b1 (95 %)'),
      end('k'),
      ...(hasSender ? [end('Sender gives')] : []),
      { title: 'By' },
    ],
    rows: model.marks.map((mark) => ({ cells: markCells(mark, gauge, hasSender) })),
  };
}

function markCells(mark: MarkRow, gauge: Gauge, hasSender: boolean): string[] {
  const { resistanceOhm: ohm, expandedUncertaintyOhm: expanded, coverageFactor, ground } = mark;
  const gives = hasSender ? [mark.senderOhm === undefined ? '' : shownOhm(mark.senderOhm)] : [];
  const name = markName(mark, gauge);
  if (ohm === undefined || expanded === undefined || coverageFactor === undefined)
    return [name, 'not reached', '', '', ...gives, ''];
  const [value, sure] = sureOhm(ohm, expanded);
  return [name, value, sure, coverageFactor.toFixed(1), ...gives, ground === undefined ? '' : BY[ground]];
}

/** "C (40 \u00b0C)", "60 \u00b0C". */
function markName({ label, reading }: MarkRow, { unit }: Gauge): string {
  const value = printed.of(reading, unit);
  return label.trim() === '' || Number(label) === reading ? value : `${label} (${value})`;
}

/** What the ohms at a mark rest on, in a word. */
const BY: Readonly<Record<NonNullable<MarkRow['ground']>, string>> = {
  measured: 'measured',
  between: 'between',
  beyond: 'beyond',
  plateau: 'flat',
  'at stop': 'stop',
};

/** The pairs that count, as found beside as left where both were taken at one place; undefined where there are none. */
export function pairFigures({ model, gauge }: Written): Table | undefined {
  const counted = model.pairs.filter(
    ({ struckBecause, provesNothing }) => struckBecause === undefined && provesNothing === undefined,
  );
  if (counted.length === 0) return undefined;
  const found = counted.filter(({ state }) => state === 'as-found');
  const left = counted.filter(({ state }) => state !== 'as-found');
  const near = nearness(gauge);
  const taken = new Set<PairRow>();
  const rows = left.map((pair): Row => {
    const before = found.find(
      (each) =>
        !taken.has(each) && each.way === pair.way && Math.abs(each.reference - pair.reference) <= near,
    );
    if (before !== undefined) taken.add(before);
    return { cells: pairCells(pair, before, gauge) };
  });
  const alone = found.filter((each) => !taken.has(each));
  return {
    title: left.length === 0 ? 'In the vehicle, as found' : 'In the vehicle',
    columns: [
      end('True'),
      { title: 'Needle' },
      end('As found'),
      end('As left'),
      end('Error'),
      { title: 'Verdict' },
    ],
    rows: [...rows, ...alone.map((pair) => ({ cells: pairCells(undefined, pair, gauge) }))],
  };
}

/** Readings nearer than this part of the scale were taken at one place. Common practice, no source. */
const ONE_PLACE_PART = 0.02;
const nearness = ({ marks }: Gauge): number => {
  const readings = marks.map(({ reading }) => reading);
  return ONE_PLACE_PART * (Math.max(...readings) - Math.min(...readings));
};

function pairCells(left: PairRow | undefined, found: PairRow | undefined, gauge: Gauge): string[] {
  const judged = left ?? found;
  if (judged === undefined) return [];
  return [
    bare(shownReading(judged.reference, gauge)),
    judged.way,
    found === undefined ? '' : bare(shownReading(found.indicated, gauge)),
    left === undefined ? '' : bare(shownReading(left.indicated, gauge)),
    bare(shownError(judged.error, gauge)),
    judged.verdict === undefined ? 'no \u00b1 given' : VERDICT_WORDS[judged.verdict],
  ];
}

/** What all of them share, if they do. */
function shared<Value>(values: readonly Value[]): Value | undefined {
  const [first] = values;
  return values.length > 1 && values.every((each) => each === first) ? first : undefined;
}

/**
 * Every pair that was ever taken, with who took it and against what; struck ones too. What all of them share is said once
 * below.
 */
export function allPairsTable({ model, gauge }: Written): Table {
  const { pairs } = model;
  const taken = shared(pairs.map(({ day, by }) => `${day}, ${by}`));
  const run = pairs.filter(({ referencePlace }) => referencePlace !== undefined);
  const against = shared(run.map(({ referencePlace }) => referencePlace));
  const note = [
    ...(taken === undefined ? [] : [`Taken ${taken}`]),
    ...(against === undefined ? [] : [`${run.length === pairs.length ? '' : 'run '}against: ${against}`]),
  ].join('; ');
  return {
    title: `Every pair of the proof, ${model.unit === '' ? 'as the dial shows it' : model.unit}`,
    columns: [
      ...(taken === undefined ? [{ title: 'Taken' }] : []),
      { title: 'State' },
      { title: 'Needle' },
      ...(against === undefined ? [{ title: 'Against' }] : []),
      end('True'),
      end('Shows'),
      end('Error'),
      end('\u00b1'),
      { title: 'Verdict' },
    ],
    rows: pairs.map((pair) => ({
      isFaint: pair.struckBecause !== undefined || pair.provesNothing !== undefined,
      cells: [
        ...(taken === undefined ? [`${pair.day}, ${pair.by}`] : []),
        pair.state.replace('-', ' '),
        pair.way,
        ...(against === undefined ? [pair.referencePlace ?? ''] : []),
        bare(shownReading(pair.reference, gauge)),
        bare(shownReading(pair.indicated, gauge)),
        bare(shownError(pair.error, gauge)),
        pair.expandedUncertainty === undefined
          ? 'none'
          : expandedWords(pair.expandedUncertainty, '', printed),
        verdictOf(pair),
      ],
    })),
    ...(note === '' ? {} : { note: `${note}.` }),
  };
}

function verdictOf({ struckBecause, provesNothing, verdict }: PairRow): string {
  if (struckBecause !== undefined) return `struck: ${struckBecause}`;
  if (provesNothing !== undefined) return `proves nothing: ${provesNothing}`;
  return verdict === undefined ? 'no \u00b1 given' : VERDICT_WORDS[verdict];
}

export function budgetTable({ model }: Written): Table {
  const hasCurve = model.budget.some(({ curve }) => curve !== undefined);
  const hasProof = model.budget.some(({ proof }) => proof !== undefined);
  const decimals = decimalsOf(model.budget);
  const figureOf = (row: BudgetRow, value: number | undefined): string => {
    if (value === undefined) return '';
    if (row.kind === 'factor') return value.toFixed(2);
    return row.kind === 'expanded' ? expandedWords(value, '', printed) : value.toFixed(decimals);
  };
  const curveAt = model.budgetAt === undefined ? 'Curve' : `Curve at ${model.budgetAt}`;
  return {
    title: `Standard uncertainties${model.unit === '' ? '' : `, ${model.unit}`}`,
    columns: [{ title: 'From' }, ...(hasCurve ? [end(curveAt)] : []), ...(hasProof ? [end('Proof')] : [])],
    isWhole: true,
    rows: model.budget.map((row) => ({
      cells: [
        row.source,
        ...(hasCurve ? [figureOf(row, row.curve)] : []),
        ...(hasProof ? [figureOf(row, row.proof)] : []),
      ],
    })),
  };
}

/** All to one place: two figures of the smaller combined one. */
function decimalsOf(rows: readonly BudgetRow[]): number {
  const sums = rows
    .filter(({ kind }) => kind === 'combined')
    .flatMap(({ curve, proof }) => [curve ?? Infinity, proof ?? Infinity]);
  return Math.min(6, Math.max(0, 1 - Math.floor(Math.log10(Math.max(1e-6, Math.min(...sums))))));
}

/** More readings than these stand two a row: as two halves or, where the table will be torn, one after the other. */
const MOST_IN_ONE = 6;
const MOST_WHOLE = 12;
/** Between the two halves, so that nobody reads across. */
const HALVES_APART = 6;

export function readingsTable({ model, gauge }: Written): Table {
  const { readings, unit } = model;
  const columns = [{ title: 'No.' }, end('Ohms'), end('Needle'), end('Off the curve')];
  const rows = readings.map(({ number, leg, resistanceOhm, reading, residual, struckBecause }) => ({
    isFaint: struckBecause !== undefined,
    cells: [
      `${number} ${wayWords(leg)}`,
      bare(shownOhm(resistanceOhm)),
      bare(shownReading(reading, gauge)),
      struckBecause === undefined
        ? residual === undefined
          ? ''
          : bare(shownError(residual, gauge))
        : `struck: ${struckBecause}`,
    ],
  }));
  const count = `${readings.length} ${readings.length === 1 ? 'reading' : 'readings'}`;
  const title = `The sweep, ${count}, \u03a9 and ${unit === '' ? 'as the dial shows it' : unit}`;
  // A reason needs the width.
  if (rows.length <= MOST_IN_ONE || rows.some(({ isFaint }) => isFaint)) return { title, columns, rows };
  const half = Math.ceil(rows.length / 2);
  const isWhole = half <= MOST_WHOLE;
  const besideOf = (index: number): readonly [number, number] =>
    isWhole ? [index, half + index] : [2 * index, 2 * index + 1];
  const short = [{ title: 'No.' }, end('Ohms'), end('Reads'), end('Off')];
  return {
    title,
    columns: [...short, { title: 'No.', apart: HALVES_APART }, ...short.slice(1)],
    ...(isWhole ? { isWhole: true } : {}),
    rows: Array.from({ length: half }, (_, index) => ({
      cells: besideOf(index).flatMap((at) => rows[at]?.cells ?? []),
    })),
  };
}

const facts = (title: string, rows: readonly Fact[]): Table => ({
  title,
  columns: [{ title: '' }, { title: '' }],
  rows: rows.map(({ name, value }) => ({ cells: [name, value] })),
});

export const checksTable = ({ model }: Written): Table => facts('Checked before', model.checks);
export const whatIfTable = ({ model }: Written): Table => facts('What if', model.whatIf);
export const waysTable = ({ model }: Pick<Written, 'model'>): Table => facts('What will do it', model.ways);

export const failuresTable = ({ model }: Written): Table =>
  facts(
    model.parts.length === 1 ? 'If the part fails' : 'If a part fails',
    model.failures.map(({ part, needle, danger }) => ({
      name: part,
      value: danger === undefined ? needle : `${needle}. Danger: ${danger}`,
    })),
  );

const POINTS_A_ROW = 3;

/** The points of each sender, several a row. */
export const sendersTables = ({ model }: Written): Table[] =>
  model.senders.map(({ title, about, points }) => ({
    title: `Sender: ${title}`,
    columns: [end(''), end(''), end(''), end(''), end(''), end('')],
    rows: Array.from({ length: Math.ceil(points.length / POINTS_A_ROW) }, (_, row) => ({
      cells: points
        .slice(row * POINTS_A_ROW, (row + 1) * POINTS_A_ROW)
        .flatMap(({ value, resistance }) => [value, resistance]),
    })),
    note: about.join('. '),
  }));
