import { trim, type Candidate, type Trimmed, type TrimRefused } from '../../core/network';
import {
  candidateJson,
  candidateTable,
  certificateJson,
  certificateText,
  errorTable,
  failureTable,
  partsTable,
  partsText,
  spreadText,
} from '../output/candidate-report';
import type { HeatJson, RuleJson } from '../output/answers/network';
import type { AnswerOf } from '../output/schemas';
import { offersJson, offersLine, offersText } from '../output/offers-report';
import { JSON_OPTION, type Command, type Report, type Surroundings } from '../command';
import { CURVE_FILE_OPTIONS, loadGauge, loadSender, required } from '../input/gauge-and-sender';
import { refusedError, type RefusedError } from '../input-error';
import { adviceWords, heatWords } from '../../words/at-work';
import { dangerWords, ruleWords, wiringWords } from '../../words/network';
import { plain } from '../../words/notation';
import { saidRemark } from '../../words/remark';
import type { GaugeResponse } from '../../core/response';
import type { Arguments } from '../options';
import { significant } from '../output/text-table';
import { TRIM_OPTIONS, trimOptions } from '../input/trim-options';

/** Searches the resistors that make a gauge tell the truth with a sender. */
export const trimCommand: Command = {
  name: 'trim',
  summary: 'the resistors that make a gauge tell the truth with a sender',
  usage: '--gauge CURVE --sender CURVE [options]',
  example: 'needlewright trim --gauge readings.csv --sender points.csv --from 60 --to 115 --max-parts 2',
  details: [
    'Every value of the series is searched: the certificate says how many networks there were, and that none is better',
    '("optimal" is true in every answer, for the search has no cut-off). Errors are indicated minus true, in the unit of',
    'the dial. Where a safety rule costs accuracy, "without_rule" is the network that would win without it.',
    'When a law of circuits forbids it, the exit code is 3.',
  ],
  options: { ...CURVE_FILE_OPTIONS, ...TRIM_OPTIONS, ...JSON_OPTION },
  words: { least: 0, most: 0 },
  run,
};

async function run(given: Arguments, surroundings: Surroundings): Promise<Report> {
  required(given, 'gauge');
  const sender = await loadSender(required(given, 'sender'), surroundings);
  const gauge = await loadGauge(given, surroundings, sender.sender.unit);
  const options = await trimOptions(given, surroundings, sender.dissipation);
  const result = trim(gauge.response, sender.response, options);
  if (result.kind === 'refused') throw refusal(result, gauge.response.unit);
  const best = result.candidates[result.recommended];
  const remarks = [...result.remarks, ...(best?.warnings ?? [])].map((each) => saidRemark(each, plain));
  const warnings = [...sender.warnings, ...gauge.warnings, ...remarks];
  return { text: trimText(result, gauge.response), json: trimJson(result, warnings), warnings };
}

/** Why no network can, and what comes nearest. */
export function refusal(refused: TrimRefused, unit: string): RefusedError {
  const { nearest, withoutRule, offers, certificate } = refused;
  const near =
    nearest === undefined
      ? ''
      : `The nearest network errs by ${plain.spread(nearest.worstError, unit)}: ${partsText(nearest)}. `;
  const would = offers === undefined ? '' : offersLine(offers, unit);
  return refusedError(refused, near + would, {
    ...(nearest === undefined ? {} : { nearest: candidateJson(nearest, unit) }),
    ...(withoutRule === undefined ? {} : { without_rule: candidateJson(withoutRule, unit) }),
    ...(offers === undefined ? {} : { offers: offersJson(offers) }),
    ...(certificate === undefined ? {} : { certificate: certificateJson(certificate) }),
  });
}

const trimJson = (result: Trimmed, warnings: readonly string[]): AnswerOf<'trim'> => ({
  schema: 'needlewright/trim/1',
  kind: 'trim',
  unit: result.unit,
  from: result.band.from,
  to: result.band.to,
  rule: ruleJson(result),
  advice: { ...result.advice, says: adviceWords(result.advice, result.unit, plain) },
  recommended: result.recommended,
  nearest: result.nearest,
  heat: heatJson(result),
  candidates: result.candidates.map((each) => candidateJson(each, result.unit)),
  without_rule: result.withoutRule === undefined ? null : candidateJson(result.withoutRule, result.unit),
  offers: result.offers === undefined ? null : offersJson(result.offers),
  certificate: certificateJson(result.certificate),
  warnings,
});

const ruleJson = ({ rule: { says, limit, danger }, unit }: Trimmed): RuleJson => ({
  says: ruleWords(says, unit, plain),
  limit,
  danger_weight: danger?.weight ?? 1,
  ...(danger === undefined ? {} : { danger_says: dangerWords(danger, unit, plain) }),
});

const MILLI = 1e3;

function heatJson({ heat, unit }: Trimmed): HeatJson {
  const says = heatWords(heat, unit, plain);
  if (heat.kind === 'not-counted') return { counted: false, because: heat.because, says };
  const { source, factor, at, rise, leastRise, mostRise, watt } = heat;
  return {
    counted: true,
    ...{ lead_V: source.volt, lead_ohm: source.ohm, basis: factor.basis },
    dissipation_mW_per_K: MILLI * factor.wattPerKelvin,
    lowest_mW_per_K: MILLI * factor.lowestWattPerKelvin,
    highest_mW_per_K: MILLI * factor.highestWattPerKelvin,
    // Without end is no number in JSON.
    ...{ at, rise, least_rise: leastRise, most_rise: mostRise === Infinity ? null : mostRise, power_W: watt },
    says,
  };
}

function trimText(result: Trimmed, gauge: GaugeResponse): string[] {
  const { unit, candidates } = result;
  const best = candidates[result.recommended];
  if (best === undefined) return ['nothing was found'];
  const bare = candidates.find(({ topology }) => topology === 'none');
  return [
    adviceWords(result.advice, unit, plain),
    heatWords(result.heat, unit, plain),
    '',
    ...headline(result, best, bare),
    '',
    ...(result.offers === undefined ? [] : [...offersText(result.offers, unit), '']),
    ...(best.parts.length === 0 ? [] : [...partsTable(best), '']),
    ...errorTable(best, bare, gauge),
    '',
    ...(best.parts.length === 0 ? [] : [...failureTable(best, unit), '']),
    ...spreadText(best, unit),
    '',
    ...candidateTable(candidates, unit),
    '',
    certificateText(result.certificate),
  ];
}

/** An offer, not the headline: what comes nearest where no network is recommended. */
function nearestText({ candidates, nearest, recommended, unit, advice }: Trimmed): string[] {
  const near = candidates[nearest];
  return near === undefined || nearest === recommended || advice.kind === 'fits-as-is'
    ? []
    : [`  the nearest network: ${partsText(near)}, worst error ${significant(near.worstError, 2)} ${unit}`];
}

function headline(result: Trimmed, best: Candidate, bare: Candidate | undefined): string[] {
  const { unit, rule, withoutRule } = result;
  const without =
    bare === undefined || bare === best ? '' : `; without it ${significant(bare.worstError, 2)} ${unit}`;
  return [
    `recommended: ${partsText(best)} (${best.topology})`,
    `  ${wiringWords[best.topology]}`,
    `  worst error ${significant(best.worstError, 2)} ${unit} at ${significant(best.worstAt)} ${unit}, typically ${significant(best.rmsError, 2)} ${unit}${without}`,
    `  the gauge ${ruleWords(rule.says, unit, plain)}: ${best.keepsRule ? 'kept' : 'NOT KEPT'}`,
    ...(rule.danger === undefined ? [] : [`  ${dangerWords(rule.danger, unit, plain)}`]),
    ...nearestText(result),
    ...(withoutRule === undefined
      ? []
      : [
          `  without that rule: ${partsText(withoutRule)}, worst error ${significant(withoutRule.worstError, 2)} ${unit}`,
        ]),
  ];
}
