import { shortName, type GaugeCard } from '../../catalogue';
import { LEAST_LIKENESS } from '../../core/catalogue/likeness';
import type { Refused } from '../../core/result';
import type { JobCard, JobInCatalogue, LooksLike } from '../../job/wire/catalogue-messages';
import { Catalogue, type Entry } from './catalogue';
import { findModels, searchable } from './find';
import { cardsOfFolder, type JobCards } from './job-cards';
import { keepCards } from './keep-cards';
import { CatalogueTrouble } from './sqlite';

export type JobQuestion = {
  /** Where the catalogue lies. */
  readonly folder: string;
  readonly jobFolder: string;
  readonly program: string;
  /** Left out: only looks, and makes no catalogue where there is none. */
  readonly keep?: {
    readonly at: string;
    readonly model?: string | undefined;
  };
};

/**
 * What the catalogue has of a job; with `keep`, after its cards were kept. The same cards twice are one.
 * Refuses as `cardsOfFolder`, and what the disk of the catalogue refuses. Nothing finished is an answer to who looks, and
 * CATALOGUE_NOTHING_FINISHED to who would keep it.
 */
export async function jobInCatalogue(question: JobQuestion): Promise<JobInCatalogue | Refused> {
  const { folder, jobFolder, program, keep } = question;
  const made = await cardsOfFolder(jobFolder, program);
  if (made.kind === 'refused')
    return made.code === 'CATALOGUE_NOTHING_FINISHED' && keep === undefined ? NOTHING : made;
  if (keep === undefined && !Catalogue.isIn(folder)) return answerOf(made, []);
  let catalogue: Catalogue | undefined;
  try {
    catalogue = await Catalogue.open(folder, program);
    return await answer(catalogue, made, keep);
  } catch (error) {
    if (error instanceof CatalogueTrouble) return error.refused;
    throw error;
  } finally {
    catalogue?.close();
  }
}

const NOTHING: JobInCatalogue = { kind: 'job-in-catalogue', cards: [] };

async function answer(
  catalogue: Catalogue,
  made: JobCards,
  keep: JobQuestion['keep'],
): Promise<JobInCatalogue> {
  const before = catalogue.known(made.cards);
  if (keep !== undefined) await kept(catalogue, made, keep);
  catalogue.workOutForAnswer();
  const entries = catalogue.entries();
  const hashes = catalogue.known(made.cards);
  const gauge = made.cards.findIndex((card) => card.kind === 'gauge');
  const model = entries.find(({ hash }) => hash === hashes[gauge])?.model;
  const looksLike = likeness(catalogue, made, entries);
  return {
    ...answerOf(made, hashes, before),
    ...(model === undefined ? {} : { model }),
    ...(looksLike === undefined ? {} : { looksLike }),
  };
}

/** A model that is said already is not said again. */
async function kept(
  catalogue: Catalogue,
  { cards, slip }: JobCards,
  { at, model }: NonNullable<JobQuestion['keep']>,
): Promise<void> {
  const known = new Set(catalogue.known(cards));
  const isSaid =
    model !== undefined &&
    catalogue.entries().some((entry) => known.has(entry.hash) && entry.model === model);
  await keepCards(
    catalogue,
    cards.map((card) => ({ card, slip })),
    { at, model: isSaid ? undefined : model },
  );
}

function answerOf(
  { cards }: JobCards,
  hashes: readonly (string | undefined)[],
  before: readonly (string | undefined)[] = [],
): JobInCatalogue {
  return {
    kind: 'job-in-catalogue',
    cards: cards.map(({ kind, found, simulated }, index): JobCard => {
      const hash = hashes[index];
      return {
        ...{ kind, simulated, new: hash !== undefined && before[index] === undefined },
        ...(hash === undefined ? {} : { id: shortName(hash) }),
        ...(found === undefined ? {} : { found }),
      };
    }),
  };
}

/** What the catalogue knows that the job's gauge looks like: other jobs' cards, simulated ones beside a simulated gauge. */
function likeness(catalogue: Catalogue, made: JobCards, entries: readonly Entry[]): LooksLike | undefined {
  const gauge = made.cards.find((card) => card.kind === 'gauge');
  if (gauge === undefined) return undefined;
  const own = new Set(catalogue.keeper.holding(made.jobHash).map(({ hash }) => hash));
  const others = entries.filter(({ hash }) => !own.has(hash));
  const points = askedPoints(gauge);
  const found = findModels(searchable(others, gauge.simulated), {
    ...{ kind: 'gauge', unit: gauge.unit, points },
    leastOhm: Math.min(...points.map(({ resistanceOhm }) => resistanceOhm)),
  });
  if ('code' in found) return undefined;
  const [first] = found.identification.ranking;
  if (first === undefined || found.identification.verdict === 'none' || first.share < LEAST_LIKENESS)
    return undefined;
  const nameOf = (id: string): string => {
    const candidate = found.named.get(id);
    return candidate?.model ?? shortName(candidate?.cards[0] ?? id);
  };
  return { names: first.ids.map(nameOf), share: first.share };
}

const askedPoints = ({ points }: GaugeCard) =>
  points
    .filter(({ struck }) => struck === undefined)
    .map((one) => ({
      resistanceOhm: one.resistance_ohm,
      value: one.reading,
      ...(one.u_reading === undefined ? {} : { valueUncertainty: one.u_reading }),
    }));
