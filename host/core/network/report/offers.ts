import type { GaugeResponse, SenderResponse } from '../../response';
import { networkOf } from '../closed-form/topology';
import type { Network } from '../closed-form/topology';
import { seenOhm } from '../closed-form/network-law';
import { gaugeTable, ohmBracket } from '../search/gauge-table';
import type { GaugeTable } from '../search/gauge-table';
import { workingOhm } from '../search/heat';
import { plainErrors } from '../search/problem';
import { searchForm } from '../search/search';
import type { TrimOptions } from '../search/trim-options';
import { trimQuestionOf } from '../search/trim-question';
import type { TrimQuestion } from '../search/trim-question';
import type { MarketFamily } from './market-families';
import { marketSenders } from './market-families';

/** What a sender must have at one true value for the needle to be within the limit there; ohm, at working current. */
export type WantedOhms = {
  readonly value: number;
  /** Left out where the needle never comes within the limit of it. */
  readonly ohm?: { readonly least: number; readonly most: number };
};

/** A range of senders that are sold and how near it comes: worst errors in dial units, alone and with the best network. */
export type MarketOffer = {
  readonly low: MarketFamily['low'];
  readonly high: MarketFamily['high'];
  readonly worstAlone: number;
  readonly worstWithNetwork: number;
  readonly network: Network;
};

/** Where a number belongs on a dial that is marked anew: at what the dial of today says there. */
export type DialOffer = { readonly value: number; readonly stands: number };

/** Other volts for the gauge, in place of its stabiliser's, with the best network there; worst error in dial units. */
export type FeedOffer = {
  readonly ratio: number;
  /** Left out where nobody said what feeds it today. */
  readonly volt?: number;
  readonly worstError: number;
  readonly network: Network;
  /** How many feeds were tried, from the least to the most. */
  readonly tried: { readonly count: number; readonly fromRatio: number; readonly toRatio: number };
};

/** What would do where no resistor helps enough, in the order in which it is offered. */
export type Offers = {
  readonly wanted: readonly WantedOhms[];
  readonly market: readonly MarketOffer[];
  readonly feed?: FeedOffer;
  readonly dial: readonly DialOffer[];
};

const EVEN_VALUES = 5;
const MOST_OFFERS = 3;
/** As for a catalogue: coarser than for a design, at most two parts. */
const OFFER_SAMPLES = 31;
const OFFER_PARTS = 2;
/** As for a network: what takes away less than a third is not worth the work. Common practice, no source. */
const WORTH_FRACTION = 2 / 3;

/** The marks of the dial, or even values of the band where too few are known. */
const valuesOf = ({ band, problem }: TrimQuestion): readonly number[] => {
  const marks = (problem.table.gauge.marks ?? []).map(({ reading }) => reading);
  if (marks.length > 1) return marks.sort((one, other) => one - other);
  const step = (band.to - band.from) / (EVEN_VALUES - 1);
  return Array.from({ length: EVEN_VALUES }, (_, index) => band.from + step * index);
};

/** A mark this far beyond the band (a part of it) is still told: both curves end near it. */
const BESIDE_PART = 0.02;

const isInBand = ({ band: { from, to } }: TrimQuestion, value: number): boolean => {
  const beside = BESIDE_PART * (to - from);
  return value >= from - beside && value <= to + beside;
};

const wantedAt = (table: GaugeTable, value: number, limit: number): WantedOhms => {
  const [least, most] = ohmBracket(table, value - limit, value + limit);
  const { measuredFromOhm, measuredToOhm } = table.gauge;
  const ohm = { least: Math.max(least, measuredFromOhm), most: Math.min(most, measuredToOhm) };
  return ohm.least > ohm.most ? { value } : { value, ohm };
};

type Best = { readonly worst: number; readonly alone: number; readonly network: Network };

/** The best network for a question that keeps the safety rule, and the errors with it and without; undefined where none does. */
const bestOf = (table: GaugeTable, sender: SenderResponse, options: TrimOptions): Best | undefined => {
  const question = trimQuestionOf(table, sender, options);
  if (question.kind === 'refused') return undefined;
  const { problem, parts, forms } = question;
  const [best] = forms
    .flatMap((form) =>
      searchForm(problem, form, parts, 1).found.map((found) => ({ ...found, topology: form.topology })),
    )
    .sort((one, other) => one.score - other.score);
  if (best === undefined || best.score > problem.penalty) return undefined;
  const network = networkOf(best.topology, best.partsOhm, parts.gaugeOhm);
  const worstWith = (each: Network): number => Math.max(...plainErrors(problem, each).map(Math.abs));
  return { network, worst: worstWith(network), alone: worstWith({ topology: 'none', parts: [] }) };
};

/** The same job: what was measured of this sender does not hold for another. */
const sameJob = ({ options, band }: TrimQuestion): TrimOptions => {
  const { dissipation: _, weights: __, ...rest } = options;
  return { ...rest, ...band, samples: OFFER_SAMPLES };
};

const fewParts = ({ maxParts = OFFER_PARTS }: TrimOptions): 0 | 1 | 2 =>
  maxParts === 3 ? OFFER_PARTS : maxParts;

const marketOffers = (question: TrimQuestion, enough: number): readonly MarketOffer[] => {
  const { table } = question.problem;
  const options = { ...sameJob(question), maxParts: fewParts(question.options) };
  return marketSenders(table.gauge)
    .flatMap(({ family, sender }) => {
      const best = bestOf(table, sender, options);
      if (best === undefined || !(best.worst <= enough)) return [];
      const { low, high } = family;
      return [{ low, high, worstAlone: best.alone, worstWithNetwork: best.worst, network: best.network }];
    })
    .sort((one, other) => one.worstWithNetwork - other.worstWithNetwork)
    .slice(0, MOST_OFFERS);
};

/** Feeds tried: in hundredths of that of today. A stabiliser is set by a few volts. Common practice, no source. */
const FEED_STEP = 0.01;
const FEED_STEPS = 15;

/** More volts on a tank's sender are more current in the tank: never offered. */
const ratiosFor = ({ quantity }: GaugeResponse): readonly number[] =>
  Array.from({ length: 2 * FEED_STEPS + 1 }, (_, index) => 1 + FEED_STEP * (index - FEED_STEPS)).filter(
    (ratio) => quantity !== 'fuel' || ratio <= 1,
  );

const atFeed = (options: TrimOptions, ratio: number): TrimOptions => ({
  ...options,
  ...(options.supplyVolt === undefined ? {} : { supplyVolt: options.supplyVolt * ratio }),
  ...(options.lead === undefined ? {} : { lead: { ...options.lead, volt: options.lead.volt * ratio } }),
});

/**
 * The feed at which the gauge errs least, with the best network of at most one part: each feed is searched as a trim is,
 * so none of those tried does better.
 * Source: the gauge's own law of volts (`atFeed`); searchForm.
 */
const feedOffer = (question: TrimQuestion, enough: number): FeedOffer | undefined => {
  const { gauge } = question.problem.table;
  const { readingAtFeed } = gauge;
  if (readingAtFeed === undefined) return undefined;
  const options: TrimOptions = { ...question.options, ...question.band, samples: OFFER_SAMPLES, maxParts: 1 };
  const ratios = ratiosFor(gauge);
  const [best] = ratios
    .flatMap((ratio) => {
      const table = gaugeTable({ ...gauge, reading: (ohm) => readingAtFeed(ohm, ratio) });
      const found =
        table.kind === 'refused' ? undefined : bestOf(table, question.sender, atFeed(options, ratio));
      return found === undefined ? [] : [{ ratio, found }];
    })
    .sort((one, other) => one.found.worst - other.found.worst);
  if (best === undefined || !(best.found.worst <= enough)) return undefined;
  const { supplyVolt } = question.options;
  return {
    ratio: best.ratio,
    ...(supplyVolt === undefined ? {} : { volt: supplyVolt * best.ratio }),
    worstError: best.found.worst,
    network: best.found.network,
    tried: { count: ratios.length, fromRatio: ratios[0]!, toRatio: ratios.at(-1)! },
  };
};

const dialOffer = ({ problem, sender }: TrimQuestion, value: number): DialOffer => {
  const none: Network = { topology: 'none', parts: [] };
  const ohm = workingOhm(problem.heat, none, { value, coldOhm: sender.ohm(value) });
  return { value, stands: problem.table.gauge.reading(seenOhm(none, ohm)) };
};

/**
 * What would do where no resistor helps enough: the ohms wanted at each mark, senders that are sold and come near, another
 * feed, a dial marked anew. `limit`: how far the job may err; `nearestError`: of the best network, dial units.
 * A sender or a feed is offered when it brings the job within the limit, or takes a third away from `nearestError`.
 * Source: the gauge's own curve; searchForm for senders and feeds.
 */
export const offersFor = (question: TrimQuestion, limit: number, nearestError: number): Offers => {
  const values = valuesOf(question);
  const enough = Math.max(limit, WORTH_FRACTION * nearestError);
  const feed = feedOffer(question, enough);
  return {
    wanted: values.map((value) => wantedAt(question.problem.table, value, limit)),
    market: marketOffers(question, enough),
    ...(feed === undefined ? {} : { feed }),
    dial: values.filter((value) => isInBand(question, value)).map((value) => dialOffer(question, value)),
  };
};
