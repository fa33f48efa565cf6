import { shortName } from '../../catalogue';
import { ohmAxis, senderAxis, senderUnitFor, type Columns } from '../../core/catalogue/columns';
import { curvesApart, type CurvesApart } from '../../core/catalogue/two-curves';
import { ohmFromCompressed } from '../../core/identify/compressed-ohm';
import type { CurvesDisagree } from '../../job/wire/catalogue-messages';
import type { Entry } from './catalogue';
import { counts } from './models';

/** The other cards of an entry's specimen that count. */
export const othersOfSpecimen = (entry: Entry, all: readonly Entry[]): readonly Entry[] =>
  all.filter((each) => each.specimen === entry.specimen && each.hash !== entry.hash && counts(each));

/** Cards of one specimen whose curves do not agree, older card first. What was adjusted in between is meant to differ. */
export function curvesDisagreeing(entries: readonly Entry[]): CurvesDisagree[] {
  const specimens = new Map<string, Entry[]>();
  for (const entry of entries.filter(counts))
    specimens.set(entry.specimen, [...(specimens.get(entry.specimen) ?? []), entry]);
  return [...specimens.values()].flatMap((cards) => {
    const inOrder = [...cards].sort((one, other) => (dayOf(one) < dayOf(other) ? -1 : 1));
    return inOrder.flatMap((one, i) =>
      inOrder.slice(i + 1).flatMap((other) => disagreement(one, other) ?? []),
    );
  });
}

const dayOf = ({ summary }: Entry): string => summary.measuredAt ?? '';

function disagreement(one: Entry, other: Entry): CurvesDisagree | undefined {
  if (isAdjustedBetween(one, other) || one.summary.kind !== other.summary.kind) return undefined;
  if (one.search?.kind !== 'columns' || other.search?.kind !== 'columns') return undefined;
  const cards = [shortName(one.hash), shortName(other.hash)] as const;
  return one.summary.kind === 'gauge'
    ? ofGauge(cards, one.search, other.search)
    : ofSender(cards, one.search, other.search);
}

/** As found and as left: a person turned something between them. */
const isAdjustedBetween = (one: Entry, other: Entry): boolean =>
  one.summary.found !== undefined &&
  other.summary.found !== undefined &&
  one.summary.found !== other.summary.found;

type Cards = CurvesDisagree['cards'];

function ofGauge(cards: Cards, one: Columns, other: Columns): CurvesDisagree | undefined {
  const { unit } = other.scale;
  const found = curvesApart(one, other, { kind: 'gauge', axis: ohmAxis, unit });
  if (found === undefined) return undefined;
  const { argument: at, explained } = found;
  return { kind: 'gauge', cards, unit, at, shows: [found.one, found.other], explained };
}

function ofSender(cards: Cards, one: Columns, other: Columns): CurvesDisagree | undefined {
  const unit = senderUnitFor(other.scale.unit);
  if (unit === undefined || one.scale.unit !== other.scale.unit) return undefined;
  const found = curvesApart(one, other, { kind: 'sender', axis: senderAxis(unit), unit });
  if (found === undefined) return undefined;
  return { kind: 'sender', cards, unit, at: found.argument, ...inOhms(found) };
}

function inOhms({ one, other, explained }: CurvesApart): Pick<CurvesDisagree, 'shows' | 'explained'> {
  const middle = (one + other) / 2;
  return {
    shows: [ohmFromCompressed(one), ohmFromCompressed(other)],
    explained: ohmFromCompressed(middle + explained / 2) - ohmFromCompressed(middle - explained / 2),
  };
}
