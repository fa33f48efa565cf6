import type { Refused } from '../../core/result';
import { senderOhmAt, senderResponse, senderValueAt, type FittedSender } from '../../core/sender';
import { JSON_OPTION, type Command, type Report, type Surroundings } from '../command';
import { RefusedError, refusedError } from '../input-error';
import { inPlaceFrom, LEAD_OPTIONS } from '../input/at-work-options';
import type { Arguments } from '../options';
import { fitSenderInput, readSenderInput, type SenderInput } from '../input/sender-file';
import { inPlaceJson, inPlaceText } from '../output/in-place-report';
import type { SenderTableRow } from '../output/answers/sender';
import { betaText } from '../output/beta-text';
import type { AnswerOf } from '../output/schemas';
import { ohmText, signed, significant, textTable } from '../output/text-table';
import { plain } from '../../words/notation';
import { withSentence } from '../../words/refusal';
import { saidRemark } from '../../words/remark';
import { reasonWords } from '../../words/remark/sender';

const MODELS = ['steinhart-hart', 'beta', 'exponential', 'linear', 'polynomial', 'table'] as const;

/** Fits a sender's curve to measured points. */
export const senderCommand: Command = {
  name: 'sender',
  summary: 'the curve of a sender from measured points',
  usage: 'POINTS.csv [options]',
  example: 'needlewright sender points.csv --at 40,80,110',
  details: [
    'In: temperature_C (or temperature_F, pressure_kPa, psi, bar, level_percent) and resistance_ohm;',
    'optionally u_temperature_C (or u_value) and u_resistance_ohm, the standard uncertainties.',
    '--at and --ohm add rows of the table: resistance at a value, value at a resistance.',
    '--working-current finds what the sender sheds in its place, from volts on its lead (sender_V, and open_V where the',
    'feed is not steady). Engine idling: column when, "cold" just after the lead is put on and "warm" a minute later, off',
    'a minute between, three times. Engine off, ignition on: column second, from 0 to 300; that is a lower bound.',
  ],
  options: {
    model: { kind: 'choice', choices: MODELS, help: 'only this law; chosen by the points when left out' },
    at: { kind: 'numbers', value: 'VALUE,...', help: 'resistance at these values (in the unit of the file)' },
    ohm: { kind: 'numbers', value: 'OHM,...', min: 0, help: 'value at these resistances' },
    'working-current': {
      kind: 'text',
      value: 'FILE',
      help: 'CSV of volts on the sender lead at working current',
    },
    'supply-V': { kind: 'number', value: 'V', min: 1, max: 60, help: 'feed of a gauge with two terminals' },
    'gauge-ohm': {
      kind: 'number',
      value: 'R',
      min: 0.1,
      max: 100_000,
      help: 'resistance of a gauge with two terminals',
    },
    ...LEAD_OPTIONS,
    ...JSON_OPTION,
  },
  words: { least: 1, most: 1 },
  run,
};

async function run(given: Arguments, surroundings: Surroundings): Promise<Report> {
  const input = await readSenderInput(given.words[0] ?? '-', surroundings);
  const sender = fitSenderInput(
    input,
    MODELS.find((name) => name === given.text('model')),
  );
  const response = senderResponse(sender);
  if ('kind' in response) throw refusedError(response, `${input.file}: `);
  const inPlace = await inPlaceFrom(given, surroundings, response);
  const asked = [
    ...(given.numbers('at') ?? []).map((value) => rowAtValue(sender, value)),
    ...(given.numbers('ohm') ?? []).map((ohm) => rowAtOhm(sender, ohm)),
  ];
  const table = asked.flatMap((row) => (row.kind === 'row' ? row : []));
  const unanswered = asked.flatMap((row) => (row.kind === 'refused' ? row : []));
  // One value beyond the range loses none of the others; with nothing answered the request was impossible.
  const [first] = unanswered;
  if (first !== undefined && table.length === 0) throw new RefusedError(first.code, first.message);
  const warnings = [
    ...input.warnings,
    ...sender.warnings.map((each) => saidRemark(each, plain)),
    ...extrapolationWarnings(sender, table),
    ...unanswered.map(({ message }) => `not answered: ${message}`),
  ];
  return {
    text: [
      ...senderText(sender, table),
      ...(inPlace === undefined ? [] : ['', ...inPlaceText(inPlace, sender.unit)]),
    ],
    json: {
      ...senderJson(sender, input, table),
      ...(inPlace === undefined ? {} : { working_current: inPlaceJson(inPlace) }),
      unanswered: unanswered.map(({ code, message }) => ({ code, message })),
      warnings,
    },
    warnings,
  };
}

function extrapolationWarnings(sender: FittedSender, table: readonly SenderTableRow[]): string[] {
  const beyond = table
    .filter((row) => row.extrapolated)
    .map((row) => `${significant(row.value)} ${sender.unit}`);
  if (beyond.length === 0) return [];
  const known = `${significant(sender.knownFrom)} to ${significant(sender.knownTo)} ${sender.unit}`;
  return [`${beyond.join(', ')}: extrapolated, the points reach from ${known}`];
}

function rowAtValue(sender: FittedSender, value: number): SenderTableRow | Refused {
  const found = senderOhmAt(sender, value);
  if (found.kind === 'refused') return withSentence(found, plain, `--at ${value}: `);
  return {
    kind: 'row',
    value,
    resistance_ohm: found.resistanceOhm,
    from: 'value',
    expanded_uncertainty: found.expandedUncertaintyOhm,
    expanded_uncertainty_unit: 'ohm',
    coverage_factor: found.coverageFactor,
    extrapolated: found.isExtrapolated,
  };
}

function rowAtOhm(sender: FittedSender, resistanceOhm: number): SenderTableRow | Refused {
  const found = senderValueAt(sender, resistanceOhm);
  if (found.kind === 'refused') return withSentence(found, plain, `--ohm ${resistanceOhm}: `);
  return {
    kind: 'row',
    value: found.value,
    resistance_ohm: resistanceOhm,
    from: 'resistance',
    expanded_uncertainty: found.expandedUncertainty,
    expanded_uncertainty_unit: sender.unit,
    coverage_factor: found.coverageFactor,
    extrapolated: found.isExtrapolated,
  };
}

function senderJson(
  sender: FittedSender,
  input: SenderInput,
  table: readonly SenderTableRow[],
): Omit<AnswerOf<'sender'>, 'working_current' | 'unanswered' | 'warnings'> {
  const residual = (point: FittedSender['points'][number]) => ({
    value: point.value,
    resistance_ohm: point.resistanceOhm,
    residual: point.residualValue,
    residual_ohm: point.residualOhm,
  });
  return {
    schema: 'needlewright/sender/1',
    kind: 'sender',
    quantity: sender.quantity,
    unit: sender.unit,
    model: sender.model,
    model_reason: reasonWords(sender.reason, sender.model, plain),
    coefficients: sender.coefficients.map(({ name, unit, value, standardUncertainty }) => ({
      name,
      value,
      unit,
      standard_uncertainty: standardUncertainty,
    })),
    residuals: sender.points.map(residual),
    residual_sum_of_squares: sender.residualSumOfSquares,
    residual_standard_deviation: sender.residualStandardDeviation,
    residual_unit: sender.residualUnit,
    degrees_of_freedom: sender.degreesOfFreedom,
    uncertainty_basis: sender.uncertaintyBasis,
    beta_25_85_K: sender.beta2585Kelvin,
    pairwise_beta: sender.pairwiseBetas.map((pair) => ({
      from_C: pair.fromCelsius,
      to_C: pair.toCelsius,
      beta_K: pair.betaKelvin,
      standard_uncertainty_K: pair.standardUncertaintyKelvin,
      plausible: pair.isPlausible,
    })),
    known_from: sender.knownFrom,
    known_to: sender.knownTo,
    usable_from: sender.usableFrom,
    usable_to: sender.usableTo,
    points: input.points.map((point) => ({
      value: point.value,
      resistance_ohm: point.resistanceOhm,
      u_value: point.valueUncertainty,
      u_resistance_ohm: point.resistanceUncertaintyOhm,
    })),
    table,
  };
}

function senderText(sender: FittedSender, table: readonly SenderTableRow[]): string[] {
  const { unit } = sender;
  const range = `${significant(sender.knownFrom)} to ${significant(sender.knownTo)} ${unit}`;
  const beta = sender.beta2585Kelvin === null ? '' : `, B25/85 ${Math.round(sender.beta2585Kelvin)} K`;
  return [
    `sender: ${sender.model} through ${sender.points.length} points, ${range}${beta}`,
    `  ${reasonWords(sender.reason, sender.model, plain)}`,
    '',
    ...textTable(
      [
        { title: 'coefficient', align: 'left' },
        { title: 'value' },
        { title: 'std uncertainty' },
        { title: 'unit', align: 'left' },
      ],
      sender.coefficients.map(({ name, value, standardUncertainty, unit: of }) => [
        name,
        value.toPrecision(7),
        standardUncertainty === null ? 'not known' : standardUncertainty.toPrecision(2),
        of,
      ]),
    ),
    '',
    ...textTable(
      [
        { title: `value ${unit}` },
        { title: 'ohm' },
        { title: `residual ${unit}` },
        { title: 'residual ohm' },
      ],
      sender.points.map((point) => [
        significant(point.value),
        significant(point.resistanceOhm),
        signed(point.residualValue, 2),
        signed(point.residualOhm, 2),
      ]),
    ),
    ...betaText(sender),
    ...(table.length === 0 ? [] : ['', ...lookupText(unit, table)]),
  ];
}

const lookupText = (unit: string, table: readonly SenderTableRow[]): string[] =>
  textTable(
    [
      { title: `value ${unit}` },
      { title: 'resistance' },
      { title: 'uncertainty (95 %)' },
      { title: '', align: 'left' },
    ],
    table.map((row) => [
      significant(row.value),
      ohmText(row.resistance_ohm),
      `${significant(row.expanded_uncertainty, 2)} ${row.expanded_uncertainty_unit}`,
      row.extrapolated ? 'extrapolated' : '',
    ]),
  );
