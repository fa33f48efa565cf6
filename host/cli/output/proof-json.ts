import type { Pair, Proof } from '../../core/proof/judge';
import type { AnswerOf } from './schemas';

/** The document of `proof --json`. */
export const judgedProofJson = (
  proof: Proof,
  {
    pairs,
    unit,
    warnings,
  }: { readonly pairs: readonly Pair[]; readonly unit: string; readonly warnings: readonly string[] },
): AnswerOf<'proof'> => ({
  schema: 'needlewright/proof/1',
  kind: 'proof',
  unit,
  rule: proof.rule,
  word: proof.word,
  proved: proof.isProved,
  missing: [...proof.missing],
  from: proof.from,
  to: proof.to,
  narrowest_limit: proof.narrowest,
  pairs: proof.pairs.map((pair, index) => ({
    value: pairs[index]!.value,
    indicated: pairs[index]!.indicated,
    error: pair.error,
    expanded_uncertainty: pair.expandedUncertainty,
    lower_limit: pair.limits.lower,
    upper_limit: pair.limits.upper,
    word: pair.word,
    chance_within: pair.chance,
  })),
  warnings: [...warnings],
});
