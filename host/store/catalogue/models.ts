import { modelKey, type CardSummary } from '../../catalogue';
import { ohmAxis, senderAxis, senderUnitFor, type Axis, type Columns } from '../../core/catalogue/columns';
import { onOneScale, onScale, scaleOfAll } from '../../core/catalogue/one-scale';
import { usualSpread, type UsualSpread } from '../../core/catalogue/model-curve';
import { dangerousSide } from '../../core/network';
import { nearest } from '../../core/text/nearest';
import { modelReport, type ModelReport } from '../../core/catalogue/model-report';
import { USUAL_SPREAD_LOG, USUAL_SPREAD_PART } from '../../core/catalogue/spread';
import type { Entry } from './catalogue';

/** Cards of one model, by any of its names. */
export const ofModel = (entries: readonly Entry[], name: string): readonly Entry[] =>
  entries.filter((entry) =>
    [entry.model ?? '', ...entry.alsoCalled].some((each) => each !== '' && modelKey(each) === modelKey(name)),
  );

/** The model whose name is spelt most like this one; undefined where none comes near. */
export const nearModel = (entries: readonly Entry[], name: string): string | undefined => {
  const names = [...new Set(entries.flatMap(({ model, alsoCalled }) => [model ?? '', ...alsoCalled]))];
  const key = nearest(modelKey(name), names.map(modelKey));
  return names.find((each) => key !== undefined && key !== '' && modelKey(each) === key);
};

/** Counts for what a shop may say: neither withdrawn nor replaced. */
export const counts = ({ withdrawnBecause, supersededBy }: Entry): boolean =>
  withdrawnBecause === undefined && supersededBy === undefined;

/** What the specimens of a model say together. `unit`: of a gauge's readings, of a sender's values. */
export type ModelFinding = {
  readonly found: ModelReport;
  readonly unit: string;
  readonly kind: 'gauge' | 'sender';
  /** What few specimens are judged by, and how many other models of the kind it comes from. */
  readonly usual: UsualSpread;
};

/** Parts that differ alike from specimen to specimen: gauges of one mechanism, senders of one quantity. */
export const kindOfPart = ({ kind, mechanism, quantity }: CardSummary): string =>
  kind === 'sender' ? quantity : (mechanism ?? '');

/** The usual spread of each kind of part, from all models that there are of it. */
export function usualSpreads(
  models: readonly { readonly kind: string; readonly specimens: readonly Columns[] }[],
  axis: Axis,
  start: number,
): ReadonlyMap<string, UsualSpread> {
  const kinds = new Map<string, (readonly Columns[])[]>();
  for (const { kind, specimens } of models) kinds.set(kind, [...(kinds.get(kind) ?? []), specimens]);
  return new Map([...kinds].map(([kind, each]) => [kind, usualSpread(each, axis, start)]));
}

/** The other models of a part's kind, one list of curves a model. */
function othersOf(entries: readonly Entry[], all: readonly Entry[]): (readonly Columns[])[] {
  const own = new Set(entries.map(({ hash }) => hash));
  const [first] = entries;
  const models = new Map<string, Columns[]>();
  for (const { hash, model, search, summary } of onePerSpecimen(all.filter(counts))) {
    if (model === undefined || own.has(hash) || first === undefined || search?.kind !== 'columns') continue;
    if (summary.kind !== first.summary.kind || kindOfPart(summary) !== kindOfPart(first.summary)) continue;
    if (summary.kind === 'sender' && search.scale.unit !== senderUnitFor(first.summary.unit)) continue;
    models.set(modelKey(model), [...(models.get(modelKey(model)) ?? []), search]);
  }
  return first?.summary.kind === 'gauge' ? [...models.values()].map(onOneScale) : [...models.values()];
}

/** The statistics of the cards that have a curve, few of them judged by `all` of their kind. Undefined where none has. */
export function modelFinding(entries: readonly Entry[], all: readonly Entry[]): ModelFinding | undefined {
  const worked = onePerSpecimen(entries).flatMap(({ hash, search, summary }) =>
    search?.kind === 'columns'
      ? [{ id: hash, columns: search, kind: summary.kind, quantity: summary.quantity }]
      : [],
  );
  const [first] = worked;
  if (first === undefined) return undefined;
  const alike = worked.filter((each) => each.kind === first.kind && each.quantity === first.quantity);
  const scale = scaleOfAll(alike.map(({ columns }) => columns)) ?? first.columns.scale;
  const same =
    first.kind === 'sender'
      ? alike
      : alike.map((each) => ({ ...each, columns: onScale(each.columns, scale) }));
  if (first.kind === 'gauge') {
    const usual = usualSpread(othersOf(entries, all), ohmAxis, USUAL_SPREAD_PART);
    const dangerous = dangerousSide(first.quantity);
    const task = { ...{ kind: 'gauge' as const, axis: ohmAxis, scale, dangerous }, usual: usual.tau };
    return { found: modelReport(same, task), unit: scale.unit, kind: 'gauge', usual };
  }
  const unit = senderUnitFor(scale.unit);
  if (unit === undefined) return undefined;
  const axis = senderAxis(unit);
  const usual = usualSpread(othersOf(entries, all), axis, USUAL_SPREAD_LOG);
  const task = { ...{ kind: 'sender' as const, axis, scale }, usual: usual.tau };
  return { found: modelReport(same, task), unit, kind: 'sender', usual };
}

/** One card a model, its newest; a card without a model stands for itself. */
export function newestOfModels(entries: readonly Entry[]): Entry[] {
  const newest = new Map<string, Entry>();
  for (const entry of onePerSpecimen(entries)) {
    const key = entry.model === undefined ? entry.hash : modelKey(entry.model);
    const before = newest.get(key);
    if (before === undefined || (entry.summary.measuredAt ?? '') >= (before.summary.measuredAt ?? ''))
      newest.set(key, entry);
  }
  return [...newest.values()];
}

/** A specimen measured twice is one specimen: its newest card speaks for it. */
export function onePerSpecimen(entries: readonly Entry[]): Entry[] {
  const newest = new Map<string, Entry>();
  for (const entry of entries) {
    const before = newest.get(entry.specimen);
    const isNewer = (entry.summary.measuredAt ?? '') >= (before?.summary.measuredAt ?? '');
    if (before === undefined || isNewer) newest.set(entry.specimen, entry);
  }
  return [...newest.values()];
}
