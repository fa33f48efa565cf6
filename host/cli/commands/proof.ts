import { decisionRules } from '../../core/proof/decision';
import { judgePairs } from '../../core/proof/judge';
import { judgedProofJson } from '../output/proof-json';
import { judgedProofText } from '../output/proof-text';
import { JSON_OPTION, type Command, type Report, type Surroundings } from '../command';
import { coreUnitFromText } from '../input/gauge-file';
import { readPairs } from '../input/pair-file';
import { furtherOf, FURTHER_OPTIONS } from './proof-further';
import { DIVISION_OPTION, pairsFrom } from '../input/proof-pairs';
import { LIMIT_OPTION, limitsFrom, SCALE_OPTION, scaleFrom } from '../input/proof-limits';
import { REFERENCE_OPTIONS, referenceKindFrom } from '../input/reference-options';
import { refusedError } from '../input-error';
import type { Arguments } from '../options';
import { REFERENCE_TRAPS } from '../../words/reference';

const QUANTITIES = ['temperature', 'fuel', 'pressure', 'other'] as const;

/** Pairs of a reference and the needle, against a limit, by a rule. */
export const proofCommand: Command = {
  name: 'proof',
  summary: 'whether readings in the vehicle prove that the needle is right',
  usage: 'PAIRS.csv --scale LOW,HIGH [options]',
  example: 'needlewright proof pairs.csv --scale 40,120 --limit -2,+4 --reference flow-probe',
  details: [
    'In: reading (or reading_C, reading_psi ...) and what is true: temperature_C, pressure_kPa, level_percent or value.',
    'Optionally leg (up or down), made (run, or substituted: known ohms in the sender\u2019s place), second (when it was',
    'read), u_temperature or u_value (of the reference) and u_reading: standard uncertainties.',
    'Out: the verdict by the rule, with error, uncertainty and chance of each pair, and what the proof still wants.',
    'With --gauge and --sender: what the pairs say of the sender, and whether other resistors are worth it. A season',
    'later --as-left compares: as left, or has moved.',
    'Nobody overheats an engine, runs a tank dry or lowers an oil pressure for a pair: that end is substituted.',
  ],
  options: {
    ...SCALE_OPTION,
    ...LIMIT_OPTION,
    rule: { kind: 'choice', choices: decisionRules, help: 'how the verdict is found; guard when left out' },
    ...DIVISION_OPTION,
    type: { kind: 'choice', choices: QUANTITIES, help: 'what the dial shows, when its unit does not say it' },
    unit: { kind: 'text', value: 'UNIT', help: 'unit of the dial when no column says it' },
    ...REFERENCE_OPTIONS,
    ...FURTHER_OPTIONS,
    ...JSON_OPTION,
  },
  words: { least: 1, most: 1 },
  run,
};

async function run(given: Arguments, surroundings: Surroundings): Promise<Report> {
  const file = await readPairs(given.words[0] ?? '-', surroundings);
  const unit = file.unit === '' ? coreUnitFromText(given.text('unit') ?? '') : file.unit;
  const scale = scaleFrom(given, unit);
  const limits = limitsFrom(given, unit);
  const rule = decisionRules.find((name) => name === given.text('rule')) ?? 'guard';
  const pairs = pairsFrom(given, file, { ...scale, unit });
  const proof = judgePairs(pairs, { scale, rule, limits });
  if (proof.kind === 'refused') throw refusedError(proof, `${file.file}: `);
  const asked = { pairs, unit, scale };
  const further = await furtherOf(given, surroundings, asked);
  const trap = REFERENCE_TRAPS[referenceKindFrom(given)];
  const warnings = [...file.warnings, ...further.warnings];
  return {
    text: [...judgedProofText(proof, asked), ...further.text, '', `Before it is believed: ${trap}`],
    json: { ...judgedProofJson(proof, { pairs, unit, warnings }), ...further.json },
    warnings,
  };
}
