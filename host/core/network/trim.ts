import type { GaugeResponse, SenderResponse } from '../response';
import type { Refused } from '../result';
import type { Candidate } from './report/candidate';
import { candidateOf } from './report/candidate';
import type { Certificate } from './report/certificate';
import { certificateOf } from './report/certificate';
import { proofOfImpossible } from './search/proof-of-impossible';
import { gaugeTable } from './search/gauge-table';
import { whyNoGaugeShunt } from './search/searched-forms';
import { compareFound } from './search/ranking';
import type { FormResult } from './search/search';
import { searchForm } from './search/search';
import type { TrimQuestion } from './search/trim-question';
import { trimQuestionOf } from './search/trim-question';
import { networkOf } from './closed-form/topology';
import type { TrimOptions } from './search/trim-options';
import { trimDefaults } from './search/trim-options';

/** Ranked networks, best first, with the proof that none was overlooked. */
export type Trimmed = {
  readonly kind: 'trimmed';
  readonly unit: string;
  readonly band: { readonly from: number; readonly to: number };
  readonly rule: { readonly says: string; readonly limit: number };
  readonly candidates: readonly Candidate[];
  /**
   * Index of the candidate with the fewest parts (one more counted across a gauge) among those as good as the best to
   * within 1 % of the band.
   */
  readonly recommended: number;
  /** Where the safety rule costs accuracy: the best network that ignores it, for comparison. */
  readonly withoutRule?: Candidate;
  readonly certificate: Certificate;
  readonly remarks: readonly string[];
};

/** A refusal by theorem still tells how near resistors could come. */
export type TrimRefused = Refused & { readonly nearest?: Candidate; readonly certificate?: Certificate };

const AS_GOOD_FRACTION = 0.01;

/** All forms searched, each with its best networks. Source: searchForm. */
export const searchAll = (question: TrimQuestion, keep: number): readonly FormResult[] =>
  question.forms.map((form) => searchForm(question.problem, form, question.parts, keep));

const ranked = (question: TrimQuestion, results: readonly FormResult[]): readonly Candidate[] =>
  results
    .flatMap((result, order) =>
      result.found.map((found) => ({ found, order, topology: result.form.topology })),
    )
    .sort(
      (one, other) =>
        one.found.score - other.found.score ||
        one.order - other.order ||
        compareFound(one.found, other.found),
    )
    .map(({ found, topology }) =>
      candidateOf(question, networkOf(topology, found.partsOhm, question.parts.gaugeOhm)),
    );

/** A resistor across the gauge changes the gauge's own circuit: it counts as one part more. */
const effort = ({ topology, parts }: Candidate): number =>
  parts.length + (topology === 'gauge-shunt' ? 1 : 0);

const recommendedAmong = (candidates: readonly Candidate[], question: TrimQuestion): number => {
  const best = candidates[0]!;
  const good = best.worstWeightedError + AS_GOOD_FRACTION * (question.band.to - question.band.from);
  const enough = candidates.filter(
    (candidate) => candidate.keepsRule === best.keepsRule && candidate.worstWeightedError <= good,
  );
  const least = Math.min(...enough.map(effort));
  return candidates.indexOf(enough.find((candidate) => effort(candidate) === least) ?? best);
};

/** The same question with the rule silent. */
const unruled = (question: TrimQuestion): TrimQuestion => ({
  ...question,
  problem: {
    ...question.problem,
    lowestError: question.problem.lowestError.map(() => -Infinity),
    highestError: question.problem.highestError.map(() => Infinity),
  },
});

/** An optimum whose errors are all within the rule's limit is also the optimum without the rule. */
const bestWithoutRule = (question: TrimQuestion, best: Candidate): Candidate | undefined => {
  if (best.keepsRule && best.worstError <= question.rule.limit) return undefined;
  const found = ranked(question, searchAll(unruled(question), 1))[0];
  return found && found.worstWeightedError < best.worstWeightedError ? found : undefined;
};

const remarksOn = (
  question: TrimQuestion,
  best: Candidate,
  withoutRule: Candidate | undefined,
): readonly string[] => {
  const { gauge } = question.problem.table;
  const noShunt = whyNoGaugeShunt(question.options);
  const remarks = [...question.remarks];
  if (noShunt !== undefined) remarks.push(`resistors across the gauge were left out: ${noShunt}`);
  if (noShunt === undefined && gauge.quantity === 'fuel')
    remarks.push(
      'resistors across the gauge that would let more current into the tank than before were left out',
    );
  if (withoutRule)
    remarks.push(
      `without the rule that the gauge ${question.rule.says} ${gauge.unit} the worst error would be ${withoutRule.worstError.toPrecision(3)} ${gauge.unit}`,
    );
  if (!best.keepsRule)
    remarks.push(`no network at all keeps the rule that the gauge ${question.rule.says} ${gauge.unit}`);
  if (best.worstError > question.acceptableError)
    remarks.push(
      `the best network still errs by ${best.worstError.toPrecision(3)} ${gauge.unit}: its ends can be met but not its shape; re-mark the dial or use another sender`,
    );
  if (gauge.plateaus.length > 0)
    remarks.push(
      'this gauge has a flat zone in which the needle does not move: no network can make it move there',
    );
  return remarks;
};

const answer = (question: TrimQuestion, results: readonly FormResult[]): Trimmed | TrimRefused => {
  const { problem, rule, band } = question;
  const certificate = certificateOf(results, problem, {
    values: question.supply.says,
    parts: question.parts,
  });
  const candidates = ranked(question, results);
  const best = candidates[0];
  if (!best)
    return {
      kind: 'refused',
      code: 'TANK_CURRENT',
      message:
        'every resistor across this fuel gauge would let more current into the tank than the original circuit could: use resistors around the sender, or another sender',
    };
  const proof =
    best.worstError > question.acceptableError
      ? proofOfImpossible(problem, question.acceptableError)
      : undefined;
  if (proof)
    return {
      ...proof,
      message: `${proof.message}; the nearest network searched errs by ${best.worstError.toPrecision(3)} ${problem.table.gauge.unit}`,
      nearest: best,
      certificate,
    };
  const withoutRule = bestWithoutRule(question, best);
  return {
    kind: 'trimmed',
    unit: problem.table.gauge.unit,
    band,
    rule: { says: rule.says, limit: rule.limit },
    candidates,
    recommended: recommendedAmong(candidates, question),
    ...(withoutRule ? { withoutRule } : {}),
    certificate,
    remarks: remarksOn(question, best, withoutRule),
  };
};

/**
 * The trim networks that make `gauge` tell the truth with `sender`, best first: an exact search over preferred values
 * (or parts at hand) for the smallest worst weighted needle error, in dial units, that keeps the safety rule.
 * Source: searchForm; the theorems of feasibility.ts for the refusals.
 * Refuses: SENSE, SPAN_OHM, SPAN_SIEMENS, RATIO when a theorem shows that resistors cannot come within the acceptable
 * error; TANK_CURRENT; curves and options that make no question (GAUGE_..., SENDER_..., BAND, UNIT, STOCK, ...).
 */
export const trim = (
  gauge: GaugeResponse,
  sender: SenderResponse,
  options: TrimOptions = {},
): Trimmed | TrimRefused => {
  const table = gaugeTable(gauge);
  if (table.kind === 'refused') return table;
  const question = trimQuestionOf(table, sender, options);
  if (question.kind === 'refused') return question;
  return answer(question, searchAll(question, options.perTopology ?? trimDefaults.perTopology));
};
