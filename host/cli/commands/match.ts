import { refuse } from '../../core/refusal';
import type { GaugeResponse } from '../../core/response';
import { sendersMeasuring } from '../../store/catalogue';
import { matchSenders, type Match, type Matched } from '../../core/network';
import { partsText } from '../output/candidate-report';
import { JSON_OPTION, type Command, type Report, type Surroundings } from '../command';
import {
  CURVE_FILE_OPTIONS,
  loadGauge,
  loadedSender,
  loadSender,
  required,
  type LoadedSender,
} from '../input/gauge-and-sender';
import { CATALOGUE_OPTIONS, withCatalogue } from '../input/catalogue-place';
import { senderFromCard } from '../input/sender-file';
import { RefusedError, refusedError } from '../input-error';
import { heatWords } from '../../words/at-work';
import { plain } from '../../words/notation';
import { saidRefusal } from '../../words/refusal';
import type { Arguments } from '../options';
import type { AnswerOf } from '../output/schemas';
import { significant, textTable } from '../output/text-table';
import { SEARCH_OPTIONS, trimOptions } from '../input/trim-options';

/** Ranks many senders against one gauge, each as it is and with its best network. */
export const matchCommand: Command = {
  name: 'match',
  summary: 'which of many senders suits a gauge best, with and without resistors',
  usage: '--gauge CURVE [SENDER ...] [options]',
  example: 'needlewright match --gauge readings.csv new.csv old.csv --max-parts 1',
  details: [
    'Each sender is a points CSV, the JSON of "sender" or a card of the catalogue; with none named, every sender of the',
    'catalogue that measures what the gauge shows, the newest card of each model. Best first, by the worst weighted error',
    'with the resistors that help it most; a network that keeps the safety rule comes before one that does not.',
  ],
  options: {
    gauge: CURVE_FILE_OPTIONS.gauge,
    'gauge-unit': CURVE_FILE_OPTIONS['gauge-unit'],
    type: CURVE_FILE_OPTIONS.type,
    ...SEARCH_OPTIONS,
    'max-parts': {
      ...SEARCH_OPTIONS['max-parts'],
      help: 'at most this many resistors; 2 when left out',
    },
    simulated: { kind: 'flag', help: 'simulated cards of the catalogue too' },
    ...CATALOGUE_OPTIONS,
    ...JSON_OPTION,
  },
  words: { least: 0, most: 10_000 },
  run,
};

type Named = { readonly file: string; readonly loaded: LoadedSender };

async function run(given: Arguments, surroundings: Surroundings): Promise<Report> {
  required(given, 'gauge');
  const named = given.words.length > 0;
  const first = named ? await loadSenders(given.words, surroundings) : NO_SENDERS;
  const gauge = await loadGauge(given, surroundings, first.senders[0]?.loaded.sender.unit ?? '');
  const { senders, unfit } = named ? first : await sendersOfCatalogue(gauge.response, given, surroundings);
  const options = await trimOptions(given, surroundings);
  const result = matchSenders(
    gauge.response,
    senders.map(({ loaded }) => loaded.response),
    options,
  );
  if (result.kind === 'refused') throw refusedError(result);
  const warnings = [...gauge.warnings, ...senders.flatMap(({ loaded }) => loaded.warnings)];
  const { unit } = gauge.response;
  const unusable = [
    ...unfit,
    ...result.unusable.map(({ sender, reason }) => ({
      sender: fileOf(senders, sender),
      code: reason.code,
      message: saidRefusal(reason, plain),
    })),
  ];
  return {
    text: [
      ...matchText(result, senders, unit),
      ...unusable.map(({ sender, message }) => `${sender} cannot be used: ${message}`),
    ],
    json: matchJson(result, senders, { unit, unusable, warnings }),
    warnings,
  };
}

type Unusable = { readonly sender: string; readonly code: string; readonly message: string };

/** One file that no law fits does not stop the others from being ranked; bad input does. Refuses when nothing is left. */
async function loadSenders(
  files: readonly string[],
  surroundings: Surroundings,
): Promise<{ readonly senders: readonly Named[]; readonly unfit: readonly Unusable[] }> {
  const senders: Named[] = [];
  const unfit: Unusable[] = [];
  for (const file of files) {
    try {
      senders.push({ file, loaded: await loadSender(file, surroundings) });
    } catch (error) {
      if (!(error instanceof RefusedError) || files.length === unfit.length + 1) throw error;
      unfit.push({ sender: file, code: error.code, message: error.message });
    }
  }
  return { senders, unfit };
}

const NO_SENDERS = { senders: [], unfit: [] };

/** Every sender of the catalogue that measures what the gauge shows. Refuses IDENTIFY_NO_CURVES where there is none. */
async function sendersOfCatalogue(
  gauge: GaugeResponse,
  given: Arguments,
  surroundings: Surroundings,
): ReturnType<typeof loadSenders> {
  const cards = await withCatalogue(given, surroundings, (catalogue) =>
    sendersMeasuring(catalogue, gauge, given.flag('simulated')),
  );
  if (cards.length === 0) throw refusedError(refuse('IDENTIFY_NO_CURVES', {}));
  const senders: Named[] = [];
  const unfit: Unusable[] = [];
  for (const { name, card } of cards) {
    try {
      senders.push({ file: name, loaded: loadedSender(senderFromCard(name, card)) });
    } catch (error) {
      if (!(error instanceof RefusedError) || cards.length === unfit.length + 1) throw error;
      unfit.push({ sender: name, code: error.code, message: error.message });
    }
  }
  return { senders, unfit };
}

const fileOf = (senders: readonly Named[], index: number): string => senders[index]?.file ?? '';

const matchText = (result: Matched, senders: readonly Named[], unit: string): string[] => [
  ...textTable(
    [
      { title: 'sender', align: 'left' },
      { title: `alone ${unit}` },
      { title: `trimmed ${unit}` },
      { title: 'with', align: 'left' },
      { title: 'rule', align: 'left' },
    ],
    result.matches.map((match) => [
      fileOf(senders, match.sender),
      significant(match.withoutNetwork, 3),
      significant(match.withNetwork, 3),
      partsText(match.network),
      ruleCell(match),
    ]),
  ),
  ...heatText(result.matches, senders, unit),
];

/** A network that errs more than none is offered for one reason: without it the safety rule is broken. */
const ruleCell = ({ keepsRule, withNetwork, withoutNetwork }: Match): string => {
  if (!keepsRule) return 'not kept';
  return withNetwork > withoutNetwork ? 'kept, and broken without the network' : 'kept';
};

/** What was taken for the heat of each sender; once where all have the same to say. */
function heatText(matches: readonly Match[], senders: readonly Named[], unit: string): string[] {
  const said = matches.map((match) => ({
    file: fileOf(senders, match.sender),
    words: heatWords(match.heat, unit, plain),
  }));
  const different = new Set(said.map(({ words }) => words));
  return different.size === 1 ? [...different] : said.map(({ file, words }) => `${file}: ${words}`);
}

const matchJson = (
  result: Matched,
  senders: readonly Named[],
  extra: {
    readonly unit: string;
    readonly unusable: readonly Unusable[];
    readonly warnings: readonly string[];
  },
): AnswerOf<'match'> => ({
  schema: 'needlewright/match/1',
  kind: 'match',
  unit: extra.unit,
  senders: result.matches.map((match) => rowJson(match, senders, extra.unit)),
  unusable: extra.unusable.map(({ sender, code, message }) => ({ sender, refused: { code, message } })),
  warnings: extra.warnings,
});

const rowJson = (
  match: Match,
  senders: readonly Named[],
  unit: string,
): AnswerOf<'match'>['senders'][number] => ({
  sender: fileOf(senders, match.sender),
  model: senders[match.sender]?.loaded.sender.model ?? '',
  worst_error_alone: match.withoutNetwork,
  worst_error: match.withNetwork,
  topology: match.network.topology,
  parts: match.network.parts.map(({ place, resistanceOhm }) => ({ place, resistance_ohm: resistanceOhm })),
  keeps_rule: match.keepsRule,
  heat: { counted: match.heat.kind === 'counted', says: heatWords(match.heat, unit, plain) },
});
