import { isIgnorance } from '../../at-work';
import type { GaugeResponse } from '../../response';
import type { TrimQuestion } from '../search/trim-question';
import type { Candidate } from './candidate';
import type { ErrorRow } from './error-table';

/** Where error and uncertainty together are largest, dial units. */
export type Reach = { readonly at: number; readonly error: number; readonly expandedUncertainty: number };

/**
 * What a network brings. `inside-the-limit`: error and uncertainty together stay within it in every row.
 * `inside-without-heat`: they do, but nobody counted the sender's own heat. `cannot-be-told`: the errors stay within it,
 * what is uncertain reaches beyond.
 */
export type Brings = 'inside-the-limit' | 'inside-without-heat' | 'cannot-be-told' | 'a-third-less';

/**
 * What to do, in this order: nothing where it fits as it is; a network where it helps enough; else nothing of this, and
 * what comes nearest. `isCertain`: with its uncertainty too. `measure-heat`: what nobody knows of the sender's own heat
 * decides, and a measurement of minutes would settle it. `isHeatLeftOut`: the heat is in no figure here.
 */
export type Advice =
  | {
      readonly kind: 'fits-as-is';
      readonly limit: number;
      readonly isCertain: boolean;
      readonly isHeatLeftOut: boolean;
    }
  | {
      readonly kind: 'network';
      readonly limit: number;
      readonly brings: Brings;
      readonly isHeatLeftOut: boolean;
      readonly reach: Reach;
    }
  | { readonly kind: 'measure-heat'; readonly limit: number }
  | { readonly kind: 'no-resistor-helps'; readonly limit: number };

/** What restorers accept, as a part of the scale. Common practice, no source. */
const USUAL_LIMIT_FRACTION = 0.05;
/** A network that takes away less than a third of the worst error is not worth its solder. Common practice, no source. */
const WORTH_FRACTION = 2 / 3;

/** How far the job may err, dial units: as asked, or the usual part of the scale. Common practice, no source. */
export const limitFor = ({ options, problem }: Pick<TrimQuestion, 'options' | 'problem'>): number =>
  options.limit ?? usualLimit(problem.table.gauge);

/** What a job may err where nobody said it, dial units. */
export const usualLimit = ({
  marks = [],
  highestReading,
  lowestReading,
}: Pick<GaugeResponse, 'marks' | 'highestReading' | 'lowestReading'>): number => {
  // The scale is what is printed; where nobody said that, what the needle was seen to do.
  const ends = marks.length > 1 ? marks.map(({ reading }) => reading) : [highestReading, lowestReading];
  return USUAL_LIMIT_FRACTION * (Math.max(...ends) - Math.min(...ends));
};

const worstRow = ({ errorTable, worstAt }: Candidate): ErrorRow | undefined =>
  errorTable.find(({ trueValue }) => trueValue === worstAt);

const reachOf = ({ error, expandedUncertainty }: ErrorRow): number => Math.abs(error) + expandedUncertainty;

/** The row that breaks the limit most: by its error where one does, else with its uncertainty. */
const furthest = (candidate: Candidate, limit: number): Reach => {
  const byReach = candidate.errorTable.reduce((one, other) => (reachOf(other) > reachOf(one) ? other : one));
  const { trueValue, error, expandedUncertainty } =
    candidate.worstError > limit ? (worstRow(candidate) ?? byReach) : byReach;
  return { at: trueValue, error, expandedUncertainty };
};

/** True where nobody said what feeds a temperature sender: its heat is in no figure. */
const isHeatLeftOut = ({ noHeat }: TrimQuestion): boolean => noHeat === 'circuit-not-known';

const isSurelyWithin = (candidate: Candidate, limit: number): boolean =>
  candidate.worstError <= limit && candidate.errorTable.every((row) => reachOf(row) <= limit);

/** Largest error to the dangerous side where the safety rule speaks, dial units; 0 when there is none. */
const dangerousError = ({ rule }: TrimQuestion, { errorTable }: Candidate): number =>
  Math.max(
    0,
    ...errorTable.map(({ trueValue, error }) => {
      const { lowest, highest } = rule.allowed(trueValue);
      return Math.max(lowest === -Infinity ? 0 : -error, highest === Infinity ? 0 : error);
    }),
  );

/**
 * How far the worst row could move with what is not known of the sender's own heat, dial units. Curve and sender are the
 * same with a network and without: what is uncertain of them is in both.
 */
const heatUncertainty = (candidate: Candidate): number => {
  const row = worstRow(candidate);
  if (row?.heat === undefined) return 0;
  const { indicatedIfMost, indicatedIfLeast } = row.heat;
  return Math.max(Math.abs(indicatedIfMost - row.indicated), Math.abs(indicatedIfLeast - row.indicated));
};

/** What a network is good for by itself; undefined where it leaves the limit. */
const insideBy = (question: TrimQuestion, network: Candidate, limit: number): Brings | undefined => {
  if (!(network.worstError <= limit)) return undefined;
  if (!isSurelyWithin(network, limit)) return 'cannot-be-told';
  return isHeatLeftOut(question) ? 'inside-without-heat' : 'inside-the-limit';
};

/** What a network brings over nothing; undefined when it is not enough, or no more than what is uncertain of the heat. */
const broughtBy = (
  question: TrimQuestion,
  network: Candidate,
  bare: Candidate,
  limit: number,
): Brings | undefined => {
  const gain = bare.worstError - network.worstError;
  if (!(gain > heatUncertainty(bare))) return undefined;
  const danger = dangerousError(question, network);
  if (danger > limit && danger > dangerousError(question, bare)) return undefined;
  const isThirdLess = network.worstError <= WORTH_FRACTION * bare.worstError;
  if (!isThirdLess && !(bare.worstError > limit)) return undefined;
  return insideBy(question, network, limit) ?? (isThirdLess ? 'a-third-less' : undefined);
};

const isHeatUnknown = ({ problem: { heat } }: TrimQuestion): boolean =>
  heat !== undefined && isIgnorance(heat.factor);

/** A network whose success hangs on a heat that nobody measured is not soldered yet. */
const networkAdvice = (question: TrimQuestion, network: Candidate, limit: number, brings: Brings): Advice =>
  brings === 'cannot-be-told' && isHeatUnknown(question)
    ? { kind: 'measure-heat', limit }
    : {
        kind: 'network',
        limit,
        brings,
        isHeatLeftOut: isHeatLeftOut(question),
        reach: furthest(network, limit),
      };

/**
 * What to do about a gauge and its sender. `bare`: without a network; undefined where that was not among the networks
 * asked for: then only networks are compared.
 * Source: the order above; a gain smaller than what is uncertain of the heat is no gain.
 */
export const adviceOn = (question: TrimQuestion, network: Candidate, bare: Candidate | undefined): Advice => {
  const limit = limitFor(question);
  if (bare === undefined)
    return networkAdvice(question, network, limit, insideBy(question, network, limit) ?? 'a-third-less');
  const leftOut = isHeatLeftOut(question);
  const fits = { kind: 'fits-as-is', limit, isHeatLeftOut: leftOut } as const;
  if (isSurelyWithin(bare, limit)) return { ...fits, isCertain: !leftOut };
  const brings = broughtBy(question, network, bare, limit);
  if (brings !== undefined) return networkAdvice(question, network, limit, brings);
  if (bare.worstError <= limit) return { ...fits, isCertain: false };
  const uncertain = worstRow(bare)?.expandedUncertainty ?? 0;
  return isHeatUnknown(question) && bare.worstError - uncertain <= limit
    ? { kind: 'measure-heat', limit }
    : { kind: 'no-resistor-helps', limit };
};
