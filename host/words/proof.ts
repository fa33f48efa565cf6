import { DANGER_WORDS, dangerReading, NEVER_WORDS, normalRange } from '../job/proof/danger';
import type { Missing } from '../job/proof/proof';
import type { ProofRemark } from '../job/proof/proof-remarks';
import type { Limit, Verdict } from '../job/proof/verdict';
import { settleMsOf } from '../job/state/settling';
import type { JobState } from '../job/state/state';
import { printed, type Notation } from './notation';
import { limitsWords, RULE_NAMES } from './judged';
import { counted } from './sentence';
import { shownSpread } from './shown';

export const VERDICT_WORDS: Readonly<Record<Verdict, string>> = {
  within: 'within',
  outside: 'outside',
  'cannot-tell': 'cannot be told',
};

const SIGNED_OVER = {
  'as-found': 'nothing was noted as found',
  chain: 'no chain test was made',
  'fault-remains': 'the chain test says that a fault remains',
  finding: 'the check had found a fault',
} as const;

/** What nobody may overlook beside the verdict of a proof; it stands in a line of several. */
export const proofRemarkWords = (remark: ProofRemark, unit: string, say: Notation): string => {
  switch (remark.kind) {
    case 'struck-outside':
      return `${counted(remark.count, 'outside pair')} struck (${remark.reasons.join('; ')})`;
    case 'limit-widened':
      return `the limit was widened from ${say.spread(remark.from, unit)} to ${say.spread(remark.to, unit)} after pairs were entered`;
    case 'readings-differ':
      return `two readings at ${say.short(remark.place, unit)}, taken the same way, differ by ${say.short(remark.differ, unit)}, more than the limit of ${say.spread(remark.limit, unit)}`;
    case 'trim-signed':
      return `a resistor was chosen although ${SIGNED_OVER[remark.why]}; signed by ${remark.by}: ${remark.reason}`;
    case 'judged-by':
      return [
        `judged by ${RULE_NAMES[remark.rule]}`,
        ...(remark.sides === undefined
          ? []
          : [`${limitsWords(remark.sides, unit, say)} where it is dangerous`]),
      ].join(', ');
    case 'trim-beyond':
      return `the worst error left by Trim, ${say.spread(remark.worst, unit)}, is beyond the limit of ${say.spread(remark.limit, unit)}`;
  }
};

/** The sentence a proof ends in, or stands at; `worst`: the pair that is farthest off. */
export const proofSentence = (
  told: {
    readonly verdict: Verdict | 'begun';
    readonly limit: number;
    readonly wanted: number;
    readonly worst?: { readonly error: number; readonly at: number } | undefined;
  },
  unit: string,
  say: Notation,
): string => {
  const { verdict, limit, wanted, worst } = told;
  switch (verdict) {
    case 'within':
      return `Proved: the needle is within ${say.spread(limit, unit)} of what is true.`;
    case 'outside':
      return worst === undefined
        ? `Not proved: the needle is more than ${say.spread(limit, unit)} off.`
        : `Not proved: the needle is ${say.lowOrHigh(worst.error, unit)} at ${say.short(worst.at, unit)}.`;
    case 'cannot-tell':
      return `It cannot be told whether the needle is within ${say.spread(limit, unit)}.`;
    case 'begun':
      return `The proof still wants ${counted(wanted, 'thing')}.`;
  }
};

const MS_PER_S = 1_000;

/** What a proof still wants, one thing to do a line. */
export const missingWords = (
  missing: Missing,
  { gauge, simulated }: Pick<JobState, 'gauge' | 'simulated'>,
  say: Notation,
): string => {
  const { from, to } = normalRange(gauge);
  switch (missing) {
    case 'three-places':
      return 'three places on the scale';
    case 'fitted':
      return 'what is fitted: the chosen network, or nothing';
    case 'normal-running':
      return `ordinary running against a reference, from ${say.range(from, to, gauge.unit)}`;
    case 'dangerous-end':
      return `${DANGER_WORDS[gauge.quantity]} by known ohms in the sender\u2019s place, as it has at ${say.of(dangerReading(gauge), gauge.unit)}: ${NEVER_WORDS[gauge.quantity]}`;
    case 'both-ways':
      return `one place read with the needle rising and with it falling${simulated ? '' : `, ${settleMsOf(gauge.mechanism) / MS_PER_S} s or more apart, so that it comes to rest`}`;
    case 'fresh-pair':
      return 'a fresh pair for each outside one that was struck: at its place, made the same way';
  }
};

/** The same in a word or two, for one line of many. */
export const MISSING_SHORT: Readonly<Record<Missing, string>> = {
  'three-places': 'three places',
  fitted: 'what is fitted',
  'normal-running': 'ordinary running',
  'dangerous-end': 'the dangerous end by known ohms',
  'both-ways': 'one place both ways',
  'fresh-pair': 'a fresh pair for the struck one',
};

/** "±4 K (5 % of the scale, common practice; nobody chose another)". */
export function limitWords(limit: Limit, gauge: JobState['gauge']): string {
  const { sides, size: larger, percent } = limit;
  const size =
    sides === undefined
      ? shownSpread(larger, gauge)
      : percent === undefined
        ? limitsWords(sides, gauge.unit, printed)
        : `${shownSpread(larger, gauge)}, where it is dangerous ${limitsWords(sides, gauge.unit, printed)}`;
  if (percent === undefined) return `${size}, as agreed for this job`;
  const why = limit.isChosen ? 'as agreed for this job' : 'common practice; nobody chose another';
  return `${size} (${percent} % of the scale, ${why})`;
}
