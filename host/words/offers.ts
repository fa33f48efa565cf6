import type { DialOffer, FeedOffer, MarketOffer, Network, WantedOhms } from '../core/network';
import { partWords } from './network';
import type { Notation } from './notation';

/** What stands above each kind of offer. */
export const offerTitles = {
  wanted: 'A sender fits that has, at work in its circuit:',
  market: 'In circulation and near (common practice: measure one before you buy):',
  feed: 'Other volts for the gauge:',
  dial: 'Or mark the dial anew and keep the sender:',
} as const;

const short = (value: number): number => Number(value.toPrecision(3));

const withWords = ({ parts }: Network, say: Notation): string =>
  parts.length === 0 ? 'alone' : `with ${parts.map((part) => partWords(part, say)).join(' and ')}`;

/** "60 degC: 105 to 121 ohm". */
export const wantedWords = ({ value, ohm }: WantedOhms, unit: string, say: Notation): string =>
  `${say.of(short(value), unit)}: ${ohm === undefined ? 'no ohms put the needle there' : say.ohms(short(ohm.least), short(ohm.most))}`;

/** "240 ohm at 0 %, 33 ohm at 100 %: +-2 % with 22 ohm in the sender lead, +-6 % alone". */
export function marketWords(offer: MarketOffer, unit: string, say: Notation): string {
  const { low, high, network, worstWithNetwork, worstAlone } = offer;
  const at = (end: MarketOffer['low']): string => `${say.ohm(end.ohm)} at ${say.of(short(end.at), unit)}`;
  const alone = network.parts.length === 0 ? '' : `, ${say.spread(worstAlone, unit)} alone`;
  return `${at(low)}, ${at(high)}: ${say.spread(worstWithNetwork, unit)} ${withWords(network, say)}${alone}`;
}

const PERCENT = 100;
const percent = (ratio: number): number => Math.round(PERCENT * ratio);

/** "9.2 V instead of 10 V: +-3 degC with ...". */
export function feedWords(offer: FeedOffer, unit: string, say: Notation): string {
  const { ratio, volt, worstError, network, tried } = offer;
  const feed =
    volt === undefined
      ? `${percent(ratio)} % of the volts of today`
      : `${say.number(short(volt))} V instead of ${say.number(short(volt / ratio))} V`;
  return `${feed}: ${say.spread(worstError, unit)} ${withWords(network, say)}. The best of ${tried.count} feeds from ${percent(tried.fromRatio)} to ${percent(tried.toRatio)} %. Try it from a bench supply before the stabiliser is replaced; all gauges on it will follow.`;
}

/** "60 goes where 52.3 is now". */
export const dialWords = ({ value, stands }: DialOffer, say: Notation): string =>
  `${say.number(short(value))} goes where ${say.number(short(stands))} is now`;
