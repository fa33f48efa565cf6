import { believe, type Belief, type Finding } from './belief';
import type { Hypothesis } from './cloud';
import type { Diagnosis } from './diagnose';
import { comparisonOf } from './measure';
import type { Part, TestName } from './names';
import { testRow } from './tests';

/** Source: Kass and Raftery, Bayes factors, JASA 90 (1995) 773-795: over 20 strong, over 3 some. */
const STRONG = 20;
const SOME = 3;

/** What one finding says for the likeliest part, against the next best. */
export type Evidence = {
  readonly finding: Finding;
  /** How many times likelier it is under the likeliest part than under the next best, all else taken as found. */
  readonly ratio: number;
  readonly weight: 'strong' | 'some' | 'little' | 'against';
  /** What a sound vehicle of this family shows; between its tenth and its ninetieth part. */
  readonly sound: Expected;
};

/** What a test is expected to show, in its own measure; a yes or no by its chance. */
export type Expected = { readonly middle: number; readonly low: number; readonly high: number };

/** What each finding says, the strongest first. */
export function evidenceOf({ belief, findings, suspects }: Diagnosis): readonly Evidence[] {
  const [first] = suspects;
  const second = first === undefined ? undefined : nextBest(belief, first.part);
  if (first === undefined || second === undefined) return [];
  return findings
    .map((finding) => {
      const before = believe(
        belief.cloud,
        findings.filter((each) => each !== finding),
      );
      const gain = (own: Own): number => worthOf(belief, own) - worthOf(before, own);
      const ratio = Math.exp(
        gain(({ parts }) => parts.includes(first.part)) - gain((each) => each === second),
      );
      return { finding, ratio, weight: weightOf(ratio), sound: expectedOf(belief, finding.test, 'sound') };
    })
    .sort((one, two) => two.ratio - one.ratio);
}

function weightOf(ratio: number): Evidence['weight'] {
  if (ratio > STRONG) return 'strong';
  if (ratio > SOME) return 'some';
  return ratio < 1 / SOME ? 'against' : 'little';
}

type Own = (hypothesis: Hypothesis) => boolean;

/** The likeliest hypothesis in which this part is sound. */
const nextBest = ({ cloud, logEvidence }: Belief, part: Part): Hypothesis | undefined =>
  cloud.hypotheses
    .map((hypothesis, at) => ({ hypothesis, worth: Math.log(hypothesis.prior) + logEvidence[at]! }))
    .filter(({ hypothesis }) => !hypothesis.parts.includes(part))
    .sort((one, two) => two.worth - one.worth)[0]?.hypothesis;

/** ln of what everything found is worth to some hypotheses together: their mean by their priors. */
function worthOf({ cloud, logEvidence }: Belief, isOwn: Own): number {
  const own = cloud.hypotheses.flatMap((each, at) =>
    isOwn(each) ? [Math.log(each.prior) + logEvidence[at]!] : [],
  );
  const most = Math.max(...own);
  return most + Math.log(own.reduce((sum, each) => sum + Math.exp(each - most), 0));
}

const TENTH = 0.1;

/**
 * What a test would show where this part is at fault, by what is believed of it now; of a sound vehicle by what was
 * believed before anything was measured.
 */
export function expectedOf({ cloud, weights }: Belief, test: TestName, part: Part): Expected {
  const outcomes = cloud.outcomes.get(test) ?? new Float64Array();
  const own: { readonly value: number; readonly weight: number }[] = [];
  for (const { first, count, parts } of cloud.hypotheses) {
    if (!parts.includes(part) || (part === 'sound' && parts.length > 1)) continue;
    for (let index = first; index < first + count; index += 1)
      own.push({ value: outcomes[index]!, weight: part === 'sound' ? 1 : weights[index]! });
  }
  own.sort((one, two) => one.value - two.value);
  const all = own.reduce((sum, { weight }) => sum + weight, 0);
  const { back } = comparisonOf(test);
  const at = (share: number): number => {
    let sum = 0;
    const found = own.find(({ weight }) => (sum += weight) >= share * all);
    return back(found?.value ?? own.at(-1)?.value ?? 0);
  };
  if (testRow(test).measure === 'chance') {
    const chance = own.reduce((sum, { value, weight }) => sum + value * weight, 0) / (all || 1);
    return { middle: chance, low: chance, high: chance };
  }
  return { middle: at(0.5), low: at(TENTH), high: at(1 - TENTH) };
}
