import { senderPointsOf, shortName, specimenOf, wordScore, type Card } from '../../../catalogue';
import { fitSpecimen } from '../../../core/catalogue/columns';
import { isRefused } from '../../../core/refusal';
import {
  curvesDisagreeing,
  othersOfSpecimen,
  signedBy,
  type Catalogue,
  type Entry,
} from '../../../store/catalogue';
import { signedWords, simulatedLeftOut } from '../../../words/catalogue';
import { plain } from '../../../words/notation';
import { saidRefusal } from '../../../words/refusal';
import { saidRemark } from '../../../words/remark';
import type { Report } from '../../command';
import { cardMeant, withCatalogue } from '../../input/catalogue-place';
import { InputError } from '../../input-error';
import type { Arguments } from '../../options';
import { entryJson, entryTable } from '../../output/catalogue-text';
import { curveJson } from '../../output/curve-json';
import { curveText } from '../../output/curve-text';
import { disagreeJson, disagreeText } from '../../output/two-curves-text';
import type { AnswerOf } from '../../output/schemas';
import { significant, textTable } from '../../output/text-table';
import { schemaOf, type Action } from './action';

/** Cards that the options leave in; what is withdrawn, replaced or simulated stays out unless asked for. */
export function chosen(entries: readonly Entry[], given: Arguments): readonly Entry[] {
  const family = familyOf(given.text('family'));
  const [kind, mechanism, words] = [given.text('kind'), given.text('mechanism'), given.text('words')];
  return entries.filter(
    (entry) =>
      (kind === undefined || entry.summary.kind === kind) &&
      (mechanism === undefined || entry.summary.mechanism === mechanism) &&
      (family === undefined || isOfFamily(entry, family)) &&
      (words === undefined || wordScore({ ...entry, ends: endsOfEntry(entry) }, words).matched.length > 0),
  );
}

/** Ohms at the ends of the scale, where they were worked out. */
export const endsOfEntry = ({ search }: Entry) => (search?.kind === 'columns' ? search : undefined);

/** Not there for most: simulated and not a demo of the shop's own asking. */
export const isShown = ({ summary }: Entry, given: Arguments): boolean =>
  !summary.simulated || summary.demo || given.flag('simulated');

/** Ends of a family differ by less than this part from part to part. Common practice, no source. */
const FAMILY_PART = 0.25;

function familyOf(text: string | undefined): readonly [number, number] | undefined {
  if (text === undefined) return undefined;
  const ends = text.split(/-|:/).map(Number);
  const [low, high] = ends;
  if (ends.length !== 2 || low === undefined || high === undefined || !(low >= 0) || !(high >= 0))
    throw new InputError(`--family ${text}: give the ohms at the low and the high end, such as 240-33`);
  return [low, high];
}

function isOfFamily({ search, summary }: Entry, [low, high]: readonly [number, number]): boolean {
  const isNear = (ohm: number | undefined, wanted: number): boolean =>
    ohm !== undefined && Math.abs(ohm - wanted) <= FAMILY_PART * wanted + 2;
  const said = summary.familyOhm;
  if (said !== undefined && isNear(said.lowEnd, low) && isNear(said.highEnd, high)) return true;
  return search?.kind === 'columns' && isNear(search.lowOhm, low) && isNear(search.highOhm, high);
}

export const listAction: Action = {
  name: 'list',
  usage: '',
  help: 'all cards, or those of a kind, family (240-33), mechanism or with words',
  words: { least: 0, most: 0 },
  run: (_, given, surroundings) =>
    withCatalogue(given, surroundings, (catalogue) => {
      const found = chosen(catalogue.entries(), given);
      const shown = found.filter((entry) => isShown(entry, given));
      const hidden = found.length - shown.length;
      return {
        text: shown.length === 0 ? ['the catalogue has no such card'] : entryTable(shown),
        json: { schema: schemaOf('list'), cards: shown.map(entryJson), simulated_left_out: hidden },
        warnings: [
          ...(hidden === 0 ? [] : [simulatedLeftOut(hidden)]),
          ...newerWarning(catalogue),
          ...disagreeWarning(shown),
        ],
      };
    }),
};

function newerWarning(catalogue: Catalogue): string[] {
  const newer = catalogue.keeper.hashes('newer').length;
  return newer === 0 ? [] : [`${newer} documents were made by a newer program: kept, and not searched`];
}

function disagreeWarning(entries: readonly Entry[]): string[] {
  const found = curvesDisagreeing(entries);
  return found.length === 0
    ? []
    : [
        `curves of one part disagree: ${found.map(({ cards }) => cards.join(' and ')).join('; ')} (catalogue show ID)`,
      ];
}

export const showAction: Action = {
  name: 'show',
  usage: 'ID',
  help: 'one card: its readings as they were given, its curve fitted anew, what was said about it',
  words: { least: 1, most: 1 },
  run: ([typed = ''], given, surroundings) =>
    withCatalogue(given, surroundings, async (catalogue) => {
      const hash = cardMeant(catalogue, typed);
      catalogue.workOutForAnswer();
      const entries = catalogue.entries();
      const [entry, card] = [entries.find((each) => each.hash === hash), catalogue.card(hash)];
      if (entry === undefined || card === undefined) throw new Error(`card ${hash} is not readable`);
      const slip = await catalogue.slips.of(hash);
      const curve = curveOf(card);
      const signed = signedBy(catalogue, hash);
      const others = othersOfSpecimen(entry, entries);
      const disagree = curvesDisagreeing([entry, ...others]).filter(({ cards }) =>
        cards.includes(shortName(hash)),
      );
      return {
        text: [
          ...entryTable([entry]),
          ...(others.length === 0
            ? []
            : [`other curves of this part: ${others.map((each) => shortName(each.hash)).join(', ')}`]),
          ...disagreeText(disagree),
          signedWords(signed),
          ...(slip === undefined ? [] : ['', 'slip (this machine only):', ...slipText(slip)]),
          '',
          ...curve.text,
        ],
        json: {
          schema: schemaOf('show'),
          ...entryJson(entry),
          card,
          slip: slip ?? null,
          signed,
          ...curve.json,
          disagree: disagreeJson(disagree),
        },
        warnings: curve.warnings,
      };
    }),
};

const slipText = (slip: object): string[] =>
  Object.entries(slip).map(([name, value]) => `  ${name.replace(/_/g, ' ')}: ${String(value)}`);

type Shown = Pick<Report, 'text'> & {
  readonly json: Pick<AnswerOf<'catalogue-show'>, 'curve'>;
  readonly warnings: readonly string[];
};

/** The curve of a card, fitted now by this program. */
function curveOf(card: Card): Shown {
  if (card.kind === 'sender') return senderOf(card);
  const curve = fitSpecimen(specimenOf(card));
  if (isRefused(curve)) return { text: [saidRefusal(curve, plain)], json: { curve: null }, warnings: [] };
  const warnings = curve.warnings.map((each) => saidRemark(each, plain));
  return { text: curveText(curve, []), json: { curve: curveJson(curve, [], warnings) }, warnings };
}

function senderOf(card: Extract<Card, { kind: 'sender' }>): Shown {
  const points = senderPointsOf(card);
  return {
    text: textTable(
      [{ title: card.unit === '' ? 'value' : card.unit }, { title: 'ohm' }],
      points.map(({ value, resistanceOhm }) => [significant(value), significant(resistanceOhm)]),
    ),
    ...{ json: {}, warnings: [] },
  };
}
