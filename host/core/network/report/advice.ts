import { isIgnorance } from '../../at-work';
import type { TrimQuestion } from '../search/trim-question';
import type { Candidate } from './candidate';
import type { ErrorRow } from './error-table';

/**
 * What to do, in this order: nothing where it fits as it is; a network where it helps enough; else nothing of this, and
 * what comes nearest. `isCertain`: with its uncertainty too. `measure-heat`: what nobody knows of the sender's own heat
 * decides, and a measurement of minutes would settle it.
 */
export type Advice =
  | { readonly kind: 'fits-as-is'; readonly limit: number; readonly isCertain: boolean }
  | { readonly kind: 'network'; readonly limit: number; readonly brings: 'inside-the-limit' | 'a-third-less' }
  | { readonly kind: 'measure-heat'; readonly limit: number }
  | { readonly kind: 'no-resistor-helps'; readonly limit: number };

/** What restorers accept, as a part of the scale. Common practice, no source. */
const USUAL_LIMIT_FRACTION = 0.05;
/** A network that takes away less than a third of the worst error is not worth its solder. Common practice, no source. */
const WORTH_FRACTION = 2 / 3;

/** How far the job may err, dial units: as asked, or the usual part of the scale. */
const limitFor = ({ options, problem }: Pick<TrimQuestion, 'options' | 'problem'>): number => {
  const { highestReading, lowestReading } = problem.table.gauge;
  return options.limit ?? USUAL_LIMIT_FRACTION * Math.abs(highestReading - lowestReading);
};

const worstRow = ({ errorTable, worstAt }: Candidate): ErrorRow | undefined =>
  errorTable.find(({ trueValue }) => trueValue === worstAt);

const isSurelyWithin = (candidate: Candidate, limit: number): boolean =>
  candidate.worstError <= limit &&
  candidate.errorTable.every(
    ({ error, expandedUncertainty }) => Math.abs(error) + expandedUncertainty <= limit,
  );

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

/** What a network brings over nothing; undefined when it is not enough, or no more than what is uncertain of the heat. */
const broughtBy = (
  question: TrimQuestion,
  network: Candidate,
  bare: Candidate,
  limit: number,
): 'inside-the-limit' | 'a-third-less' | undefined => {
  const gain = bare.worstError - network.worstError;
  if (!(gain > heatUncertainty(bare))) return undefined;
  const danger = dangerousError(question, network);
  if (danger > limit && danger > dangerousError(question, bare)) return undefined;
  if (network.worstError <= limit && bare.worstError > limit) return 'inside-the-limit';
  return network.worstError <= WORTH_FRACTION * bare.worstError ? 'a-third-less' : undefined;
};

/**
 * What to do about a gauge and its sender. `bare`: without a network; undefined where that was not among the networks
 * asked for: then only networks are compared.
 * Source: the order above; a gain smaller than what is uncertain of the heat is no gain.
 */
export const adviceOn = (question: TrimQuestion, network: Candidate, bare: Candidate | undefined): Advice => {
  const limit = limitFor(question);
  if (bare === undefined)
    return {
      kind: 'network',
      limit,
      brings: network.worstError <= limit ? 'inside-the-limit' : 'a-third-less',
    };
  if (isSurelyWithin(bare, limit)) return { kind: 'fits-as-is', limit, isCertain: true };
  const brings = broughtBy(question, network, bare, limit);
  if (brings !== undefined) return { kind: 'network', limit, brings };
  if (bare.worstError <= limit) return { kind: 'fits-as-is', limit, isCertain: false };
  const { heat } = question.problem;
  const uncertain = worstRow(bare)?.expandedUncertainty ?? 0;
  return heat !== undefined && isIgnorance(heat.factor) && bare.worstError - uncertain <= limit
    ? { kind: 'measure-heat', limit }
    : { kind: 'no-resistor-helps', limit };
};
