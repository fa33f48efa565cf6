import { existsSync } from 'node:fs';
import { join } from 'node:path';
import {
  documentText,
  meantBy,
  readDocument,
  shelfOf,
  shortName,
  STATEMENT_SCHEMA,
  summaryOf,
  type Card,
  type CardSummary,
  type Said,
  type ShelfCard,
  type Statement,
} from '../../catalogue';
import type { Refused } from '../../core/result';
import { refuse } from '../../refusals';
import { hashOf, Keeper, type Derived, type Document, type PlacedDocument } from './keeper';
import { shopKey, type ShopKey } from './signature';
import { Slips } from './slips';
import { openSqlite } from './sqlite';
import { cardOf, derivedVersion, readDerived, workOut, type WorkedOut } from './worked-out';

const CATALOGUE_FILE = 'catalogue.sqlite';
const SLIPS_FILE = 'catalogue-slips.sqlite';
const KEY_FILE = 'catalogue-key.pem';
const WORK_MS = 10_000;

/** A card with what was said about it and what was worked out of it; `search` is undefined until it is. */
export type Entry = ShelfCard & { readonly search: WorkedOut | undefined };

type WithoutSchema<Each> = Each extends unknown ? Omit<Each, 'schema'> : never;
/** A remark before it becomes a document. */
export type Remark = WithoutSchema<Statement>;

/**
 * What was read of one catalogue, kept until its file holds other documents: a page asks again with every reading, and
 * 100,000 cards take seconds to read.
 */
let lastRead: { readonly stamp: string; readonly entries: readonly Entry[] } | undefined;

/** Every curve a shop has measured. Several programs may have it open at once. */
export class Catalogue {
  readonly keeper: Keeper;
  readonly slips: Slips;
  readonly program: string;
  readonly #folder: string;
  readonly #version: string;

  private constructor(keeper: Keeper, folder: string, program: string) {
    this.keeper = keeper;
    this.#folder = folder;
    this.slips = new Slips(join(folder, SLIPS_FILE));
    this.program = program;
    this.#version = derivedVersion(program);
  }

  /** Whether a folder has a catalogue: whoever only looks makes none. */
  static isIn(folder: string): boolean {
    return existsSync(join(folder, CATALOGUE_FILE));
  }

  /** Opens the catalogue of a folder, which is made where there is none. Throws CatalogueTrouble. */
  static async open(folder: string, program: string): Promise<Catalogue> {
    const db = await openSqlite(join(folder, CATALOGUE_FILE));
    try {
      return new Catalogue(new Keeper(db), folder, program);
    } catch (error) {
      db.close();
      throw error;
    }
  }

  /** Keeps cards. A card that is there already, or is one but for the program that made it, is known, not new. */
  add(cards: readonly Card[], at: string): { readonly hash: string; readonly isNew: boolean }[] {
    const known = this.#like(cards);
    const documents = cards.map((card): Document & { readonly like: string | undefined } => {
      const body = documentText(card);
      return { hash: hashOf(body), kind: 'card', body, like: known.get(withoutProgram(card)) };
    });
    const fresh = new Set(
      this.keeper.add(
        documents.filter(({ like }) => like === undefined),
        at,
        'here',
      ),
    );
    return documents.map(({ hash, like }) => ({ hash: like ?? hash, isNew: fresh.has(hash) }));
  }

  /** The hash under which each card is kept, whichever program made it; undefined where it is not. */
  known(cards: readonly Card[]): (string | undefined)[] {
    const known = this.#like(cards);
    return cards.map((card) => known.get(withoutProgram(card)));
  }

  /** Cards of the same jobs and tables, by what they say apart from the program. */
  #like(cards: readonly Card[]): ReadonlyMap<string, string> {
    const jobs = new Set(cards.flatMap((card) => card.made_from?.job ?? []));
    const tables = new Set(
      cards.flatMap((card) => (card.made_from?.job === undefined ? [pointsText(documentText(card))] : [])),
    );
    const found = new Map<string, string>();
    const note = (document: PlacedDocument): void => {
      const card = cardOf(document);
      if (card !== undefined) found.set(withoutProgram(card), document.hash);
    };
    for (const job of jobs) for (const document of this.keeper.holding(job)) note(document);
    if (tables.size > 0)
      for (const document of this.keeper.cards()) if (tables.has(pointsText(document.body))) note(document);
    return found;
  }

  say(remarks: readonly Remark[]): void {
    const documents = remarks.map((remark): Document & { readonly at: string } => {
      const body = documentText({ schema: STATEMENT_SCHEMA, ...remark });
      return { hash: hashOf(body), kind: 'statement', body, at: remark.at };
    });
    const [first] = documents;
    if (first !== undefined) this.keeper.add(documents, first.at, 'here');
  }

  /** The key of this shop, made when first asked for; undefined where nothing was signed yet and none shall be made. */
  key(whenMissing: 'make' | 'none'): ShopKey | undefined {
    const path = join(this.#folder, KEY_FILE);
    return whenMissing === 'make' || existsSync(path) ? shopKey(path) : undefined;
  }

  /** Signs everything that was made here and leaves the machine now. Throws CatalogueTrouble (CATALOGUE_KEY). */
  signOwn(): void {
    const key = shopKey(join(this.#folder, KEY_FILE));
    this.keeper.signOwn(key.sign);
  }

  /** Everything there is, in the order of its hashes. */
  entries(): readonly Entry[] {
    const stamp = `${this.#version} ${this.keeper.stamp(this.#version)}`;
    if (lastRead?.stamp !== stamp) lastRead = { stamp, entries: this.#read() };
    return lastRead.entries;
  }

  #read(): Entry[] {
    const worked = new Map<string, WorkedOut>();
    const summaries = new Map<string, CardSummary>();
    for (const derived of this.keeper.derived(this.#version)) {
      const read = readDerived(derived);
      if (read === undefined) continue;
      summaries.set(derived.hash, read.summary);
      worked.set(derived.hash, read.search);
    }
    for (const document of this.keeper.notWorkedOut(this.#version)) {
      const card = cardOf(document);
      if (card !== undefined) summaries.set(document.hash, summaryOf(card));
    }
    const shelf = shelfOf(summaries, this.keeper.statements().flatMap(saidBy));
    return [...shelf.values()]
      .sort((one, other) => (one.hash < other.hash ? -1 : 1))
      .map((each) => ({ ...each, search: worked.get(each.hash) }));
  }

  /** Refuses CARD_UNKNOWN, CARD_AMBIGUOUS. */
  meant(typed: string): string | Refused {
    const found = meantBy(typed, this.keeper.hashes('card'));
    const [only, ...others] = found;
    if (only === undefined) return refuse('CARD_UNKNOWN', { typed });
    return others.length === 0 ? only : refuse('CARD_AMBIGUOUS', { typed, names: found.map(shortName) });
  }

  card(hash: string): Card | undefined {
    const document = this.keeper.one(hash);
    return document === undefined ? undefined : cardOf(document);
  }

  /** Works out what is not worked out, until told to stop. Answers how many are left. */
  workOut(isEnough: () => boolean = () => false): number {
    const waiting = this.keeper.notWorkedOut(this.#version);
    let done = 0;
    for (const document of waiting) {
      if (isEnough()) break;
      const card = cardOf(document);
      if (card !== undefined) this.keeper.putDerived(this.#version, [workOut(document.hash, card)]);
      done += 1;
    }
    return waiting.length - done;
  }

  /** Works cards out for a while before an answer is given without the rest. */
  workOutForAnswer(): void {
    const untilMs = Date.now() + WORK_MS;
    this.workOut(() => Date.now() > untilMs);
  }

  /** Forgets everything that was worked out. */
  forgetWorkedOut(): void {
    this.keeper.clearDerived();
  }

  /** What the cache has of a card. */
  derivedOf(hash: string): Derived | undefined {
    return this.keeper.derivedOf(this.#version, hash);
  }

  close(): void {
    this.keeper.close();
    this.slips.close();
  }
}

/** The points of a document as they stand in its text: keys are in order, and no other part of a card is called so. */
const pointsText = (body: string): string =>
  body.slice(body.indexOf('"points":['), body.indexOf('],"quantity":'));

function withoutProgram({ made_from: made, ...card }: Card): string {
  return documentText({ ...card, ...(made === undefined ? {} : { made_from: { ...made, program: '-' } }) });
}

function saidBy({ hash, body }: PlacedDocument): Said[] {
  const read = readDocument(body);
  return read.kind === 'statement' ? [{ hash, statement: read.statement }] : [];
}
