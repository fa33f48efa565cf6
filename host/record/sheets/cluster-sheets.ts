import {
  neighboursOf,
  type ClusterState,
  type ConditionMark,
  type GaugeCondition,
  type JobState,
} from '../../job';
import { adjustedWords, NEIGHBOUR_WORDS, suspectWords, sweptWords, untestedWords } from '../../words/cluster';
import { printed } from '../../words/notation';
import { asSentence } from '../../words/sentence';
import { markWords, MECHANISM_WORDS, QUANTITY_WORDS, sureOhm } from '../../words/shown';
import { nameBlock, paragraph, stacked, type Block } from '../paper/block';
import { twoColumns } from '../paper/columns';
import { moved, INK, type Drawing, type Item } from '../paper/items';
import type { Letters } from '../paper/letters';
import { tableSection, type Table } from '../paper/table';
import { BAND_HEIGHT, SHEET, sheetOf, simulatedBand } from './frame';
import { titleBlock, type Cell } from './title-block';

/** One gauge with what was found and left of it. */
export type ClusterGaugeRecord = {
  readonly place: string;
  readonly job: JobState;
  readonly found: GaugeCondition | undefined;
  readonly left: GaugeCondition | undefined;
};
export type ClusterRecord = {
  readonly state: ClusterState;
  readonly gauges: readonly ClusterGaugeRecord[];
};

const GAP = 24;
const NAME_SIZE = 26;
const TEXT_SIZE = 11;
const WIDTH = SHEET.right - SHEET.left;

/** The sheet of a cluster: its gauges as found and as left, and what they do to each other. */
export function clusterSheets(letters: Letters, record: ClusterRecord): readonly Drawing[] {
  const { state } = record;
  const top = SHEET.top + (state.simulated ? BAND_HEIGHT + GAP / 2 : 0);
  const head = headOf(letters, record);
  const sections = tablesOf(record).map((table) => tableSection(letters, table, (WIDTH - GAP) / 2));
  const height = SHEET.bottom - SHEET.top;
  const first = SHEET.bottom - top - head.height - GAP;
  const pages = twoColumns(sections, first, { columnWidth: (WIDTH - GAP) / 2, gap: GAP, height });
  return pages.map((page, index): Drawing => {
    const y = index === 0 ? top + head.height + GAP : SHEET.top;
    const items: Item[] = [
      ...(index === 0 && state.simulated ? simulatedBand(SHEET.top) : []),
      ...(index === 0 ? [moved(SHEET.left, top, head.items)] : []),
      moved(SHEET.left, y, page.items),
    ];
    const facts = { jobId: state.clusterId, simulated: state.simulated };
    return sheetOf(letters, { ...facts, number: index + 1, count: pages.length }, items);
  });
}

const DAY_LETTERS = 10;

function headOf(letters: Letters, { state, gauges }: ClusterRecord): Block {
  const { feed } = state;
  const fed = [
    ...(feed.volt === undefined ? [] : [`${feed.volt} V`]),
    ...(feed.stabiliser === undefined ? [] : [feed.stabiliser]),
    ...(feed.fuseAmpere === undefined ? [] : [`fuse ${feed.fuseAmpere} A`]),
  ];
  const boxes = state.gauges.map(
    ({ place, boxSerial }) => `${place}: ${boxSerial === undefined ? 'by hand' : `number ${boxSerial}`}`,
  );
  const rows: readonly (readonly Cell[])[] = [
    [
      { name: 'Vehicle', value: state.vehicle, parts: 3 },
      { name: 'Opened', value: state.openedAt.slice(0, DAY_LETTERS), parts: 1 },
      { name: 'Sheet', value: state.clusterId, parts: 3 },
    ],
    [
      { name: 'Feed', value: fed.length === 0 ? 'not noted' : fed.join(', '), parts: 3 },
      { name: 'Boxes', value: boxes.join(', '), parts: 4 },
    ],
  ];
  const records = gauges.map(({ place, job }) => `${place}: ${job.jobId}`).join('; ');
  return stacked(
    [
      nameBlock(letters, state.title, WIDTH, NAME_SIZE),
      titleBlock(letters, rows, WIDTH),
      paragraph(letters, {
        text: `Each gauge has a complete record of its own. ${records}.`,
        width: WIDTH,
        size: TEXT_SIZE,
        colour: INK.soft,
      }),
    ],
    10,
  );
}

const tablesOf = (record: ClusterRecord): readonly Table[] => [
  ...record.gauges.map(gaugeTable),
  ...neighbourTables(record.state),
  ...sweptTables(record.state),
];

const end = (title: string) => ({ title, align: 'end' }) as const;
const first = (text: string): string => `${text.slice(0, 1).toUpperCase()}${text.slice(1)}`;

/** Both columns always, "not measured" where so. */
function gaugeTable({ place, job, found, left }: ClusterGaugeRecord): Table {
  const { gauge, adjustments } = job;
  const done = adjustments.map((each) => adjustedWords(each, gauge.unit, printed)).join('; ');
  return {
    title: `${QUANTITY_WORDS[gauge.quantity]}, ${place} (${MECHANISM_WORDS[gauge.mechanism]})`,
    columns: [{ title: 'Mark' }, end('As found'), end('As left')],
    rows: gauge.marks.map(({ reading }) => ({
      cells: [markWords(reading, gauge), ohmsAt(found, reading), ohmsAt(left, reading)],
    })),
    note: `\u00b1 at 95 %. Between the two: ${done === '' ? 'nothing noted' : done}.`,
    isWhole: true,
  };
}

function ohmsAt(condition: GaugeCondition | undefined, reading: number): string {
  const mark: ConditionMark | undefined = condition?.marks.find((each) => each.reading === reading);
  return mark === undefined
    ? 'not measured'
    : sureOhm(mark.resistanceOhm, mark.expandedUncertaintyOhm).join(' ');
}

const COVERAGE = 2;

function neighbourTables(state: ClusterState): readonly Table[] {
  const found = neighboursOf(state);
  const title = 'What the gauges do to each other';
  if (found === undefined)
    return [
      {
        title,
        columns: [{ title: '' }],
        rows: [{ cells: [asSentence(first(untestedWords(printed)))] }],
        isWhole: true,
      },
    ];
  const placeOf = (jobId: string): string =>
    state.gauges.find((gauge) => gauge.jobId === jobId)?.place ?? jobId;
  const suspect = found.suspect === undefined ? '' : ` ${asSentence(suspectWords(found.suspect, printed))}`;
  return [
    {
      title,
      columns: [{ title: 'Moved' }, { title: 'Watched' }, end('of its arc'), end('\u00b1 (95 %)')],
      rows: found.cells.map(({ movedId, watchedId, percentOfArc, uPercent }) => ({
        cells: [
          placeOf(movedId),
          placeOf(watchedId),
          `${percentOfArc.toFixed(2).replace('-', '\u2212')} %`,
          `${(COVERAGE * uPercent).toFixed(2)} %`,
        ],
      })),
      note: `${asSentence(first(NEIGHBOUR_WORDS[found.verdict]))}${suspect}`,
    },
  ];
}

const sweptTables = (state: ClusterState): readonly Table[] =>
  sweptWords(state).length === 0
    ? []
    : [
        {
          title: 'Sweeps',
          columns: [{ title: 'Order' }, end('Readings'), end('Minutes'), end('Asked back')],
          rows: sweptWords(state).map(({ how, readings, minutes, doubted }) => ({
            cells: [how, String(readings), minutes.toFixed(1), doubted === undefined ? '' : String(doubted)],
          })),
          isWhole: true,
        },
      ];
