import type { SenderResponse } from '../../response';
import type { Refusal } from '../../refusal';
import { refuse } from '../../refusal';
import type { Remark } from '../../remark';
import { bandOf } from './band';
import type { NoHeat } from './heat-of-circuit';
import { heatFor } from './heat-of-circuit';
import type { GaugeTable } from './gauge-table';
import { senderInUnitOf } from './sender-in-unit';
import type { PartSupply } from './part-values';
import { partSupply } from './part-values';
import { formsFor, tankCurrentPermits } from './searched-forms';
import type { Problem } from './problem';
import { placeOf, problemOf } from './problem';
import type { SafetyRule } from './safety-rule';
import { DEFAULT_LIMIT_FRACTION, safetyRule } from './safety-rule';
import type { Form, Parts } from './search';
import type { TrimOptions } from './trim-options';
import { trimDefaults } from './trim-options';

/** Everything a search and its report need, made once from the curves and the options. */
export type TrimQuestion = {
  readonly problem: Problem;
  readonly sender: SenderResponse;
  readonly rule: SafetyRule;
  readonly supply: PartSupply;
  readonly parts: Parts;
  readonly forms: readonly Form[];
  readonly options: TrimOptions;
  readonly band: { readonly from: number; readonly to: number };
  readonly acceptableError: number;
  readonly remarks: readonly Remark[];
  /** Why the sender's own heat is not counted; absent where it is. */
  readonly noHeat?: NoHeat;
};

const isPositive = (value: number | undefined): boolean =>
  value === undefined || (value > 0 && value < Infinity);

/** Options that make no sense on their own. */
const optionRefusal = (options: TrimOptions): Refusal | undefined => {
  const wrongSupply = [options.supplyVolt, options.highestSupplyVolt].find((volt) => !isPositive(volt));
  if (wrongSupply !== undefined) return refuse('SUPPLY', { supplyVolt: wrongSupply });
  if (options.gaugeOhm !== undefined && !isPositive(options.gaugeOhm))
    return refuse('GAUGE_OHM', { gaugeOhm: options.gaugeOhm });
  if (options.ruleLimit !== undefined && !(options.ruleLimit >= 0))
    return refuse('RULE_LIMIT', { limit: options.ruleLimit });
  return undefined;
};

const partsFor = (options: TrimOptions, supply: PartSupply, table: GaugeTable, problem: Problem): Parts => {
  const { gaugeOhm } = options;
  if (gaugeOhm === undefined) return supply.parts;
  const inTank = tankCurrentPermits(table.gauge, Math.min(...problem.ohm), gaugeOhm);
  const leastAcrossOhm = problem.heat?.leastAcrossOhm ?? 0;
  const permits: Parts['permits'] = (form, partsOhm) =>
    inTank(form, partsOhm) && (form.topology !== 'gauge-shunt' || partsOhm[0]! >= leastAcrossOhm);
  return { ...supply.parts, gaugeOhm, permits };
};

/**
 * Puts a gauge, a sender and the options together.
 * Refuses: what heatFor, bandOf, problemOf, partSupply and senderInUnitOf refuse; SUPPLY, GAUGE_OHM, RULE_LIMIT; TOPOLOGY when
 * nothing is left to search.
 */
export const trimQuestionOf = (
  table: GaugeTable,
  given: SenderResponse,
  options: TrimOptions,
): ({ readonly kind: 'question' } & TrimQuestion) | Refusal => {
  const wrong = optionRefusal(options);
  if (wrong) return wrong;
  const inUnit = senderInUnitOf(table.gauge, given);
  if (inUnit.kind === 'refused') return inUnit;
  const { sender, remark } = inUnit;
  const band = bandOf(table.gauge, sender, options);
  if (band.kind === 'refused') return band;
  const width = band.to - band.from;
  const rule = safetyRule(
    table.gauge.quantity,
    band,
    options.ruleLimit ?? DEFAULT_LIMIT_FRACTION * width,
    options.dangerWeight,
  );
  const cold = problemOf(table, sender, { band, rule, weights: options.weights ?? [] });
  if (cold.kind === 'refused') return cold;
  const supply = partSupply(options);
  if (supply.kind === 'refused') return supply;
  const heat = heatFor(options, sender, {
    band,
    places: Array.from(cold.value, (_, index) => placeOf(cold, index)),
    values: supply.parts.values,
  });
  if (typeof heat !== 'string' && 'code' in heat) return heat;
  const problem = typeof heat === 'string' ? cold : { ...cold, heat };
  const forms = formsFor(options);
  if (forms.length === 0) return refuse('TOPOLOGY', {});
  return {
    kind: 'question',
    problem,
    sender,
    rule,
    supply,
    parts: partsFor(options, supply, table, problem),
    forms,
    options,
    band: { from: band.from, to: band.to },
    acceptableError: options.acceptableError ?? trimDefaults.acceptableFraction * width,
    remarks: remark === undefined ? [] : [remark],
    ...(typeof heat === 'string' ? { noHeat: heat } : {}),
  };
};
