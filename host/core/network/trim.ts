import type { GaugeResponse, SenderResponse } from '../response';
import type { Refusal } from '../refusal';
import { refuse } from '../refusal';
import type { Remark } from '../remark';
import { remark } from '../remark';
import type { DangerSays, RuleSays } from './remarks';
import type { Candidate } from './report/candidate';
import { candidateOf } from './report/candidate';
import type { Advice } from './report/advice';
import { adviceOn, limitFor } from './report/advice';
import type { Certificate } from './report/certificate';
import { certificateOf } from './report/certificate';
import { dashHalfOf } from './circuit/dash';
import type { HeatReport } from './report/heat-report';
import type { Offers } from './report/offers';
import { offersFor } from './report/offers';
import { heatReport } from './report/heat-report';
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
  readonly rule: {
    readonly says: RuleSays;
    readonly limit: number;
    /** Left out where no side is the dangerous one, or where it counts like the other. */
    readonly danger?: DangerSays;
  };
  readonly candidates: readonly Candidate[];
  readonly advice: Advice;
  /** Index of what the advice means: a network only where one helps enough, nothing at all otherwise. */
  readonly recommended: number;
  /**
   * Index of the nearest network: the fewest parts (one more counted across a gauge) among those as good as the best to
   * within 1 % of the band. An offer where it is not the recommendation.
   */
  readonly nearest: number;
  /** Where the safety rule costs accuracy: the best network that ignores it, for comparison. */
  readonly withoutRule?: Candidate;
  /** What else would do; only where no resistor helps enough. */
  readonly offers?: Offers;
  readonly certificate: Certificate;
  readonly remarks: readonly Remark[];
  readonly heat: HeatReport;
};

/** A refusal by theorem still tells how near resistors could come. */
export type TrimRefused = Refusal & {
  readonly nearest?: Candidate;
  /** What `nearest` keeps to. */
  readonly rule?: Trimmed['rule'];
  readonly withoutRule?: Candidate;
  readonly offers?: Offers;
  readonly certificate?: Certificate;
};

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

const nearestAmong = (candidates: readonly Candidate[], question: TrimQuestion): number => {
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
): readonly Remark[] => {
  const { gauge } = question.problem.table;
  const { unit } = gauge;
  const rule = question.rule.says;
  const noShunt = whyNoGaugeShunt(question.options);
  const remarks = [...question.remarks];
  if (noShunt !== undefined) remarks.push(remark('GAUGE_SHUNT_LEFT_OUT', noShunt));
  if (noShunt === undefined && gauge.quantity === 'fuel') remarks.push(remark('TANK_SHUNTS_LEFT_OUT', {}));
  const half = dashHalfOf(question);
  if (half > 0 && question.options.dashShift === undefined)
    remarks.push(remark('DASH_ASSUMED', { half, unit }));
  if (withoutRule) remarks.push(remark('RULE_COSTS', { rule, worstError: withoutRule.worstError, unit }));
  if (!best.keepsRule) remarks.push(remark('RULE_NOT_KEPT', { rule, unit }));
  if (best.worstError > question.acceptableError)
    remarks.push(remark('SHAPE_NOT_MET', { worstError: best.worstError, unit }));
  if (gauge.plateaus.length > 0) remarks.push(remark('FLAT_ZONE', {}));
  return remarks;
};

const ruleOf = ({ says, limit, danger }: TrimQuestion['rule']): Trimmed['rule'] =>
  danger === undefined || danger.weight === 1 ? { says, limit } : { says, limit, danger };

const answer = (question: TrimQuestion, results: readonly FormResult[]): Trimmed | TrimRefused => {
  const { problem, rule, band } = question;
  const certificate = certificateOf(results, problem, {
    values: question.supply.searched,
    parts: question.parts,
  });
  const candidates = ranked(question, results);
  const best = candidates[0];
  if (!best) return refuse('TANK_CURRENT', {});
  const proof =
    best.worstError > question.acceptableError
      ? proofOfImpossible(problem, question.acceptableError)
      : undefined;
  const withoutRule = bestWithoutRule(question, best);
  const ifRuleCosts = withoutRule ? { withoutRule } : {};
  const offers = (): Offers => offersFor(question, limitFor(question), best.worstError);
  if (proof)
    return { ...proof, nearest: best, rule: ruleOf(rule), ...ifRuleCosts, offers: offers(), certificate };
  const nearest = nearestAmong(candidates, question);
  const bare = candidates.findIndex(({ topology }) => topology === 'none');
  const advice = adviceOn(question, candidates[nearest] ?? best, candidates[bare]);
  return {
    kind: 'trimmed',
    unit: problem.table.gauge.unit,
    band,
    rule: ruleOf(rule),
    candidates,
    advice,
    recommended: advice.kind === 'network' || bare < 0 ? nearest : bare,
    nearest,
    ...ifRuleCosts,
    ...(advice.kind === 'no-resistor-helps' ? { offers: offers() } : {}),
    certificate,
    remarks: remarksOn(question, best, withoutRule),
    heat: heatReport(question),
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
