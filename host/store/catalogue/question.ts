import { ARC_UNIT } from '../../core/catalogue/arc-scale';
import type { Refused } from '../../core/result';
import type {
  CatalogueAsk,
  FoundInCatalogue,
  JobInCatalogue,
  PartInCatalogue,
  SaidOfCard,
  SendersForGauge,
  TablesInCatalogue,
} from '../../job/wire/catalogue-messages';
import { Catalogue } from './catalogue';
import { addDemo, removeDemo } from './demo';
import { foundInCatalogue, NOTHING_FOUND } from './found';
import { jobInCatalogue, type JobQuestion } from './job-in-catalogue';
import { partInCatalogue, unknownPart, type PartMeant } from './part';
import { sayOfCard } from './say-of-card';
import { sendersForGauge, type SendersQuestion } from './senders';
import { CatalogueTrouble } from './sqlite';
import { tablesInCatalogue, type TablesQuestion } from './tables';

type Place = { readonly folder: string; readonly program: string };

/** What a page asks of the catalogue of its host. Looking makes no catalogue where there is none. */
export type CatalogueQuestion =
  | ({ readonly kind: 'job' } & JobQuestion)
  | ({ readonly kind: 'tables' } & TablesQuestion)
  | ({ readonly kind: 'senders' } & SendersQuestion)
  | ({ readonly kind: 'find'; readonly ask: CatalogueAsk } & Place)
  | ({ readonly kind: 'part'; readonly meant: PartMeant; readonly saying?: Saying } & Place)
  | Demo;

/** What is said about one of its cards before it is shown. */
type Saying = { readonly said: SaidOfCard; readonly at: string };

/** Takes the demo in or out, and shows what there is then. */
type Demo = { readonly kind: 'demo'; readonly at: string; readonly way: 'in' | 'out' } & Place;

export type CatalogueAnswer =
  | JobInCatalogue
  | FoundInCatalogue
  | PartInCatalogue
  | TablesInCatalogue
  | SendersForGauge
  | Refused;

const EVERYTHING = { kind: 'gauge', unit: ARC_UNIT, points: [], words: '', withSimulated: false } as const;

/**
 * Answers one question.
 * Refuses as `jobInCatalogue`, `tablesInCatalogue`, `sendersForGauge`, `foundInCatalogue` and `partInCatalogue`, and what the disk of the catalogue refuses.
 */
export async function answerFromCatalogue(question: CatalogueQuestion): Promise<CatalogueAnswer> {
  if (question.kind === 'job') return jobInCatalogue(question);
  if (question.kind === 'tables') return tablesInCatalogue(question);
  if (question.kind === 'senders') return sendersForGauge(question);
  if (question.kind !== 'demo' && !Catalogue.isIn(question.folder))
    return question.kind === 'find' ? NOTHING_FOUND : unknownPart(question.meant);
  let catalogue: Catalogue | undefined;
  try {
    catalogue = await Catalogue.open(question.folder, question.program);
    if (question.kind === 'demo')
      await (question.way === 'in' ? addDemo(catalogue, question.at) : removeDemo(catalogue));
    if (question.kind === 'part' && question.saying !== undefined) {
      const refused = sayOfCard(catalogue, question.saying.said, question.saying.at);
      if (refused !== undefined) return refused;
    }
    catalogue.workOutForAnswer();
    if (question.kind === 'part') return partInCatalogue(catalogue, question.meant);
    return foundInCatalogue(catalogue, question.kind === 'find' ? question.ask : EVERYTHING);
  } catch (error) {
    if (error instanceof CatalogueTrouble) return error.refused;
    throw error;
  } finally {
    catalogue?.close();
  }
}
