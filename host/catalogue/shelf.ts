import type { Statement } from './statement';
import type { CardSummary } from './summary';

/** A card with what has been said about it. */
export type ShelfCard = {
  readonly hash: string;
  readonly summary: CardSummary;
  /** As a person named the model; undefined while nobody has. */
  readonly model: string | undefined;
  /** Other names of that model. */
  readonly alsoCalled: readonly string[];
  /** The smallest hash among the cards of one specimen: of one job's gauge, or as somebody said; else its own. */
  readonly specimen: string;
  readonly withdrawnBecause: string | undefined;
  readonly supersededBy: string | undefined;
};

/** A statement and the hash of its document. */
export type Said = { readonly hash: string; readonly statement: Statement };

/** One name however it is spelt: case and blanks tell no two models apart. */
export const modelKey = (name: string): string => name.trim().replace(/\s+/g, ' ').toLowerCase();

/**
 * Cards with what is said about them. The order in which documents arrived does not matter: of two remarks on one thing
 * the later one counts, and of two of one moment the one whose hash is greater, so that two shops with the same documents
 * see the same.
 */
export function shelfOf(
  cards: ReadonlyMap<string, CardSummary>,
  statements: readonly Said[],
): ReadonlyMap<string, ShelfCard> {
  const said = [...statements].sort(
    (one, other) => compare(one.statement.at, other.statement.at) || compare(one.hash, other.hash),
  );
  const remarks = remarksOf(
    said.map(({ statement }) => statement),
    oneJobEach(cards),
  );
  return new Map([...cards].map(([hash, summary]) => [hash, shelved(hash, summary, remarks)]));
}

type Remarks = {
  readonly model: Map<string, string>;
  readonly withdrawn: Map<string, string>;
  readonly superseded: Map<string, string>;
  readonly specimens: Groups;
  readonly names: Groups;
  /** As they were first spelt. */
  readonly spelt: Map<string, string>;
};

/** The gauge of a job is one part, however often it was swept. */
function oneJobEach(cards: ReadonlyMap<string, CardSummary>): Groups {
  const specimens = new Groups();
  const first = new Map<string, string>();
  for (const [hash, { kind, job }] of cards) {
    if (kind !== 'gauge' || job === undefined) continue;
    specimens.join(first.get(job) ?? hash, hash);
    if (!first.has(job)) first.set(job, hash);
  }
  return specimens;
}

function remarksOf(statements: readonly Statement[], specimens: Groups): Remarks {
  const remarks: Remarks = {
    ...{ model: new Map(), withdrawn: new Map(), superseded: new Map(), spelt: new Map() },
    ...{ specimens, names: new Groups() },
  };
  for (const statement of statements) note(remarks, statement);
  return remarks;
}

function note(remarks: Remarks, statement: Statement): void {
  switch (statement.says) {
    case 'belongs-to-model':
      spell(remarks, statement.model);
      for (const hash of statement.about) remarks.model.set(hash, statement.model);
      return;
    case 'model-also-called':
      spell(remarks, statement.model);
      spell(remarks, statement.also);
      remarks.names.join(modelKey(statement.model), modelKey(statement.also));
      return;
    case 'same-specimen':
      for (const hash of statement.about) remarks.specimens.join(statement.about[0] ?? hash, hash);
      return;
    case 'other-specimens':
      for (const hash of statement.about) remarks.specimens.leave(hash);
      return;
    case 'supersedes':
      for (const hash of statement.about) remarks.superseded.set(hash, statement.by);
      return;
    case 'withdrawn':
      for (const hash of statement.about) remarks.withdrawn.set(hash, statement.reason);
      return;
  }
}

const spell = ({ spelt }: Remarks, name: string): void => {
  const key = modelKey(name);
  if (!spelt.has(key)) spelt.set(key, name.trim());
};

function shelved(hash: string, summary: CardSummary, remarks: Remarks): ShelfCard {
  const named = remarks.model.get(hash);
  const names = named === undefined ? [] : remarks.names.group(modelKey(named));
  const [first, ...others] = names.map((key) => remarks.spelt.get(key) ?? key);
  return {
    ...{ hash, summary, model: first, alsoCalled: others },
    specimen: remarks.specimens.group(hash)[0] ?? hash,
    withdrawnBecause: remarks.withdrawn.get(hash),
    supersededBy: remarks.superseded.get(hash),
  };
}

const compare = (one: string, other: string): number => (one < other ? -1 : one > other ? 1 : 0);

/** Things said to be the same. */
class Groups {
  readonly #groups = new Map<string, readonly string[]>();

  join(one: string, other: string): void {
    if (this.group(one).includes(other)) return;
    this.#set([...this.group(one), ...this.group(other)].sort(compare));
  }

  /** Is by itself from now on. */
  leave(one: string): void {
    this.#set(this.group(one).filter((each) => each !== one));
    this.#set([one]);
  }

  /** In order; the first stands for all. */
  group(one: string): readonly string[] {
    return this.#groups.get(one) ?? [one];
  }

  #set(group: readonly string[]): void {
    for (const each of group) this.#groups.set(each, group);
  }
}
