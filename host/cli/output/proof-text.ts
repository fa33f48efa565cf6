import type { Pair, Proof } from '../../core/proof/judge';
import type { Scale } from '../../core/proof/limits';
import { limitsWords, PAIR_WORDS, RULE_WORDS, wantedWords } from '../../words/judged';
import { plain } from '../../words/notation';
import { asSentence } from '../../words/sentence';
import { signed, textTable } from './text-table';

type Asked = { readonly pairs: readonly Pair[]; readonly unit: string; readonly scale: Scale };

const AS_GOOD_AS_SURE = 99.9;
const chanceWords = (chance: number): string =>
  100 * chance > AS_GOOD_AS_SURE ? `over ${AS_GOOD_AS_SURE} %` : `${(100 * chance).toFixed(1)} %`;

const headline = (proof: Proof, unit: string): string => {
  if (proof.isProved)
    return `Proved from ${plain.range(proof.from, proof.to, unit)}: the needle is within its limit.`;
  if (proof.word !== 'within') return asSentence(`the needle is ${PAIR_WORDS[proof.word]}`);
  return 'Begun: what was read is within; the proof wants more.';
};

/** The answer of `proof` for a person. */
export const judgedProofText = (proof: Proof, { pairs, unit, scale }: Asked): string[] => [
  headline(proof, unit),
  ...proof.missing.map((each) => `  still wanted: ${wantedWords(each, scale.quantity)}`),
  `Rule: ${RULE_WORDS[proof.rule]}.`,
  ...(proof.narrowest > 0
    ? [
        `With this reference and dial nothing tighter than ${plain.spread(proof.narrowest, unit)} can be proved.`,
      ]
    : []),
  '',
  ...textTable(
    [
      { title: `true ${unit}` },
      { title: 'needle' },
      { title: 'error' },
      { title: '\u00b1 (95 %)' },
      { title: 'limit', align: 'left' },
      { title: 'verdict', align: 'left' },
      { title: 'chance' },
    ],
    proof.pairs.map((pair, index) => [
      plain.number(pairs[index]!.value),
      plain.number(pairs[index]!.indicated),
      signed(pair.error, 1),
      pair.expandedUncertainty.toFixed(1),
      limitsWords(pair.limits, unit, plain),
      PAIR_WORDS[pair.word],
      chanceWords(pair.chance),
    ]),
  ),
];
