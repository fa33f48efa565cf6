import { shortName } from '../../catalogue';
import type { Entry } from '../../store/catalogue';
import { cardState, partWords } from '../../words/catalogue';
import type { EntryJson } from './answers/catalogue';
import { ohmText, textTable } from './text-table';

const stateOf = (entry: Entry): string =>
  cardState({
    ...entry.summary,
    withdrawnBecause: entry.withdrawnBecause,
    supersededBy: entry.supersededBy === undefined ? undefined : shortName(entry.supersededBy),
    search: entry.search === undefined ? 'waiting' : entry.search.kind,
  });

/** Ohms at both ends of the scale, lowest reading first. */
const endsOf = ({ search }: Entry): string => {
  if (search?.kind !== 'columns') return '';
  const { lowOhm, highOhm } = search;
  const said = (ohm: number | undefined): string =>
    ohm === undefined ? '?' : ohmText(ohm, 3).replace(' ohm', '');
  return `${said(lowOhm)} - ${said(highOhm)}`;
};

/** One line a card. */
export const entryTable = (entries: readonly Entry[]): string[] =>
  textTable(
    [
      { title: 'card', align: 'left' },
      { title: 'what', align: 'left' },
      { title: 'model', align: 'left' },
      { title: 'called', align: 'left' },
      { title: 'ohm low - high', align: 'left' },
      { title: 'points' },
      { title: '', align: 'left' },
    ],
    entries.map((entry) => [
      shortName(entry.hash),
      partWords(entry.summary.kind, entry.summary.quantity),
      entry.model ?? '',
      entry.summary.description ?? '',
      endsOf(entry),
      String(entry.summary.counted),
      [entry.summary.found ?? '', stateOf(entry)].filter((part) => part !== '').join('; '),
    ]),
  );

/** A card as JSON, with what was said about it. */
export const entryJson = (entry: Entry): EntryJson => ({
  id: shortName(entry.hash),
  sha256: entry.hash,
  kind: entry.summary.kind,
  quantity: entry.summary.quantity,
  unit: entry.summary.unit,
  description: entry.summary.description ?? null,
  mechanism: entry.summary.mechanism ?? null,
  model: entry.model ?? null,
  also_called: entry.alsoCalled,
  specimen: shortName(entry.specimen),
  found: entry.summary.found ?? null,
  measured_at: entry.summary.measuredAt ?? null,
  points: entry.summary.counted,
  licence: entry.summary.licence,
  simulated: entry.summary.simulated,
  demo: entry.summary.demo,
  withdrawn_because: entry.withdrawnBecause ?? null,
  superseded_by: entry.supersededBy === undefined ? null : shortName(entry.supersededBy),
  ...(entry.search?.kind === 'columns'
    ? {
        law: entry.search.law,
        low_end_ohm: entry.search.lowOhm ?? null,
        high_end_ohm: entry.search.highOhm ?? null,
        measured_from: entry.search.from,
        measured_to: entry.search.to,
      }
    : {}),
  worked_out:
    entry.search === undefined ? 'waiting' : entry.search.kind === 'columns' ? 'yes' : entry.search.code,
});
