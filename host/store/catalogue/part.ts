import { shortName } from '../../catalogue';
import { arcOf, type ArcScale } from '../../core/catalogue/arc-scale';
import { columnAt, ohmAxis, POSITIONS, senderAxis, senderUnitFor } from '../../core/catalogue/columns';
import { onScale, scaleOfAll } from '../../core/catalogue/one-scale';
import type { NotOneModel } from '../../core/catalogue/one-model';
import { ohmFromCompressed } from '../../core/identify/compressed-ohm';
import type { Refused } from '../../core/result';
import type { ModelMark, ModelSpecimen, PartInCatalogue } from '../../job/wire/catalogue-messages';
import { refuse } from '../../refusals';
import type { Catalogue, Entry } from './catalogue';
import { searchable } from './find';
import { positionsBetween } from './found';
import { counts, modelFinding, nearModel, ofModel, onePerSpecimen, type ModelFinding } from './models';
import { curvesDisagreeing, othersOfSpecimen } from './two-curves';

/** A model by one of its names, or a card by the first letters of its own. */
export type PartMeant = {
  readonly kind: 'model' | 'card';
  readonly name: string;
  readonly withSimulated: boolean;
};

/** Refuses MODEL_UNKNOWN, CARD_UNKNOWN: there is no catalogue yet. */
export const unknownPart = ({ kind, name }: PartMeant): Refused =>
  kind === 'model'
    ? refuse('MODEL_UNKNOWN', { name, near: undefined })
    : refuse('CARD_UNKNOWN', { typed: name });

/** A model with its specimens, or one card beside the others of its part. Refuses MODEL_UNKNOWN, CARD_UNKNOWN, CARD_AMBIGUOUS. */
export function partInCatalogue(catalogue: Catalogue, meant: PartMeant): PartInCatalogue | Refused {
  const all = catalogue.entries();
  const entries = entriesMeant(catalogue, all, meant);
  if ('code' in entries) return entries;
  const [first] = entries;
  if (first === undefined)
    return refuse('MODEL_UNKNOWN', { name: meant.name, near: nearModel(all, meant.name) });
  const isAlone = meant.kind === 'card';
  const shown = isAlone ? entries : searchable(entries, meant.withSimulated);
  const counted = isAlone ? [first] : onePerSpecimen(shown);
  const finding = modelFinding(counted, searchable(all, meant.withSimulated));
  const scale = finding === undefined ? undefined : scaleOf(counted);
  const mechanism = entries.map(({ summary }) => summary.mechanism).find((each) => each !== undefined);
  return {
    kind: 'part-in-catalogue',
    part: first.summary.kind,
    name: (isAlone ? undefined : first.model) ?? first.summary.description ?? `Card ${shortName(first.hash)}`,
    ...(first.model === undefined ? {} : { model: first.model }),
    alsoCalled: first.alsoCalled,
    quantity: first.summary.quantity,
    unit: finding?.unit ?? first.summary.unit,
    ...(mechanism === undefined ? {} : { mechanism }),
    dial: { marks: scale === undefined ? [] : marksOf(scale) },
    specimens: entries.map((entry) =>
      specimenOf(entry, {
        isCounted: counted.includes(entry),
        speaker: shown.includes(entry)
          ? counted.find(({ specimen }) => specimen === entry.specimen)
          : undefined,
        ...{ finding, scale },
      }),
    ),
    marks: finding?.found.lines.map(markOf) ?? [],
    against: finding?.found.against.map(named) ?? [],
    disagree: curvesDisagreeing(shown),
    leftOut: isAlone ? 0 : entries.filter(counts).length - shown.length,
  };
}

function entriesMeant(
  catalogue: Catalogue,
  all: readonly Entry[],
  { kind, name }: PartMeant,
): readonly Entry[] | Refused {
  if (kind === 'model') return ofModel(all, name);
  const hash = catalogue.meant(name);
  if (typeof hash !== 'string') return hash;
  return all.flatMap((entry) => (entry.hash === hash ? [entry, ...othersOfSpecimen(entry, all)] : []));
}

/** The dial on which everything is told: that of the specimen whose marks are known. */
const scaleOf = (entries: readonly Entry[]): ArcScale | undefined =>
  scaleOfAll(entries.flatMap(({ search }) => (search?.kind === 'columns' ? [search] : [])));

const LABEL_FIGURES = 3;

const marksOf = ({ marks, lowest, highest }: ArcScale): PartInCatalogue['dial']['marks'] =>
  marks.length > 1
    ? [...marks]
    : [lowest, highest].map((reading, angleFraction) => ({
        label: String(Number(reading.toPrecision(LABEL_FIGURES))),
        reading,
        angleFraction,
      }));

type Among = {
  readonly isCounted: boolean;
  /** The card that speaks for its specimen. */
  readonly speaker: Entry | undefined;
  readonly finding: ModelFinding | undefined;
  readonly scale: ArcScale | undefined;
};

function specimenOf(entry: Entry, among: Among): ModelSpecimen {
  const { summary, search, withdrawnBecause, supersededBy } = entry;
  return {
    id: shortName(entry.hash),
    ...(summary.description === undefined ? {} : { description: summary.description }),
    ...(summary.measuredAt === undefined ? {} : { measuredAt: summary.measuredAt }),
    ...(summary.found === undefined ? {} : { found: summary.found }),
    readings: summary.counted,
    ...{ isSimulated: summary.simulated, isDemo: summary.demo },
    ...(withdrawnBecause === undefined ? {} : { withdrawnBecause }),
    ...(supersededBy === undefined ? {} : { supersededBy: shortName(supersededBy) }),
    counts: among.isCounted,
    ...(among.isCounted || among.speaker === undefined ? {} : { sameAs: shortName(among.speaker.hash) }),
    ...(search?.kind === 'refused' ? { refused: search.message } : {}),
    ...curveOf(entry, among),
  };
}

type Curve = Pick<ModelSpecimen, 'line' | 'fromMiddle' | 'knownTo'>;
const NO_CURVE: Curve = { line: [], fromMiddle: [] };
const COVERAGE = 2;

function curveOf(entry: Entry, { finding, scale }: Among): Curve {
  if (entry.search?.kind !== 'columns' || finding === undefined || scale === undefined) return NO_CURVE;
  const search = finding.kind === 'gauge' ? onScale(entry.search, scale) : entry.search;
  const own = finding.kind === 'gauge' ? undefined : senderUnitFor(finding.unit);
  const axis = own === undefined ? ohmAxis : senderAxis(own);
  const places = positionsBetween(
    Math.max(0, axis.index(search.from)),
    Math.min(POSITIONS - 1, axis.index(search.to)),
  );
  if (own !== undefined)
    return {
      line: places.map((at) => [ohmFromCompressed(columnAt(search.value, at)), axis.at(at)]),
      fromMiddle: [],
      knownTo: COVERAGE * Math.max(...places.map((at) => columnAt(search.uncertainty, at))),
    };
  const arc = arcOf(scale);
  const reading = (at: number): number => arc.reading(columnAt(search.value, at));
  const middle = (at: number): number => arc.reading(columnAt(finding.found.curve.mean, at));
  return {
    line: places.map((at) => [axis.at(at), reading(at)]),
    fromMiddle: places.map((at) => [middle(at), reading(at) - middle(at)]),
    knownTo:
      COVERAGE *
      Math.max(
        ...places.map((at) => {
          const [value, u] = [columnAt(search.value, at), columnAt(search.uncertainty, at)];
          return Math.abs(arc.reading(value + u) - arc.reading(value - u)) / 2;
        }),
      ),
  };
}

type ReportLine = ModelFinding['found']['lines'][number];

const markOf = ({
  label,
  argument,
  specimens,
  middle,
  spread,
  next,
  together,
  tolerance,
  bound,
}: ReportLine): ModelMark => ({
  ...{ label, at: argument, specimens, middle, spread, next, together },
  ...(tolerance === undefined ? {} : { tolerance }),
  ...(bound === undefined ? {} : { bound }),
});

/** Objections speak of cards by their short names. */
function named(found: NotOneModel): NotOneModel {
  switch (found.kind) {
    case 'too-wide':
      return found;
    case 'two-groups':
      return { ...found, low: found.low.map(shortName), high: found.high.map(shortName) };
    case 'apart':
      return { ...found, id: shortName(found.id) };
  }
}
