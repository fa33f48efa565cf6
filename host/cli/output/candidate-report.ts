import { offScale } from '../../core/dial';
import type { GaugeResponse } from '../../core/response';
import type { Candidate, Certificate, Network } from '../../core/network';
import {
  assumedWords,
  circuitWords,
  needleWords,
  hiddenWords,
  offScaleWords,
  placeWords,
  searchedWords,
  surroundingsWords,
  wiringWords,
} from '../../words/network';
import { plain } from '../../words/notation';
import { saidRemark } from '../../words/remark';
import type { CandidateJson, CertificateJson } from './answers/network';
import { ohmText, signed, significant, textTable } from './text-table';

/** A candidate of a trim as the command contract names its fields. */
export const candidateJson = (candidate: Candidate, unit: string): CandidateJson => ({
  topology: candidate.topology,
  wiring: wiringWords[candidate.topology],
  parts: candidate.parts.map((part) => ({
    place: part.place,
    resistance_ohm: part.resistanceOhm,
    tolerance_percent: part.tolerancePercent,
    power_W_worst: part.powerWorstWatt,
    power_worst_when: circuitWords(part.powerWorstWhen, plain),
    rating_W: part.ratingWatt ?? null,
  })),
  worst_error: candidate.worstError,
  worst_at: candidate.worstAt,
  worst_error_anywhere: candidate.worstErrorAnywhere,
  worst_weighted_error: candidate.worstWeightedError,
  rms_error: candidate.rmsError,
  keeps_rule: candidate.keepsRule,
  error_table: candidate.errorTable.map(errorRowJson),
  failures: candidate.failures.map((failure) => ({
    place: failure.place,
    resistance_ohm: failure.resistanceOhm,
    fails: failure.fails,
    needle: failureWords(failure, unit),
    indicated_at_from: failure.indicatedAtFrom,
    indicated_at_to: failure.indicatedAtTo,
    danger: failure.danger,
    other_parts_W: failure.otherPartsWatt,
  })),
  tolerance: toleranceJson(candidate),
  replacement_senders: candidate.replacements.map((one) => ({
    change_percent: one.changePercent,
    worst_error: one.worstError,
    worst_at: one.worstAt,
    error_at_from: one.errorAtFrom,
    error_at_to: one.errorAtTo,
    keeps_rule: one.keepsRule,
  })),
  surroundings: candidate.surroundings.map((one) => ({
    says: surroundingsWords(one.with, plain),
    largest_shift: one.largestShift,
    largest_at: one.largestAt,
    worst_error: one.worstError,
  })),
  power_basis: {
    supply_V: candidate.powerBasis.supplyVolt,
    highest_supply_V: candidate.powerBasis.highestSupplyVolt,
    gauge_ohm: candidate.powerBasis.gaugeOhm,
    place: candidate.powerBasis.place,
    ambient_C: candidate.powerBasis.ambientCelsius,
    assumed: assumedWords(candidate.powerBasis, plain),
  },
  warnings: candidate.warnings.map((each) => saidRemark(each, plain)),
});

const errorRowJson = (row: Candidate['errorTable'][number]): CandidateJson['error_table'][number] => ({
  true_value: row.trueValue,
  sender_ohm: row.senderOhm,
  seen_ohm: row.seenOhm,
  indicated: row.indicated,
  error: row.error,
  expanded_uncertainty: row.expandedUncertainty,
  ...(row.heat === undefined
    ? {}
    : {
        sender_hot_by: row.heat.rise,
        indicated_if_most_heat: row.heat.indicatedIfMost,
        indicated_if_least_heat: row.heat.indicatedIfLeast,
      }),
});

/** "stays on the low stop, whatever the sender does: it hides overheating". */
const failureWords = ({ needle, hides }: Candidate['failures'][number], unit: string): string =>
  `${needleWords(needle, unit, plain)}${hides === undefined ? '' : `: it ${hiddenWords[hides]}`}`;

const toleranceJson = ({ tolerance: { rows, monteCarlo } }: Candidate): CandidateJson['tolerance'] => ({
  rows: rows.map((row) => ({
    true_value: row.trueValue,
    sender_share: row.senderShare,
    part_shares: row.partShares,
    u_from_parts: row.partsUncertainty,
  })),
  monte_carlo: {
    trials: monteCarlo.trials,
    seed: monteCarlo.seed,
    median_worst_error: monteCarlo.medianWorstError,
    worst_error_95_percent: monteCarlo.worstErrorOf95Percent,
    keeps_rule_fraction: monteCarlo.keepsRuleFraction,
    parts_standard_deviation: monteCarlo.partsStandardDeviation,
  },
});

/** `optimal` and `best_bound` are what the search always proves (it has no cut-off); programs read them by these names. */
export const certificateJson = (certificate: Certificate): CertificateJson => ({
  optimal: true,
  values_searched: searchedWords(certificate.values, plain),
  networks: certificate.combinations,
  evaluated: certificate.evaluated,
  best_score: certificate.bestScore,
  best_bound: certificate.bestScore,
  any_value_bound: certificate.anyValueBound,
  keeps_rule: certificate.keepsRule,
  samples: certificate.samples,
  topologies: certificate.topologies.map((one) => ({
    topology: one.topology,
    networks: one.combinations,
    evaluated: one.evaluated,
    best_score: one.bestScore ?? null,
  })),
});

export const partsText = ({ parts }: Pick<Network, 'parts'>): string =>
  parts.length === 0
    ? 'no resistors'
    : parts.map(({ place, resistanceOhm }) => `${ohmText(resistanceOhm)} ${placeWords[place]}`).join(', ');

/** What to buy: value, tolerance, power, rating. */
export const partsTable = ({ parts }: Candidate): string[] =>
  textTable(
    [
      { title: 'part', align: 'left' },
      { title: 'value' },
      { title: 'tolerance' },
      { title: 'worst power' },
      { title: 'buy' },
      { title: 'worst when', align: 'left' },
    ],
    parts.map((part) => [
      placeWords[part.place],
      ohmText(part.resistanceOhm),
      `${significant(part.tolerancePercent, 2)} %`,
      `${significant(part.powerWorstWatt, 2)} W`,
      part.ratingWatt === undefined ? 'none carries it' : `${part.ratingWatt} W`,
      circuitWords(part.powerWorstWhen, plain),
    ]),
  );

/** `marks`: of the dial where it is known; what is off it is told by its ends. */
export function errorTable(
  best: Candidate,
  bare: Candidate | undefined,
  { unit, marks = [] }: Pick<GaugeResponse, 'unit' | 'marks'>,
): string[] {
  return textTable(
    [
      { title: `true ${unit}` },
      { title: 'sender ohm' },
      { title: 'seen ohm' },
      { title: 'indicated' },
      { title: 'error' },
      { title: 'uncertainty (95 %)' },
      { title: bare === undefined ? '' : 'error without' },
    ],
    best.errorTable.map((row) => {
      const before = bare?.errorTable.find(({ trueValue }) => trueValue === row.trueValue);
      return [
        significant(row.trueValue),
        significant(row.senderOhm),
        significant(row.seenOhm),
        indicatedText(row.indicated, unit, marks),
        signed(row.error, 1),
        `\u00b1${row.expandedUncertainty.toFixed(1)}`,
        before === undefined ? '' : signed(before.error, 1),
      ];
    }),
  );
}

function indicatedText(reading: number, unit: string, marks: NonNullable<GaugeResponse['marks']>): string {
  const off = offScale(marks, reading);
  return off === undefined ? significant(reading) : offScaleWords(off, unit, plain);
}

export const failureTable = ({ failures }: Candidate, unit: string): string[] =>
  failures.length === 0
    ? []
    : textTable(
        [
          { title: 'if this part' },
          { title: 'goes', align: 'left' },
          { title: 'the needle', align: 'left' },
          { title: '', align: 'left' },
        ],
        failures.map((failure) => [
          `${ohmText(failure.resistanceOhm)} ${placeWords[failure.place]}`,
          failure.fails,
          failureWords(failure, unit),
          failure.danger ? 'DANGEROUS' : '',
        ]),
      );

export const candidateTable = (candidates: readonly Candidate[], unit: string): string[] =>
  textTable(
    [
      { title: 'candidate', align: 'left' },
      { title: 'parts', align: 'left' },
      { title: `worst ${unit}` },
      { title: `typical ${unit}` },
      { title: 'rule', align: 'left' },
    ],
    candidates.map((candidate) => [
      candidate.topology,
      partsText(candidate),
      significant(candidate.worstError, 3),
      significant(candidate.rmsError, 3),
      candidate.keepsRule ? 'kept' : 'not kept',
    ]),
  );

export const spreadText = ({ tolerance, replacements, surroundings }: Candidate, unit: string): string[] => [
  `with real parts, sender and gauge 95 % of such jobs stay within ${significant(tolerance.monteCarlo.worstErrorOf95Percent, 2)} ${unit} (${tolerance.monteCarlo.trials} simulated)`,
  ...replacements.map(
    ({ changePercent, worstError, worstAt }) =>
      `a replacement sender ${signed(changePercent, 0)} % off would err by ${significant(worstError, 2)} ${unit} at ${significant(worstAt, 3)} ${unit}`,
  ),
  ...surroundings.map(
    ({ with: other, largestShift }) =>
      `${surroundingsWords(other, plain)}: the needle moves by up to ${significant(largestShift, 2)} ${unit}`,
  ),
];

export const certificateText = (certificate: Certificate): string =>
  `searched ${searchedWords(certificate.values, plain)}: ${certificate.combinations} networks, ${certificate.evaluated} computed, the others proved no better`;
