import { driftOf } from '../../core/proof/drift';
import type { Pair } from '../../core/proof/judge';
import type { Scale } from '../../core/proof/limits';
import { BOOK_CURVE, OWN_CURVE, reEstimate, type ReEstimate } from '../../core/proof/re-estimate';
import { reTrim, type ReTrim } from '../../core/proof/re-trim';
import { partsText } from '../output/candidate-report';
import type { AnswerOf } from '../output/schemas';
import type { Surroundings } from '../command';
import { CHAIN_OPTIONS, loadChain } from '../input/chain-options';
import { InputError } from '../input-error';
import { readPairs } from '../input/pair-file';
import { pairsFrom } from '../input/proof-pairs';
import type { Arguments, OptionTable } from '../options';
import { plain } from '../../words/notation';

const { type, ...chainOptions } = CHAIN_OPTIONS;

/** What else pairs tell: of the sender in the vehicle, and of a season since. */
export const FURTHER_OPTIONS = {
  ...chainOptions,
  'own-curve': {
    kind: 'flag',
    help: 'the curve of --sender was measured on this very part; a book\u2019s when left out',
  },
  'as-left': {
    kind: 'text',
    value: 'PAIRS.csv',
    help: 'pairs of the proof as it was left: whether the needle has moved since',
  },
} as const satisfies OptionTable;

export type Asked = { readonly pairs: readonly Pair[]; readonly scale: Scale; readonly unit: string };

type Further = {
  readonly text: readonly string[];
  readonly json: Pick<AnswerOf<'proof'>, 're_estimate' | 'drift'>;
  readonly warnings: readonly string[];
};

/** What was asked beside the verdict. Throws InputError, RefusedError. */
export async function furtherOf(
  given: Arguments,
  surroundings: Surroundings,
  asked: Asked,
): Promise<Further> {
  const [sender, drift] = [
    await senderOf(given, surroundings, asked),
    await sinceOf(given, surroundings, asked),
  ];
  return {
    text: [...sender.text, ...drift.text],
    json: { ...sender.json, ...drift.json },
    warnings: [...sender.warnings, ...drift.warnings],
  };
}

const NOTHING: Further = { text: [], json: {}, warnings: [] };

async function senderOf(
  given: Arguments,
  surroundings: Surroundings,
  { pairs, unit }: Asked,
): Promise<Further> {
  if (given.text('gauge') === undefined && given.text('sender') === undefined) return NOTHING;
  const loaded = await loadChain(given, surroundings);
  if (loaded.unit !== unit)
    throw new InputError(
      `the pairs are in ${unit === '' ? 'no unit' : unit}, the dial of --gauge in ${loaded.unit}`,
    );
  const run = pairs.filter(({ way }) => way === 'run');
  const prior = given.flag('own-curve') ? OWN_CURVE : BOOK_CURVE;
  const estimate = run.length === 0 ? undefined : reEstimate(loaded.chain, run, prior);
  if (estimate === undefined)
    return {
      ...NOTHING,
      text: ['', 'No pair was run: nothing is known of the sender in the vehicle.'],
      warnings: loaded.warnings,
    };
  const { sender } = loaded.chain;
  const band = { from: sender.knownFrom, to: sender.knownTo };
  const { source, dissipation } = loaded.chain.heat ?? {};
  const options = {
    ...(source === undefined ? {} : { lead: source }),
    ...(dissipation === undefined ? {} : { dissipation }),
    terminals: loaded.chain.terminals,
  };
  const offer = reTrim(loaded.chain, estimate, band, { options });
  const places = [0, 0.25, 0.5, 0.75, 1].map((part) => band.from + part * (band.to - band.from));
  return {
    text: ['', ...estimateText(estimate, places, unit), ...offerText(offer, unit)],
    json: { re_estimate: estimateJson(estimate, places, offer) },
    warnings: loaded.warnings,
  };
}

const COVERAGE_FACTOR = 2;
const percent = (part: number): string => `${(100 * (Math.exp(part) - 1)).toFixed(1)} %`;

const estimateText = (estimate: ReEstimate, places: readonly number[], unit: string): string[] => [
  `By these pairs the sender has ${percent(estimate.logOhm)} of its curve's ohms more or less, and the reference is ${plain.lowOrHigh(estimate.referenceOff, unit)}.`,
  'The verdict stands on the pairs; what lies between them the sender tells:',
  ...places.map((value) => {
    const { reading, standardUncertainty } = estimate.needleAt(value);
    return `  at ${plain.short(value, unit)} the needle shows ${plain.short(reading, unit)} ${plain.spread(COVERAGE_FACTOR * standardUncertainty, unit)}`;
  }),
];

const offerText = (offer: ReTrim | undefined, unit: string): string[] => {
  if (offer === undefined) return [];
  const { network, expectedNow, expectedThen, chanceBetter, isWorthIt } = offer;
  const expected = `worst error expected ${plain.spread(expectedNow, unit)} now, ${plain.spread(expectedThen, unit)} then`;
  return [
    isWorthIt
      ? `Other resistors are worth it: ${partsText(network)} (${expected}; better with a chance of ${Math.round(100 * chanceBetter)} %).`
      : `Leave what is fitted: no other resistors are worth it (${expected}).`,
  ];
};

const estimateJson = (
  estimate: ReEstimate,
  places: readonly number[],
  offer: ReTrim | undefined,
): NonNullable<AnswerOf<'proof'>['re_estimate']> => ({
  ohms_ratio: Math.exp(estimate.logOhm),
  steepness_ratio: Math.exp(estimate.tilt),
  reference_off: estimate.referenceOff,
  needle: places.map((value) => {
    const { reading, standardUncertainty } = estimate.needleAt(value);
    return { value, reading, standard_uncertainty: standardUncertainty };
  }),
  re_trim:
    offer === undefined
      ? null
      : {
          topology: offer.network.topology,
          parts: offer.network.parts.map(({ place, resistanceOhm }) => ({
            place,
            resistance_ohm: resistanceOhm,
          })),
          expected_worst_now: offer.expectedNow,
          expected_worst_then: offer.expectedThen,
          chance_better: offer.chanceBetter,
          worth_it: offer.isWorthIt,
        },
});

/** Two pairs nearer than this part of the scale are at one place. Common practice, no source. */
const ONE_PLACE_PART = 0.05;

async function sinceOf(
  given: Arguments,
  surroundings: Surroundings,
  { pairs, scale, unit }: Asked,
): Promise<Further> {
  const path = given.text('as-left');
  if (path === undefined) return NOTHING;
  const file = await readPairs(path, surroundings);
  if (file.unit !== '' && file.unit !== unit)
    throw new InputError(`these pairs are in ${file.unit}, the others in ${unit}`, { file: file.file });
  const left = pairsFrom(given, file, { ...scale, unit });
  const width = ONE_PLACE_PART * (scale.highest - scale.lowest);
  const both = pairs.flatMap((now) => {
    const [then] = left
      .filter((each) => each.leg === now.leg && Math.abs(each.value - now.value) <= width)
      .sort((one, other) => Math.abs(one.value - now.value) - Math.abs(other.value - now.value));
    return then === undefined ? [] : [{ now, then }];
  });
  if (both.length === 0)
    throw new InputError(
      'no pair lies within 5 % of the scale of one read now, the needle moving the same way',
      {
        file: file.file,
      },
    );
  const { scores, hasMoved } = driftOf(
    both.map(({ now, then }) => ({
      then: then.indicated - then.value,
      thenUncertainty: uncertaintyOf(then),
      now: now.indicated - now.value,
      nowUncertainty: uncertaintyOf(now),
    })),
  );
  const places = both.map(({ now }, index) => ({ value: now.value, score: scores[index] ?? 0 }));
  const told = places
    .map(({ value, score }) => `${score.toFixed(2)} at ${plain.short(value, unit)}`)
    .join(', ');
  return {
    text: ['', `${hasMoved ? 'The needle has moved since it was left' : 'As left'}: E_n ${told}.`],
    json: { drift: { moved: hasMoved, places } },
    warnings: file.warnings,
  };
}

const uncertaintyOf = ({ sharedUncertainty, eachUncertainty, readingUncertainty }: Pair): number =>
  Math.hypot(sharedUncertainty, eachUncertainty, readingUncertainty);
