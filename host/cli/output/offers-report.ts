import type { Offers } from '../../core/network';
import { plain } from '../../words/notation';
import { dialWords, feedWords, marketWords, offerTitles, wantedWords } from '../../words/offers';
import type { OffersJson } from './answers/network';

/** What else would do, as the command contract names its fields. */
export const offersJson = ({ wanted, market, feed, dial }: Offers): OffersJson => ({
  sender_must_have: wanted.map(({ value, ohm }) => ({
    value,
    least_ohm: ohm?.least ?? null,
    most_ohm: ohm?.most ?? null,
  })),
  in_circulation: market.map(({ low, high, worstAlone, worstWithNetwork, network }) => ({
    low: { value: low.at, resistance_ohm: low.ohm },
    high: { value: high.at, resistance_ohm: high.ohm },
    worst_error_alone: worstAlone,
    worst_error: worstWithNetwork,
    parts: partsJson(network),
    basis: 'common practice',
  })),
  other_feed:
    feed === undefined
      ? null
      : {
          ratio: feed.ratio,
          ...(feed.volt === undefined ? {} : { supply_V: feed.volt }),
          worst_error: feed.worstError,
          parts: partsJson(feed.network),
          feeds_tried: feed.tried.count,
        },
  dial: dial.map(({ value, stands }) => ({ value, stands_where_now: stands })),
});

type Parts = { readonly parts: Offers['market'][number]['network']['parts'] };

const partsJson = ({ parts }: Parts): OffersJson['in_circulation'][number]['parts'] =>
  parts.map(({ place, resistanceOhm }) => ({ place, resistance_ohm: resistanceOhm }));

const under = (title: string, lines: readonly string[]): string[] =>
  lines.length === 0 ? [] : [title, ...lines.map((line) => `  ${line}`)];

/** What else would do, in the order in which it is offered. */
export const offersText = ({ wanted, market, feed, dial }: Offers, unit: string): string[] => [
  ...under(
    offerTitles.wanted,
    wanted.map((each) => wantedWords(each, unit, plain)),
  ),
  ...under(
    offerTitles.market,
    market.map((each) => marketWords(each, unit, plain)),
  ),
  ...under(offerTitles.feed, feed === undefined ? [] : [feedWords(feed, unit, plain)]),
  ...under(
    offerTitles.dial,
    dial.map((each) => dialWords(each, plain)),
  ),
];

/** The same in one or two sentences, for a refusal of one line: what a sender must have, and the nearest that is sold. */
export const offersLine = ({ wanted, market }: Offers, unit: string): string => {
  const ends = wanted.filter((_, index) => index === 0 || index === wanted.length - 1);
  const [near] = market;
  return [
    `${offerTitles.wanted} ${ends.map((each) => wantedWords(each, unit, plain)).join('; ')}. `,
    ...(near === undefined ? [] : [`${offerTitles.market} ${marketWords(near, unit, plain)}. `]),
  ].join('');
};
