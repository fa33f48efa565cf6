import type { BudgetLine } from '../core/curve/types';
import type { Notation } from './notation';
import { counted } from './sentence';

/** Ohms as they are known, at a mark: "592 ohm at 40". */
export type OhmsAtMark = { readonly ohm: string; readonly at: string };

/** What a customer understands of a sweep: what the gauge wants at its ends. */
export function wantsSentence(ends: readonly OhmsAtMark[]): string {
  const [first, last] = [ends[0], ends.at(-1)];
  if (first === undefined || last === undefined) return 'No resistance in reach puts the needle on a mark.';
  const one = `${first.ohm} at ${first.at}`;
  return first === last
    ? `This gauge wants ${one}.`
    : `This gauge wants ${one} and ${last.ohm} at ${last.at}.`;
}

/** How well a curve is known, dial units, 95 %. */
export type CurveKnown = {
  /** At the worst mark of those that matter, within what was read. */
  readonly size: number;
  /** From the first to the last of those marks; left out where another end is not known much worse. */
  readonly range?: { readonly from: number; readonly to: number };
  /** The worst mark of all, where it is known much worse. */
  readonly worst?: { readonly size: number; readonly at: number };
};

export type CurveJudged = {
  readonly known: CurveKnown | undefined;
  /** How far rising and falling differ at most; left out where they were not compared. */
  readonly legs?: number;
  readonly flatSpots: number;
};

/** One line on how good a curve is. */
export function curveKnownWords(
  { known, legs, flatSpots }: CurveJudged,
  unit: string,
  say: Notation,
): string {
  const curve =
    known === undefined
      ? 'No mark lies within what was read.'
      : `Curve known to ${say.spread(twoFigures(known.size), unit)}${placesSay(known, unit, say)}.`;
  const both =
    legs === undefined
      ? 'Rising and falling were not compared'
      : `Rising and falling agree within ${say.of(twoFigures(legs), unit)}`;
  const flat =
    flatSpots === 0 ? 'no flat spot inside the scale' : `${counted(flatSpots, 'flat spot')} inside the scale`;
  return `${curve} ${both}; ${flat}.`;
}

const twoFigures = (size: number): number => Number(size.toPrecision(2));

/** " from 80 to 120 degC, +-6 degC at 40 degC"; nothing where it is known alike everywhere. */
const placesSay = ({ range, worst }: CurveKnown, unit: string, say: Notation): string =>
  range === undefined || worst === undefined
    ? ''
    : ` from ${say.range(range.from, range.to, unit)}, ${say.spread(twoFigures(worst.size), unit)} at ${say.short(worst.at, unit)}`;

/** Beside its line in a plot: "known to +-1.6 degC", and from where that holds. */
export const knownSays = ({ size, range }: CurveKnown, unit: string, say: Notation): string =>
  `known to ${say.spread(twoFigures(size), unit)}${range === undefined ? '' : `, ${say.range(range.from, range.to, '')}`}`.trimEnd();

/** Behind the uncertainty of a mark that no reading reaches. */
export const BEYOND_MARK = '*';
export const BEYOND_SAYS = `${BEYOND_MARK} beyond what was read: by the law alone`;

/** What was read: "9 rising, 4 falling, none struck". */
export const readingsSays = (rising: number, falling: number, struck: number): string =>
  [
    ...(rising === 0 ? [] : [`${rising} rising`]),
    ...(falling === 0 ? [] : [`${falling} falling`]),
    struck === 0 ? 'none struck' : `${struck} struck`,
  ].join(', ');

/** Where a part of the uncertainty comes from, short and at length. */
export const budgetWords: Readonly<Record<BudgetLine['source'], readonly [short: string, long: string]>> = {
  fit: ['fit', 'how far the readings scatter round the curve'],
  'law choice': ['law', 'which law is drawn through them'],
  'between settings': ['between', 'what the needle may do between two settings'],
  hysteresis: ['needle', 'rising against falling'],
  reading: ['eye', 'the eye and its slant; reading more often does not average it away'],
  resistance: ['ohms', 'how well the resistance is known'],
  supply: ['supply', 'the volts that feed the gauge'],
  plateau: ['flat spot', 'a stretch over which the needle rests'],
};

/** "eye 1.3, needle 0.8, ohms 0.1 degC". Parts too small to matter are left out. */
export function budgetSays(
  parts: readonly { readonly source: BudgetLine['source']; readonly size: number }[],
  unit: string,
  say: Notation,
): string {
  const largest = Math.max(0, ...parts.map(({ size }) => size));
  const told = parts
    .filter(({ size }) => size >= largest / 20 && size > 0)
    .map(({ source, size }) => `${budgetWords[source][0]} ${say.number(twoFigures(size))}`);
  return told.length === 0 ? '' : `${told.join(', ')} ${say.unit(unit)}`.trimEnd();
}

/** What a sender was found to give, at the ends of what was measured. */
export function givesSentence(ends: readonly OhmsAtMark[]): string | undefined {
  const [first, last] = [ends[0], ends.at(-1)];
  if (first === undefined || last === undefined) return undefined;
  const one = `${first.ohm} at ${first.at}`;
  return first === last
    ? `This sender gives ${one}.`
    : `This sender gives ${one} and ${last.ohm} at ${last.at}.`;
}
