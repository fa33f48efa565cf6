import { LEAST_LIKENESS } from '../core/catalogue/likeness';
import type { NotOneModel } from '../core/catalogue/one-model';
import type { FoundInCatalogue, JobInCatalogue, TableTaken } from '../job/wire/catalogue-messages';
import type { Quantity } from '../core/response';
import { capital, counted, listed } from './sentence';

/** What kind of part a card is of. */
export const partWords = (kind: 'gauge' | 'sender', quantity: Quantity): string =>
  quantity === 'other' ? kind : `${quantity} ${kind}`;

/** What a list says of a card beside its name; empty for an ordinary one. */
export const cardState = ({
  simulated,
  demo,
  withdrawnBecause,
  supersededBy,
  search,
}: {
  readonly simulated: boolean;
  readonly demo: boolean;
  readonly withdrawnBecause: string | undefined;
  readonly supersededBy: string | undefined;
  readonly search: 'columns' | 'refused' | 'waiting';
}): string =>
  [
    demo ? 'demo' : '',
    simulated && !demo ? 'SIMULATED' : '',
    withdrawnBecause === undefined ? '' : `withdrawn: ${withdrawnBecause}`,
    supersededBy === undefined ? '' : `replaced by ${supersededBy}`,
    search === 'waiting' ? 'not yet worked out' : '',
    search === 'refused' ? 'no curve in it' : '',
  ]
    .filter((part) => part !== '')
    .join('; ');

/** What speaks against calling specimens one model. `named`: what a card is called. */
export function notOneModelWords(found: NotOneModel, named: (id: string) => string): string {
  switch (found.kind) {
    case 'too-wide':
      return `They differ more than three times as much as such parts do (chance ${Math.round(found.chance * 1000) / 10} %): look whether all of them are this model.`;
    case 'two-groups':
      return `They fall into two groups: ${listed(found.low.map(named))} read lower than ${listed(found.high.map(named))}. These are likely two models.`;
    case 'apart':
      return `${named(found.id)} lies where the others would not have put it. Look whether it is this model, or worn; it counts until you withdraw it.`;
  }
}

/** What few specimens are judged by. `tau`: part of the arc, of a sender part of its ohms. */
export function usualSpreadWords(
  { tau, models }: { readonly tau: number; readonly models: number },
  kind: 'gauge' | 'sender',
): string {
  const part = `${Number((100 * tau).toPrecision(2))} % of ${kind === 'gauge' ? 'the arc' : 'their ohms'}`;
  return models === 0
    ? `Where there are few specimens, ${part} between them is taken as usual.`
    : `Where there are few specimens, ${part} between them is taken as usual, from ${counted(models, 'other model')} of this kind.`;
}

/** Said where a table leaves simulated cards out. */
export const simulatedLeftOut = (count: number): string =>
  `${count} simulated ${count === 1 ? 'card is' : 'cards are'} left out; --simulated shows them`;

/** What the readings say of the models of the catalogue. */
export function verdictWords(verdict: 'clear' | 'open' | 'none', names: readonly string[]): string {
  switch (verdict) {
    case 'clear':
      return `This looks like ${names.join(' or ')}.`;
    case 'open':
      return `Several remain possible, ${names.join(' or ')} first. One more reading may settle it.`;
    case 'none':
      return 'This is none of the models in the catalogue.';
  }
}

/** Said where an export holds what is not for others. */
export const privateGoAlong = (count: number): string =>
  `${count} ${count === 1 ? 'card is' : 'cards are'} private: keep this file to yourself, or leave them out with --select shared`;

/** Said where an export was asked for: an invented shop's cards are nobody's measurements. */
export const demoStays = (count: number): string =>
  `${count} ${count === 1 ? 'card' : 'cards'} of the demo stay here: nobody measured them`;

export const documentsWait = (count: number): string =>
  count === 1 ? '1 document waits for it.' : `${count} documents wait for it.`;

/** A chance below this is not worth a second look. */
export const LEFT_SHARE = 0.05;

/** How sure one may be of a part, from its chance. */
export function likelyWords(share: number): string {
  if (share >= 0.95) return 'almost certainly this one';
  if (share >= 0.8) return 'most likely this one';
  if (share >= 0.5) return 'rather likely';
  if (share >= LEFT_SHARE) return 'possible';
  return 'hardly this one';
}

/** What the readings leave, as a heading. `left`: parts that remain possible. */
export function leavesSentence(readings: number, kind: 'gauge' | 'sender', left: number): string {
  const given = capital(spelt(readings, 'reading'));
  const leaves = readings === 1 ? 'leaves' : 'leave';
  return left === 0 ? `${given}: no ${kind} here fits.` : `${given} ${leaves} ${spelt(left, kind)}.`;
}

const SPELT = ['no', 'one', 'two', 'three', 'four', 'five', 'six', 'seven', 'eight', 'nine', 'ten'];

const spelt = (count: number, what: string): string =>
  `${SPELT[count] ?? count} ${what}${count === 1 ? '' : 's'}`;

/** What a catalogue holds, in the bar. */
export const holdsWords = ({
  gauges,
  senders,
  models,
}: {
  readonly gauges: number;
  readonly senders: number;
  readonly models: number;
}): string =>
  `${counted(gauges, 'gauge')} and ${counted(senders, 'sender')} of ${counted(models, 'named model')}`;

/** How far the specimens of a model differ, in one line. */
export function specimensWords(count: number, against: number): string {
  if (count === 0) return 'None of its cards has a curve.';
  if (count === 1) return 'One specimen. How far the next may differ is what such parts usually do.';
  return against === 0
    ? `${count} specimens, which agree as one model does.`
    : `${count} specimens, which do not agree as one model does.`;
}

/** Beside the box that takes simulated cards in. */
export const simulatedLeftOutHere = (count: number, isTaken: boolean): string =>
  isTaken
    ? 'Simulated ones are among them'
    : `${counted(count, 'simulated card is', 'simulated cards are')} left out: show them too`;

/** What the catalogue has of a job, behind its closed line. */
export function keptWords({ cards, model }: JobInCatalogue): string {
  const ids = cards.flatMap(({ id }) => id ?? []);
  if (ids.length === 0) return 'this curve is not kept yet';
  const named = model === undefined ? '' : `, ${model}`;
  return ids.length === cards.length
    ? `kept as ${listed(ids)}${named}`
    : `kept in part as ${listed(ids)}${named}`;
}

/** In a sweep under way: which model it looks like. Undefined where that cannot be said. */
export function looksLikeWords(found: FoundInCatalogue | undefined): string | undefined {
  const [first] = found?.parts ?? [];
  if (found === undefined || first?.share === undefined || first.share < LEAST_LIKENESS) return undefined;
  if (found.verdict === 'none') return undefined;
  if (found.verdict === 'clear')
    return `This looks like ${first.name} of the catalogue. A full sweep still tells how this one differs.`;
  const settledBy = found.settleAt?.length;
  return settledBy === undefined
    ? `This looks like ${first.name} of the catalogue; another reading may settle it.`
    : `This looks like ${first.name} of the catalogue: ${FURTHER[settledBy] ?? counted(settledBy, 'more reading')} would settle it.`;
}

const FURTHER: Readonly<Record<number, string>> = {
  1: 'one more reading',
  2: 'two more readings',
  3: 'three more readings',
};

/** The button that takes the short way, and what it costs. `at`: ohms, none where the model is known already. */
export const shortWayWords = (at: readonly number[]): { readonly press: string; readonly costs: string } => ({
  press:
    at.length === 0
      ? 'Short sweep: end here'
      : `Short sweep: ${at.map((ohm) => `${Number(ohm.toPrecision(3))} \u03a9`).join(', ')}, then end`,
  costs:
    'It tells which model this is, and less well how this one differs. The record says that it was short.',
});

/** Said while a sweep goes the short way. */
export const onShortWay = (looksLike: string): string =>
  `Short sweep: the catalogue takes this for ${looksLike}. Undo brings the full plan back.`;

/** Who signed a card. A signature says who, never how good. */
export function signedWords(signed: {
  readonly kind: 'own' | 'known' | 'unknown' | 'broken' | 'unsigned';
  readonly signer?: string;
  readonly name?: string;
}): string {
  switch (signed.kind) {
    case 'own':
      return 'signed by this shop';
    case 'known':
      return `signed by ${signed.name ?? ''}`;
    case 'unknown':
      return `signed by a shop that is not named here (key ${signed.signer?.slice(0, 12) ?? ''}...)`;
    case 'broken':
      return 'SIGNATURE BROKEN: it is not of this text';
    case 'unsigned':
      return 'not signed';
  }
}

/** A curve out of a table: what it is, how much of it there is, and whether it is new here. */
export function tableCardWords({
  kind,
  quantity,
  name,
  points,
  id,
  ...card
}: TableTaken['cards'][number]): string {
  const what = capital(partWords(kind, quantity));
  const named = name === undefined ? what : `${what} \u201c${name}\u201d`;
  const state = card.new ? (id === undefined ? '' : `, kept as ${id}`) : `, known already as ${id ?? ''}`;
  const noCurve = card.refused === undefined ? '' : `. No curve goes through it: ${card.refused}`;
  return `${named}, ${counted(points, kind === 'gauge' ? 'reading' : 'point')}${state}${noCurve}`;
}

/** What the tables hold that would be kept, in one line. */
export const tablesWords = (curves: number, leftOut: number): string =>
  leftOut === 0 ? counted(curves, 'curve') : `${counted(curves, 'curve')}, ${leftOut} left out`;

/** Heading of the column that tells the side on which an error hides danger. */
export const boundHeading = (side: 'at-least' | 'at-most'): string =>
  side === 'at-least'
    ? '95 % of all read no lower than, 95 % confidence'
    : '95 % of all read no higher than, 95 % confidence';

/** What came along to try things with, and what taking it out does. */
export const demoWords = (cards: number): string =>
  `${counted(cards, 'card')} here ${cards === 1 ? 'is' : 'are'} an invented shop\u2019s, marked DEMO. Your own stay.`;
