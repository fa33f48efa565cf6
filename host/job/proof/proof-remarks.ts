import type { DecisionRule, Limits } from '../../core/proof/decision';
import { isSameAgain, provingPairs } from './proof';
import { struckOutside, takenAsLeft } from './proof-struck';
import type { TrimShutWhy } from '../schema/chain-shapes';
import type { JobState } from '../state/state';
import { limitOf, narrowestSince, pairResult, ruleOf } from './verdict';

/** What belongs beside a verdict, whatever it is; sizes in dial units. */
export type ProofRemark =
  | { readonly kind: 'struck-outside'; readonly count: number; readonly reasons: readonly string[] }
  | { readonly kind: 'limit-widened'; readonly from: number; readonly to: number }
  | {
      readonly kind: 'readings-differ';
      readonly place: number;
      readonly differ: number;
      readonly limit: number;
    }
  /** Somebody went on to Trim where a resistor might hide a fault. */
  | {
      readonly kind: 'trim-signed';
      readonly by: string;
      readonly why: TrimShutWhy;
      readonly reason: string;
    }
  /** Judged otherwise than by a guard band, or by a limit whose sides differ. */
  | { readonly kind: 'judged-by'; readonly rule: DecisionRule; readonly sides?: Limits }
  | { readonly kind: 'trim-beyond'; readonly worst: number; readonly limit: number };

/** Equal limits given in two ways differ by rounding. */
const ROUNDING = 1 + 1e-9;

const widened = (state: JobState): readonly ProofRemark[] => {
  const [first] = takenAsLeft(state);
  if (first === undefined) return [];
  const [from, to] = [narrowestSince(state, first.n), limitOf(state).size];
  return to > from * ROUNDING ? [{ kind: 'limit-widened', from, to }] : [];
};

/** The worst of what was read twice and is not one reading: each may be within, and together they tell nothing. */
const readingsDiffer = (state: JobState): readonly ProofRemark[] => {
  const limit = limitOf(state).size;
  const pairs = provingPairs(state);
  const [worst] = pairs
    .flatMap((one, index) =>
      pairs
        .slice(index + 1)
        .filter((other) => isSameAgain(state, one, other))
        .map((other) => ({
          place: other.reference,
          differ: Math.abs(pairResult(state, one).error - pairResult(state, other).error),
        })),
    )
    .filter(({ differ }) => !(differ <= limit * ROUNDING))
    .sort((one, other) => other.differ - one.differ);
  return worst === undefined ? [] : [{ kind: 'readings-differ', ...worst, limit }];
};

/** What the choice in Trim was known to leave, of what is fitted. */
const trimBeyond = (state: JobState): readonly ProofRemark[] => {
  const { fitted, trimChosen } = state;
  const isFitted = fitted?.fitted === 'network' || trimChosen?.parts.length === 0;
  if (fitted === undefined || trimChosen === undefined || !isFitted) return [];
  const [worst, limit] = [Math.abs(trimChosen.worstError), limitOf(state).size];
  return worst <= limit * ROUNDING ? [] : [{ kind: 'trim-beyond', worst, limit }];
};

const signedOf = ({ trimSigned }: JobState): readonly ProofRemark[] =>
  trimSigned === undefined
    ? []
    : [{ kind: 'trim-signed', by: trimSigned.by, why: trimSigned.why, reason: trimSigned.reason }];

const judgedBy = (state: JobState): readonly ProofRemark[] => {
  const rule = ruleOf(state);
  const { sides } = limitOf(state);
  if (rule === 'guard' && sides === undefined) return [];
  return [{ kind: 'judged-by', rule, ...(sides === undefined ? {} : { sides }) }];
};

/** What nobody may overlook beside the verdict. Empty while nothing proves the vehicle as it is left. */
export const proofRemarks = (state: JobState): readonly ProofRemark[] => {
  const struck = struckOutside(state);
  const isBegun = struck.length > 0 || provingPairs(state).length > 0;
  if (!isBegun) return signedOf(state);
  const reasons = struck.flatMap((pair) => pair.struckBecause ?? []);
  return [
    ...signedOf(state),
    ...judgedBy(state),
    ...(struck.length === 0 ? [] : [{ kind: 'struck-outside', count: struck.length, reasons } as const]),
    ...readingsDiffer(state),
    ...widened(state),
    ...trimBeyond(state),
  ];
};
