import type { Candidate } from '../core/network';
import type { LinePoint } from '../job/findings';
import type { ErrorsTold } from '../words/trim-answer';
import { shownSpread } from '../words/shown';
import type { Scale } from './dial-strip';
import { evenLimit, type ErrorLine, type ErrorQuestion } from './error-scene';
import { printed } from '../words/notation';
import { partsSum } from '../words/trim-answer';

type ErrorRow = Candidate['errorTable'][number];

/** Indicated less true at each row, and how well that is known. */
const afterPoints = (rows: readonly ErrorRow[]): ErrorLine['points'] =>
  rows.map(({ trueValue, error, expandedUncertainty }) => ({
    value: trueValue,
    error,
    half: expandedUncertainty,
  }));

const worstOf = (points: readonly { readonly y: number }[]): number =>
  Math.max(0, ...points.map(({ y }) => Math.abs(y)));

/** The largest error with its sign, to two figures. */
const worstSigned = (points: readonly { readonly y: number }[]): number =>
  Number([...points].reduce((worst, { y }) => (Math.abs(y) > Math.abs(worst) ? y : worst), 0).toPrecision(2));

export type TrimErrors = {
  readonly gauge: Scale;
  readonly candidate: Candidate;
  /** As it is: true value and error. */
  readonly before: readonly Pick<LinePoint, 'x' | 'y'>[];
  /** What this job allows at the proof, dial units. */
  readonly limit: number;
  /** Whose limit it is; that of the job when left out. */
  readonly limitName?: string;
  /** Errors with senders at the ends of their stated tolerance. */
  readonly tolerance?: readonly LinePoint[] | undefined;
};

/** The errors as they are and as they will be, over the stretch of the dial that is asked about. */
export function trimErrors({
  gauge,
  candidate,
  before,
  limit,
  limitName = 'limit of this job',
  tolerance,
}: TrimErrors): ErrorQuestion {
  const isAltered = candidate.parts.length > 0;
  const after: ErrorLine = {
    id: 'after',
    name: `${isAltered ? `with ${partsSum(candidate, printed)}` : 'as it is'}: within ${printed.of(Number(candidate.worstError.toPrecision(2)), gauge.unit)}`,
    look: 'curve',
    points: afterPoints(candidate.errorTable),
  };
  const found: ErrorLine = {
    id: 'before',
    name: `as it is: up to ${printed.lowOrHigh(worstSigned(before), gauge.unit)}`,
    look: 'before',
    points: before.map(({ x, y }) => ({ value: x, error: y })),
  };
  const edges = (tolerance ?? []).length === 0 ? [] : (['low', 'high'] as const);
  const values = candidate.errorTable.map(({ trueValue }) => trueValue);
  return {
    scale: gauge,
    ...(values.length < 2 ? {} : { from: Math.min(...values), to: Math.max(...values) }),
    lines: [
      ...(isAltered ? [found] : []),
      ...edges.map((end): ErrorLine => ({
        id: `tolerance ${end}`,
        name: 'senders at the ends of their stated tolerance',
        look: 'edge',
        points: (tolerance ?? []).map((point) => ({ value: point.x, error: point[end] })),
      })),
      after,
    ],
    dots: [],
    limit: evenLimit(limit, `${limitName} ${shownSpread(limit, gauge)}`),
  };
}

/** Whether the job would call it right, from the rows of its error table. */
export function trimVerdict(
  rows: readonly ErrorRow[],
  limit: number,
  isCold: boolean,
): ErrorsTold | undefined {
  const ordered = [...rows].sort((one, other) => one.error - other.error);
  const [lowest, highest] = [ordered[0], ordered.at(-1)];
  if (lowest === undefined || highest === undefined) return undefined;
  const values = rows.map(({ trueValue }) => trueValue);
  const isBeyond = rows.some(({ error }) => Math.abs(error) > limit);
  const isUncertain = rows.some(
    ({ error, expandedUncertainty }) => Math.abs(error) + expandedUncertainty > limit,
  );
  return {
    limit,
    from: Math.min(...values),
    to: Math.max(...values),
    reach: isBeyond ? 'outside' : isUncertain ? 'within-reach' : 'inside',
    isCold,
    highest: { error: highest.error, at: highest.trueValue },
    lowest: { error: lowest.error, at: lowest.trueValue },
  };
}

/** Largest error as it is, without any network. */
export const untrimmedError = (before: readonly LinePoint[]): number => worstOf(before);
