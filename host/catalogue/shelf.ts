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
  /** The smallest hash among the cards of one specimen; its own where nobody said more. */
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
  const remarks = remarksOf(said.map(({ statement }) => statement));
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

function remarksOf(statements: readonly Statement[]): Remarks {
  const remarks: Remarks = {
    ...{ model: new Map(), withdrawn: new Map(), superseded: new Map(), spelt: new Map() },
    ...{ specimens: new Groups(), names: new Groups() },
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

/** Things said to be the same. Source: disjoint sets, Galler and Fisher, Comm. ACM 7 (1964) 301-303. */
class Groups {
  readonly #parent = new Map<string, string>();
  readonly #members = new Map<string, string[]>();

  join(one: string, other: string): void {
    const [a, b] = [this.#root(one), this.#root(other)].sort(compare);
    if (a === undefined || b === undefined || a === b) return;
    this.#parent.set(b, a);
    this.#members.set(a, [...this.#of(a), ...this.#of(b)].sort(compare));
  }

  /** In order; the first stands for all. */
  group(one: string): readonly string[] {
    return this.#of(this.#root(one));
  }

  #of(root: string): string[] {
    return this.#members.get(root) ?? [root];
  }

  #root(one: string): string {
    let at = one;
    for (let up = this.#parent.get(at); up !== undefined; up = this.#parent.get(at)) at = up;
    return at;
  }
}
