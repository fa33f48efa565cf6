import type { GaugeResponse, SenderResponse } from '../response';
import type { Refused } from '../result';
import type { Candidate } from './candidate';
import { candidateOf } from './candidate';
import type { Certificate } from './certificate';
import { certificateOf } from './certificate';
import { proofOfImpossible } from './forbidden';
import { gaugeTable } from './gauge-table';
import { whyNoGaugeShunt } from './permitted';
import { compareFound } from './ranking';
import type { FormResult } from './search';
import { searchForm } from './search';
import type { Task } from './task';
import { taskOf } from './task';
import { networkOf } from './topology';
import type { TrimOptions } from './trim-options';
import { trimDefaults } from './trim-options';

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
export const searchAll = (task: Task, keep: number): readonly FormResult[] =>
  task.forms.map((form) => searchForm(task.problem, form, task.parts, keep));

const ranked = (task: Task, results: readonly FormResult[]): readonly Candidate[] =>
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
      candidateOf(task, networkOf(topology, found.partsOhm, task.parts.gaugeOhm)),
    );

/** A resistor across the gauge changes the gauge's own circuit: it counts as one part more. */
const effort = ({ topology, parts }: Candidate): number =>
  parts.length + (topology === 'gauge-shunt' ? 1 : 0);

const recommendedAmong = (candidates: readonly Candidate[], task: Task): number => {
  const best = candidates[0]!;
  const good = best.worstWeightedError + AS_GOOD_FRACTION * (task.band.to - task.band.from);
  const enough = candidates.filter(
    (candidate) => candidate.keepsRule === best.keepsRule && candidate.worstWeightedError <= good,
  );
  const least = Math.min(...enough.map(effort));
  return candidates.indexOf(enough.find((candidate) => effort(candidate) === least) ?? best);
};

/** The same question with the rule silent. */
const unruled = (task: Task): Task => ({
  ...task,
  problem: {
    ...task.problem,
    lowestError: task.problem.lowestError.map(() => -Infinity),
    highestError: task.problem.highestError.map(() => Infinity),
  },
});

/** An optimum whose errors are all within the rule's limit is also the optimum without the rule. */
const bestWithoutRule = (task: Task, best: Candidate): Candidate | undefined => {
  if (best.keepsRule && best.worstError <= task.rule.limit) return undefined;
  const found = ranked(task, searchAll(unruled(task), 1))[0];
  return found && found.worstWeightedError < best.worstWeightedError ? found : undefined;
};

const remarksOn = (task: Task, best: Candidate, withoutRule: Candidate | undefined): readonly string[] => {
  const { gauge } = task.problem.table;
  const noShunt = whyNoGaugeShunt(task.options);
  const remarks = [...task.remarks];
  if (noShunt !== undefined) remarks.push(`resistors across the gauge were left out: ${noShunt}`);
  if (noShunt === undefined && gauge.quantity === 'fuel')
    remarks.push(
      'resistors across the gauge that would let more current into the tank than before were left out',
    );
  if (withoutRule)
    remarks.push(
      `without the rule that the gauge ${task.rule.says} ${gauge.unit} the worst error would be ${withoutRule.worstError.toPrecision(3)} ${gauge.unit}`,
    );
  if (!best.keepsRule)
    remarks.push(`no network at all keeps the rule that the gauge ${task.rule.says} ${gauge.unit}`);
  if (best.worstError > task.acceptableError)
    remarks.push(
      `the best network still errs by ${best.worstError.toPrecision(3)} ${gauge.unit}: its ends can be met but not its shape; re-mark the dial or use another sender`,
    );
  if (gauge.plateaus.length > 0)
    remarks.push(
      'this gauge has a flat zone in which the needle does not move: no network can make it move there',
    );
  return remarks;
};

const answer = (task: Task, results: readonly FormResult[]): Trimmed | TrimRefused => {
  const { problem, rule, band } = task;
  const certificate = certificateOf(results, problem, { values: task.supply.says, parts: task.parts });
  const candidates = ranked(task, results);
  const best = candidates[0];
  if (!best)
    return {
      kind: 'refused',
      code: 'TANK_CURRENT',
      message:
        'every resistor across this fuel gauge would let more current into the tank than the original circuit could: use resistors around the sender, or another sender',
    };
  const proof =
    best.worstError > task.acceptableError ? proofOfImpossible(problem, task.acceptableError) : undefined;
  if (proof)
    return {
      ...proof,
      message: `${proof.message}; the nearest network searched errs by ${best.worstError.toPrecision(3)} ${problem.table.gauge.unit}`,
      nearest: best,
      certificate,
    };
  const withoutRule = bestWithoutRule(task, best);
  return {
    kind: 'trimmed',
    unit: problem.table.gauge.unit,
    band,
    rule: { says: rule.says, limit: rule.limit },
    candidates,
    recommended: recommendedAmong(candidates, task),
    ...(withoutRule ? { withoutRule } : {}),
    certificate,
    remarks: remarksOn(task, best, withoutRule),
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
  const task = taskOf(table, sender, options);
  if (task.kind === 'refused') return task;
  return answer(task, searchAll(task, options.perTopology ?? trimDefaults.perTopology));
};
