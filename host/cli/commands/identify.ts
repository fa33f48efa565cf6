import { identifyGauge, identifySender, type Identification } from '../../core/identify';
import { gaugeResponse } from '../../core/curve';
import type { SenderResponse } from '../../core/response';
import { unitChange } from '../../core/units';
import { JSON_OPTION, type Command, type Report, type Surroundings } from '../command';
import { CATALOGUE_OPTIONS } from '../input/catalogue-place';
import { isSenderInput } from '../input/curve-kind';
import { identifyInCatalogue } from './identify-in-catalogue';
import { fitGaugeInput, readGaugeInput } from '../input/gauge-file';
import { loadedSender } from '../input/gauge-and-sender';
import { InputError, RefusedError, refusedError } from '../input-error';
import { readInput } from '../input/input-file';
import type { Arguments } from '../options';
import { readSenderInput } from '../input/sender-file';
import type { AnswerOf } from '../output/schemas';
import { significant, textTable } from '../output/text-table';

/** Which known curve a few measured points belong to. */
export const identifyCommand: Command = {
  name: 'identify',
  summary: 'which gauge or sender of the catalogue, or of files, a few measured points belong to',
  usage: 'READINGS.csv [--known FILE.csv,FILE.json,...] [options]',
  example: 'needlewright identify readings.csv',
  details: [
    'The points are readings of a gauge (resistance_ohm, reading) or points of a sender (temperature_C, resistance_ohm).',
    'They are compared with the catalogue, model by model, "none of these" among them. With --known they are compared',
    'with files of the same kind instead: CSV, or the JSON of "curve" or "sender". The answer ranks, says whether the',
    'points tell the curves apart, and where the next point would tell most.',
  ],
  options: {
    known: { kind: 'text', value: 'FILE,...', help: 'compare with these files instead of the catalogue' },
    'least-ohm': {
      kind: 'number',
      value: 'R',
      min: 0,
      max: 10_000,
      help: 'no lower resistance is advised; the lowest of the points when left out',
    },
    simulated: { kind: 'flag', help: 'compare with simulated cards too' },
    ...CATALOGUE_OPTIONS,
    ...JSON_OPTION,
  },
  words: { least: 1, most: 1 },
  run,
};

async function run(given: Arguments, surroundings: Surroundings): Promise<Report> {
  const path = given.words[0] ?? '-';
  const known = (given.text('known') ?? '')
    .split(',')
    .map((file) => file.trim())
    .filter((file) => file !== '');
  if (given.text('known') === undefined) return identifyInCatalogue(path, given, surroundings);
  if (known.length === 0) throw new InputError('--known names no file');
  const isSender = isSenderInput(await readInput(path, surroundings));
  const found = isSender
    ? await senderAmong(path, known, surroundings)
    : await gaugeAmong(path, known, surroundings);
  return { text: identifyText(found), json: identifyJson(found, isSender ? 'sender' : 'gauge') };
}

async function senderAmong(
  path: string,
  known: readonly string[],
  surroundings: Surroundings,
): Promise<Identification> {
  const { points, unit } = await readSenderInput(path, surroundings);
  const named: { readonly id: string; readonly response: SenderResponse }[] = [];
  for (const file of known) {
    const input = await readSenderInput(file, surroundings);
    const change = changeTo(unit, input);
    const changed = input.points.map((point) => ({
      ...point,
      value: change.factor * point.value + change.offset,
      valueUncertainty: point.valueUncertainty && change.factor * point.valueUncertainty,
    }));
    named.push({ id: file, response: loadedSender({ ...input, unit, points: changed }).response });
  }
  return accepted(identifySender(points, unit, named));
}

async function gaugeAmong(
  path: string,
  known: readonly string[],
  surroundings: Surroundings,
): Promise<Identification> {
  const { readings, unit } = await readGaugeInput(path, surroundings);
  const named: { readonly id: string; readonly response: ReturnType<typeof gaugeResponse> }[] = [];
  for (const file of known) {
    const input = await readGaugeInput(file, surroundings);
    const change = changeTo(unit, input);
    const changed = input.readings.map((one) => ({
      ...one,
      reading: change.factor * one.reading + change.offset,
      readingUncertainty: one.readingUncertainty && change.factor * one.readingUncertainty,
    }));
    named.push({
      id: file,
      // A dial speaks of its own unit: what was changed to another is fitted as plain readings.
      response: gaugeResponse(fitGaugeInput({ ...input, unit, readings: changed, reader: {} }, {})),
    });
  }
  return accepted(identifyGauge(readings, unit, named));
}

/** From the unit of a known curve to that of the points; a unit that one of the two does not say is taken to be the other's. */
function changeTo(
  unit: string,
  known: { readonly file: string; readonly unit: string },
): { readonly factor: number; readonly offset: number } {
  if (unit === '' || known.unit === '') return { factor: 1, offset: 0 };
  const change = unitChange(known.unit, unit);
  if (change.kind === 'unit-change') return change;
  throw new RefusedError(
    'IDENTIFY_UNIT',
    `${known.file} is in ${known.unit}, the points are in ${unit}: they measure different things`,
  );
}

function accepted(found: ReturnType<typeof identifyGauge>): Identification {
  if (found.kind === 'refused') throw refusedError(found);
  return found;
}

const VERDICTS = {
  clear: 'it is told apart clearly',
  open: 'several remain possible',
  none: 'none of them fits: even the best lies further off than its tolerance allows',
} as const;

function identifyText({ ranking, verdict, odds, next }: Identification): string[] {
  const [best, second] = ranking;
  const oddsText =
    odds === null || second === undefined ? '' : `, ${significant(odds, 2)} to 1 before ${second.id}`;
  return [
    `${best?.id ?? 'nothing'}: ${VERDICTS[verdict]}${oddsText}`,
    '',
    ...textTable(
      [
        { title: 'known curve', align: 'left' },
        { title: 'share %' },
        { title: 'chi squared' },
        { title: 'common shift' },
        { title: '', align: 'left' },
      ],
      ranking.map((row) => [
        row.id,
        (row.probability * 100).toFixed(1),
        significant(row.chiSquared, 3),
        significant(row.sharedShift, 2),
        row.isContradicted
          ? 'contradicted'
          : row.extrapolatedCount > 0
            ? `${row.extrapolatedCount} points beyond it`
            : '',
      ]),
    ),
    ...(next === null
      ? []
      : [
          '',
          `measure next at ${significant(next.argument, 3)}: the first expects ${significant(next.firstExpects, 3)}, the second ${significant(next.secondExpects, 3)}`,
        ]),
  ];
}

const identifyJson = (found: Identification, of: 'sender' | 'gauge'): AnswerOf<'identify'> => ({
  schema: 'needlewright/identify/1',
  kind: 'identification',
  of,
  verdict: found.verdict,
  odds: found.odds,
  ranking: found.ranking.map((row) => ({
    id: row.id,
    probability: row.probability,
    chi_squared: row.chiSquared,
    points: row.pointCount,
    contradicted: row.isContradicted,
    extrapolated_points: row.extrapolatedCount,
    shared_shift: row.sharedShift,
  })),
  next:
    found.next === null
      ? null
      : {
          at: found.next.argument,
          first_expects: found.next.firstExpects,
          second_expects: found.next.secondExpects,
          expected_gain: found.next.expectedGain,
        },
});
