import { testChain, type ChainFinding } from '../../core/proof/chain';
import { unitChange } from '../../core/units';
import { CAUSE_UNITS, CHAIN_AGREES, FAULT_REMAINS, mismatchWords, PARTING_WORDS } from '../../words/mismatch';
import { plain } from '../../words/notation';
import { JSON_OPTION, type Command, type Report, type Surroundings } from '../command';
import { CHAIN_OPTIONS, loadChain } from '../input/chain-options';
import { readPairs, type PairFile } from '../input/pair-file';
import { DIVISION_OPTION, pairsFrom } from '../input/proof-pairs';
import { REFERENCE_OPTIONS } from '../input/reference-options';
import { InputError, refusedError } from '../input-error';
import type { Arguments } from '../options';
import type { AnswerOf } from '../output/schemas';
import { signed, textTable } from '../output/text-table';

/** Whether the vehicle shows what the curves of its gauge and its sender say together. */
export const chainCommand: Command = {
  name: 'chain',
  summary: 'whether gauge, wire and sender together show what their curves say',
  usage: 'PAIRS.csv --gauge CURVE --sender CURVE [options]',
  example: 'needlewright chain pairs.csv --gauge readings.csv --sender points.csv',
  details: [
    'In: pairs as for "proof", read before anything is fitted: a night\u2019s soak is one for nothing.',
    'Out: what the curves foretell for each pair, and E_n, the difference over both uncertainties. Over 1 a fault',
    'remains, and a resistor would hide it: what it could mean is ranked, and what to read next to part the first two.',
  ],
  options: { ...CHAIN_OPTIONS, ...DIVISION_OPTION, ...REFERENCE_OPTIONS, ...JSON_OPTION },
  words: { least: 1, most: 1 },
  run,
};

async function run(given: Arguments, surroundings: Surroundings): Promise<Report> {
  const { chain, unit, warnings } = await loadChain(given, surroundings);
  const file = inUnit(await readPairs(given.words[0] ?? '-', surroundings), unit);
  const { quantity, lowestReading: lowest, highestReading: highest } = chain.gauge;
  const finding = testChain(chain, pairsFrom(given, file, { quantity, lowest, highest, unit }));
  if (finding.kind === 'refused') throw refusedError(finding, `${file.file}: `);
  const all = [...warnings, ...file.warnings];
  return { text: textOf(finding, unit), json: jsonOf(finding, unit, all), warnings: all };
}

/** Pairs in the unit of the dial; without one they are in it. Throws InputError for another quantity. */
function inUnit(file: PairFile, unit: string): PairFile {
  if (file.unit === '' || file.unit === unit) return file;
  const change = unitChange(file.unit, unit);
  if (change.kind === 'refused')
    throw new InputError(`the pairs are in ${file.unit}, the dial in ${unit}`, { file: file.file });
  const { factor, offset } = change;
  const spread = (size: number | undefined): number | undefined =>
    size === undefined ? undefined : Math.abs(factor) * size;
  return {
    ...file,
    unit,
    rows: file.rows.map((row) => ({
      ...row,
      value: factor * row.value + offset,
      indicated: factor * row.indicated + offset,
      valueUncertainty: spread(row.valueUncertainty),
      readingUncertainty: spread(row.readingUncertainty),
    })),
  };
}

const textOf = (finding: ChainFinding, unit: string): string[] => [
  finding.faultRemains ? FAULT_REMAINS : CHAIN_AGREES,
  '',
  ...textTable(
    [
      { title: `true ${unit}` },
      { title: 'sender ohm' },
      { title: 'foretold' },
      { title: 'needle' },
      { title: 'differs' },
      { title: 'E_n' },
    ],
    finding.pairs.map((pair) => [
      plain.number(pair.value),
      plain.number(pair.senderOhm),
      pair.predicted.toFixed(1),
      plain.number(pair.indicated),
      signed(pair.indicated - pair.predicted, 1),
      pair.score.toFixed(2),
    ]),
  ),
  ...meaningText(finding, unit),
];

const meaningText = ({ faultRemains, mismatch }: ChainFinding, unit: string): string[] =>
  faultRemains
    ? [
        '',
        'It could mean, likeliest first (a ranking, no finding):',
        ...mismatch.ranked.map((each) => `  ${mismatchWords(each, unit, plain)}`),
        ...(mismatch.ranked.length === 0
          ? ['  nothing that one or two of the usual faults would explain']
          : []),
        ...(mismatch.tellsApart === undefined ? [] : [`Read next: ${PARTING_WORDS[mismatch.tellsApart]}.`]),
      ]
    : [];

const jsonOf = (
  { pairs, faultRemains, worstScore, mismatch }: ChainFinding,
  unit: string,
  warnings: readonly string[],
): AnswerOf<'chain'> => ({
  schema: 'needlewright/chain/1',
  kind: 'chain',
  unit,
  fault_remains: faultRemains,
  worst_score: worstScore,
  pairs: pairs.map((pair) => ({
    value: pair.value,
    indicated: pair.indicated,
    predicted: pair.predicted,
    sender_ohm: pair.senderOhm,
    expanded_uncertainty_seen: pair.seenExpanded,
    expanded_uncertainty_predicted: pair.predictedExpanded,
    score: pair.score,
  })),
  could_mean: mismatch.ranked.map(({ causes, sizes, share, alike }) => ({
    causes: causes.map((cause, index) => {
      const size_unit = CAUSE_UNITS[cause];
      return { cause, size: sizes[index] ?? 0, size_unit: size_unit === 'dial' ? unit : size_unit };
    }),
    share,
    alike: [...alike],
  })),
  read_next: mismatch.tellsApart ?? null,
  warnings: [...warnings],
});
