import type { BatchTable } from '../../job/wire/cluster-messages';

const TITLES = [
  'cluster',
  'vehicle',
  'opened',
  'place',
  'quantity',
  'minutes',
  'as_found_percent',
  'as_left_percent',
  'done',
];

const field = (text: string): string => (/[",\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text);
const figure = (value: number | undefined): string => (value === undefined ? '' : value.toFixed(1));

/** The batch table as comma-separated values. Source: RFC 4180. */
export const batchCsv = ({ rows }: BatchTable): string =>
  [
    TITLES,
    ...rows.map((row) => [
      row.clusterId,
      row.vehicle,
      row.openedAt,
      row.place,
      row.quantity,
      figure(row.minutes),
      figure(row.foundPercent),
      figure(row.leftPercent),
      row.done,
    ]),
  ]
    .map((line) => `${line.map(field).join(',')}\r\n`)
    .join('');
