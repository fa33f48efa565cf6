import { modelKey } from '../../catalogue';
import { bankOf, type Bank, type Candidate } from '../../core/catalogue/bank';
import {
  ohmAxis,
  senderAxis,
  senderUnitFor,
  type Axis,
  type Columns,
  type SenderUnit,
} from '../../core/catalogue/columns';
import {
  identifyModel,
  type AskedPoint,
  type ModelIdentification,
} from '../../core/catalogue/identify-model';
import { onOneScale } from '../../core/catalogue/one-scale';
import { readingsToSettle } from '../../core/catalogue/settle';
import { USUAL_SPREAD_LOG, USUAL_SPREAD_PART } from '../../core/catalogue/spread';
import { refuse, type Refusal } from '../../core/refusal';
import type { Quantity } from '../../core/response';
import { unitChange } from '../../core/units';
import type { Entry } from './catalogue';
import { counts, kindOfPart, onePerSpecimen, usualSpreads } from './models';

/** A model, or a card alone, as an answer names it. */
export type NamedCandidate = {
  readonly name: string;
  readonly model: string | undefined;
  readonly cards: readonly string[];
};

export type FoundModels = Omit<Prepared, 'nonePrior'> & {
  readonly identification: ModelIdentification;
  /** Where further readings would settle it; see `readingsToSettle`. */
  readonly toSettle: () => readonly number[] | undefined;
};

export type FindTask = {
  readonly kind: 'gauge' | 'sender';
  readonly unit: string;
  readonly points: readonly AskedPoint[];
  readonly leastOhm: number;
};

/** A gauge is new to a shop at even odds until its own cards say otherwise. */
const FIRST_PRIOR = 0.5;
const LEAST_PRIOR = 0.05;

/** Entries that an answer rests on: what counts, and of what was simulated only the demo, unless asked for. */
export const searchable = (entries: readonly Entry[], withSimulated: boolean): Entry[] =>
  entries.filter(
    (entry) => counts(entry) && (!entry.summary.simulated || entry.summary.demo || withSimulated),
  );

/** The models of some entries, ready to be compared with readings. */
export type Prepared = {
  readonly groups: ReadonlyMap<string, Group>;
  readonly named: ReadonlyMap<string, NamedCandidate>;
  readonly bank: Bank;
  readonly nonePrior: number;
  readonly waiting: number;
};

/** Different questions of one page: gauges, senders, one quantity of them, with simulated ones. */
const MOST_PREPARED = 4;
const preparedOf = new WeakMap<readonly Entry[], Map<string, Prepared>>();

/** What was prepared of a catalogue's entries under a name is not prepared again while these are the same. */
export function preparedOnce(held: readonly Entry[], name: string, make: () => Prepared): Prepared {
  const all = preparedOf.get(held) ?? new Map<string, Prepared>();
  const known = all.get(name);
  if (known !== undefined) return known;
  const made = make();
  const [oldest] = all.keys();
  if (all.size >= MOST_PREPARED && oldest !== undefined) all.delete(oldest);
  preparedOf.set(held, all.set(name, made));
  return made;
}

/** Of senders in one unit; undefined for gauges. */
function prepare(entries: readonly Entry[], kind: FindTask['kind'], unit: SenderUnit | undefined): Prepared {
  const meant = entries.filter(({ summary }) => summary.kind === kind);
  const axis = unit === undefined ? ohmAxis : senderAxis(unit);
  const usual = unit === undefined ? USUAL_SPREAD_PART : USUAL_SPREAD_LOG;
  const groups = groupsOf(meant, unit);
  const { candidates, named } = candidatesOf(groups, axis, usual);
  return {
    ...{ groups, named, bank: bankOf(candidates, { kind, axis, usual }), nonePrior: newShare(meant) },
    waiting: meant.filter(({ search }) => search === undefined).length,
  };
}

/**
 * Which model of the catalogue the points belong to. `prepared`: by whom these entries are prepared, where that was done
 * before. Refuses as `identifyModel`, and a sender's unit no range is known of.
 */
export function findModels(
  entries: readonly Entry[],
  task: FindTask,
  prepared: (make: () => Prepared) => Prepared = (make) => make(),
): FoundModels | Refusal {
  const unit = task.kind === 'sender' ? senderUnitFor(task.unit) : undefined;
  if (task.kind === 'sender' && unit === undefined) return refuse('IDENTIFY_NO_CURVES', {});
  const ready = prepared(() => prepare(entries, task.kind, unit));
  const { bank, nonePrior } = ready;
  const points = unit === undefined ? task.points : changed(task.points, task.unit, unit);
  const options = { unit: task.unit, leastOhm: task.leastOhm, nonePrior };
  const identification = identifyModel(points, bank, options);
  if (identification.kind === 'refused') return identification;
  return {
    ...{ identification, ...ready },
    toSettle: () => readingsToSettle(points, bank, options, identification),
  };
}

export type Group = {
  readonly cards: string[];
  readonly specimens: Columns[];
  readonly model: string | undefined;
  /** Parts of one kind differ alike from specimen to specimen. */
  kind: string;
};

/** Cards of one model together, each specimen once; a card without a model is one by itself. */
function candidatesOf(
  groups: ReadonlyMap<string, Group>,
  axis: Axis,
  start: number,
): { readonly candidates: readonly Candidate[]; readonly named: ReadonlyMap<string, NamedCandidate> } {
  const usual = usualSpreads([...groups.values()], axis, start);
  return {
    candidates: [...groups].map(([id, { specimens, kind }]) => ({
      ...{ id, specimens },
      usual: usual.get(kind)?.tau ?? start,
    })),
    named: new Map([...groups].map(([id, { cards, model }]) => [id, { name: model ?? id, model, cards }])),
  };
}

/** One group a model; a card without a model is one by itself. Left out: cards without a curve, or of another unit. */
export function groupsOf(entries: readonly Entry[], unit: string | undefined): ReadonlyMap<string, Group> {
  const groups = new Map<string, Group>();
  const gauges = new Set<string>();
  for (const { hash, search, model, summary } of onePerSpecimen(entries)) {
    if (search?.kind !== 'columns' || (unit !== undefined && search.scale.unit !== unit)) continue;
    const key = model === undefined ? hash : groupKey(model, summary.quantity);
    const group = groups.get(key) ?? { cards: [], specimens: [], model, kind: '' };
    if (group.kind === '') group.kind = kindOfPart(summary);
    group.cards.push(hash);
    group.specimens.push(search);
    if (summary.kind === 'gauge') gauges.add(key);
    groups.set(key, group);
  }
  for (const key of gauges) {
    const { specimens } = groups.get(key)!;
    if (specimens.length > 1) specimens.splice(0, Infinity, ...onOneScale(specimens));
  }
  return groups;
}

const groupKey = (model: string, quantity: Quantity): string => `${modelKey(model)}\n${quantity}`;

/** The shop's own share of parts that were a new model to it. Source: rule of succession over cards with a model. */
function newShare(entries: readonly Entry[]): number {
  const models = entries.flatMap(({ model, summary }) =>
    model === undefined ? [] : groupKey(model, summary.quantity),
  );
  if (models.length === 0) return FIRST_PRIOR;
  const share = (new Set(models).size + 1) / (models.length + 2);
  return Math.min(Math.max(share, LEAST_PRIOR), FIRST_PRIOR);
}

function changed(points: readonly AskedPoint[], from: string, to: string): readonly AskedPoint[] {
  const change = unitChange(from, to);
  if (change.kind === 'refused') return points;
  return points.map((point) => ({
    ...point,
    value: change.factor * point.value + change.offset,
    valueUncertainty: point.valueUncertainty && change.factor * point.valueUncertainty,
  }));
}
