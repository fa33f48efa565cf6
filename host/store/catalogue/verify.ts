import { readDocument, shortName } from '../../catalogue';
import type { Catalogue } from './catalogue';
import { hashOf, type PlacedDocument } from './keeper';
import { BROKEN_SIGNATURE, isSignedBy } from './signature';
import { cardOf, workOut } from './worked-out';

/** Fitting all of a large catalogue again takes hours: so many, spread over it, show whether the cache is sound. */
const MOST_FITTED = 200;

export type Verified = {
  readonly documents: number;
  readonly fitted: number;
  /** What is wrong, in words; empty where all is well. */
  readonly faults: readonly string[];
};

/** Takes every hash again, reads every document, and fits cards anew to compare with the cache. */
export function verify(catalogue: Catalogue): Verified {
  const documents = catalogue.keeper.since(0);
  const cards = documents.filter(({ kind }) => kind === 'card');
  const every = Math.max(1, Math.ceil(cards.length / MOST_FITTED));
  const fitted = cards.filter((_, index) => index % every === 0);
  return {
    documents: documents.length,
    fitted: fitted.length,
    faults: [
      ...catalogue.keeper.faults().map((fault) => `${catalogue.keeper.path}: ${fault}`),
      ...documents.flatMap(documentFault),
      ...fitted.flatMap((document) => cacheFault(catalogue, document)),
    ],
  };
}

function documentFault({ hash, body, kind, place, signer, signature }: PlacedDocument): string[] {
  const name = `${shortName(hash)} (place ${place})`;
  if (hashOf(body) !== hash) return [`${name}: its text is not the one its name was made of`];
  if (signer !== undefined && !isSignedBy(body, { signer, signature: signature ?? '' }))
    return [`${name}: ${BROKEN_SIGNATURE}`];
  const read = readDocument(body);
  if (read.kind === 'bad') return [`${name}: ${read.why}`];
  return read.kind === kind ? [] : [`${name}: kept as a ${kind}, and it is a ${read.kind}`];
}

function cacheFault(catalogue: Catalogue, document: PlacedDocument): string[] {
  const kept = catalogue.derivedOf(document.hash);
  const card = cardOf(document);
  if (kept === undefined || card === undefined) return [];
  const fresh = workOut(document.hash, card);
  const isSame =
    fresh.answer === kept.answer && Buffer.from(fresh.columns ?? []).equals(Buffer.from(kept.columns ?? []));
  return isSame
    ? []
    : [`${shortName(document.hash)}: worked out otherwise than today; run "catalogue rebuild"`];
}
