import { shortName, wordScore } from '../../catalogue';
import { ARC_UNIT } from '../../core/catalogue/arc-scale';
import {
  columnAt,
  ohmAxis,
  POSITIONS,
  senderAxis,
  senderUnitFor,
  type Axis,
} from '../../core/catalogue/columns';
import { ohmFromCompressed } from '../../core/identify/compressed-ohm';
import { unitChange } from '../../core/units';
import type { CatalogueAsk, FoundInCatalogue, FoundPart } from '../../job/wire/catalogue-messages';
import type { Catalogue, Entry } from './catalogue';
import { findModels, groupsOf, preparedOnce, searchable, type FoundModels, type Group } from './find';
import { counts } from './models';

/** Nothing is kept yet. */
export const NOTHING_FOUND: FoundInCatalogue = {
  kind: 'found-in-catalogue',
  parts: [],
  holds: { gauges: 0, senders: 0, models: 0 },
  ...{ demo: 0, leftOut: 0, waiting: 0 },
};

/** More are no answer. */
const MOST_PARTS = 20;

/** The parts that readings and words leave. What the readings cannot be compared with is not among them. */
export function foundInCatalogue(catalogue: Catalogue, ask: CatalogueAsk): FoundInCatalogue {
  const held = catalogue.entries();
  const all = held.filter(counts);
  const shown = searchable(all, ask.withSimulated);
  const meant = shown.filter(
    ({ summary }) =>
      summary.kind === ask.kind && (ask.quantity === undefined || summary.quantity === ask.quantity),
  );
  const bearing = bearingWords(meant, ask.words);
  const told = ask.points.length === 0 ? byWords(bearing, ask) : byReadings(held, bearing, ask);
  return {
    ...{ kind: 'found-in-catalogue', parts: [], ...told },
    holds: {
      gauges: shown.filter(({ summary }) => summary.kind === 'gauge').length,
      senders: shown.filter(({ summary }) => summary.kind === 'sender').length,
      models: new Set(shown.flatMap(({ model }) => model ?? [])).size,
    },
    demo: all.filter(({ summary }) => summary.demo).length,
    leftOut: all.length - shown.length,
    waiting: meant.filter(({ search }) => search === undefined).length,
  };
}

/** An entry and the words of the question that it bears. */
type Bearing = { readonly entry: Entry; readonly score: number; readonly because: readonly string[] };

function bearingWords(entries: readonly Entry[], words: string): readonly Bearing[] {
  if (words.trim() === '') return entries.map((entry) => ({ entry, score: 0, because: [] }));
  return entries
    .map((entry) => {
      const ends = entry.search?.kind === 'columns' ? entry.search : undefined;
      const { score, matched } = wordScore({ ...entry, ends }, words);
      return { entry, score, because: matched };
    })
    .filter(({ score }) => score > 0);
}

type Told = Pick<FoundInCatalogue, 'parts' | 'verdict' | 'noneShare' | 'next' | 'settleAt'>;

/** By how many of the words each bears, then by name. */
function byWords(bearing: readonly Bearing[], ask: CatalogueAsk): Told {
  const groups = groupsOf(
    bearing.map(({ entry }) => entry),
    ask.kind === 'sender' ? senderUnitFor(ask.unit) : undefined,
  );
  const known = new Map(bearing.map((each) => [each.entry.hash, each]));
  const scored = [...groups.values()].map((group) => ({
    group,
    score: Math.max(...group.cards.map((hash) => known.get(hash)?.score ?? 0)),
  }));
  const parts = scored
    .sort(
      (one, other) =>
        other.score - one.score || nameOf(one.group, known).localeCompare(nameOf(other.group, known), 'en'),
    )
    .slice(0, MOST_PARTS)
    .map(({ group }) => partOf(group, known, ask));
  return { parts };
}

function byReadings(
  held: readonly Entry[],
  bearing: readonly Bearing[],
  ask: CatalogueAsk,
): Told | undefined {
  const known = new Map(bearing.map((each) => [each.entry.hash, each]));
  const found = findModels(
    bearing.map(({ entry }) => entry),
    {
      ...{ kind: ask.kind, unit: ask.unit, points: ask.points },
      // What a person has put on already harms nothing; lower is not advised.
      leastOhm: Math.min(...ask.points.map(({ resistanceOhm }) => resistanceOhm)),
    },
    (make) => (ask.words.trim() === '' ? preparedOnce(held, preparedName(ask), make) : make()),
  );
  if ('code' in found) return undefined;
  const { ranking, verdict, noneShare, next } = found.identification;
  const { groups } = found;
  const parts = ranking.flatMap(({ ids, share }) =>
    ids.flatMap((id) => {
      const group = groups.get(id);
      return group === undefined
        ? []
        : [{ ...partOf(group, known, ask), share, offBy: offBy(found, id, ask) }];
    }),
  );
  const settleAt = verdict === 'open' ? found.toSettle() : undefined;
  return {
    ...{ parts: parts.slice(0, MOST_PARTS), verdict, noneShare },
    ...(settleAt === undefined
      ? {}
      : { settleAt: settleAt.map((at) => (ask.kind === 'sender' ? inAskedUnit(at, ask.unit) : at)) }),
    ...(next === undefined
      ? {}
      : {
          next: {
            at: ask.kind === 'sender' ? inAskedUnit(next.argument, ask.unit) : next.argument,
            expected: next.expected.flatMap(({ id, value }) => {
              const group = groups.get(id);
              if (group === undefined) return [];
              const { name, unit } = partOf(group, known, ask);
              return [{ name, ...expectedOf(found, ask, { id, value, unit }) }];
            }),
          },
        }),
  };
}

/** Everything by which entries are chosen for readings, but words. */
const preparedName = ({ kind, unit, quantity, withSimulated }: CatalogueAsk): string =>
  [kind, kind === 'sender' ? senderUnitFor(unit) : '', quantity, withSimulated].join(' ');

const nameOf = ({ model, cards }: Group, known: ReadonlyMap<string, Bearing>): string =>
  model ?? known.get(cards[0] ?? '')?.entry.summary.description ?? `Card ${shortName(cards[0] ?? '')}`;

function partOf(group: Group, known: ReadonlyMap<string, Bearing>, ask: CatalogueAsk): FoundPart {
  const entries = group.cards.flatMap((hash) => known.get(hash) ?? []);
  const first = entries[0]!.entry.summary;
  const mechanism = entries.map(({ entry }) => entry.summary.mechanism).find((each) => each !== undefined);
  return {
    name: nameOf(group, known),
    ...(group.model === undefined ? {} : { model: group.model }),
    cards: group.cards.map(shortName),
    ...{ quantity: first.quantity, unit: first.unit },
    ...(mechanism === undefined ? {} : { mechanism }),
    isSimulated: entries.every(({ entry }) => entry.summary.simulated),
    isDemo: entries.every(({ entry }) => entry.summary.demo),
    line: middleLine(group, ask),
    because: [...new Set(entries.flatMap(({ because }) => because))],
  };
}

/** The middle of the specimens, over what one of them covers. */
function middleLine({ specimens }: Group, ask: CatalogueAsk): FoundPart['line'] {
  const unit = ask.kind === 'sender' ? senderUnitFor(ask.unit) : undefined;
  const axis: Axis = unit === undefined ? ohmAxis : senderAxis(unit);
  const low = Math.max(0, Math.min(...specimens.map(({ from }) => axis.index(from))));
  const high = Math.min(POSITIONS - 1, Math.max(...specimens.map(({ to }) => axis.index(to))));
  return positionsBetween(low, high).map((position) => {
    const values = specimens.map(({ value }) => columnAt(value, position));
    const mean = values.reduce((sum, each) => sum + each, 0) / values.length;
    return unit === undefined
      ? [axis.at(position), mean]
      : [ohmFromCompressed(mean), inAskedUnit(axis.at(position), ask.unit)];
  });
}

/** The positions of the columns between two places, and the places themselves. */
export function positionsBetween(low: number, high: number): number[] {
  const [first, last] = [Math.floor(low) + 1, Math.ceil(high) - 1];
  const whole = Array.from({ length: Math.max(0, last - first + 1) }, (_, index) => first + index);
  return [low, ...whole, high];
}

/** A sender's value, as it was asked. */
function inAskedUnit(value: number, unit: string): number {
  const own = senderUnitFor(unit);
  const change = own === undefined ? undefined : unitChange(own, unit);
  return change?.kind === 'unit-change' ? change.factor * value + change.offset : value;
}

/** What a model expects: a place where places were given, else on its own dial, of a sender in ohms. */
function expectedOf(
  { bank }: FoundModels,
  ask: CatalogueAsk,
  { id, value, unit }: { readonly id: string; readonly value: number; readonly unit: string },
): { readonly value: number; readonly unit: string } {
  if (bank.kind === 'sender') return { value: ohmFromCompressed(value), unit: 'ohm' };
  const arc = bank.arcs[bank.arcAt[bank.ids.indexOf(id)] ?? 0];
  return ask.unit === ARC_UNIT || arc === undefined
    ? { value, unit: ARC_UNIT }
    : { value: arc.reading(value), unit };
}

/** How far the worst reading lies from the middle of a model. */
function offBy({ bank }: FoundModels, id: string, { points, unit }: CatalogueAsk): number {
  const model = bank.ids.indexOf(id);
  const arc = bank.arcs[bank.arcAt[model] ?? 0];
  const distances = points.map(({ resistanceOhm, value }) => {
    const mean = (position: number): number => columnAt(bank.mean, position, model * POSITIONS);
    if (bank.kind === 'gauge')
      return Math.abs((arc?.place(value, unit) ?? NaN) - mean(bank.axis.index(resistanceOhm)));
    const own = senderUnitFor(unit);
    const change = own === undefined ? undefined : unitChange(unit, own);
    const at = change?.kind === 'unit-change' ? change.factor * value + change.offset : value;
    const expected = ohmFromCompressed(mean(bank.axis.index(at)));
    return Math.abs(resistanceOhm - expected) / Math.max(expected, 1);
  });
  return Math.max(...distances);
}
