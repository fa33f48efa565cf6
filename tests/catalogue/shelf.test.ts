import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { shelfOf, type CardSummary, type Said, type Statement } from '../../host/catalogue';

const hash = (letter: string): string => letter.repeat(64);
const at = (day: number): string => `2030-01-${String(day).padStart(2, '0')}T10:00:00Z`;

const summary: CardSummary = {
  ...{ kind: 'sender', quantity: 'fuel', unit: '%', counted: 3 },
  ...{ licence: 'private', simulated: false, demo: false },
};
const cards = new Map(['a', 'b', 'c', 'd'].map((letter) => [hash(letter), summary]));

type Says = Statement extends infer Each ? (Each extends unknown ? Omit<Each, 'schema'> : never) : never;
const remark = (letter: string, said: Says): Said => ({
  hash: `${letter}0`.repeat(32),
  statement: { schema: 'needlewright/statement/1', ...said },
});

const statements: Said[] = [
  remark('1', {
    says: 'belongs-to-model',
    about: [hash('a'), hash('b')],
    model: 'Tern  1100 fuel',
    at: at(1),
  }),
  remark('2', { says: 'belongs-to-model', about: [hash('b')], model: 'Tern 1500 fuel', at: at(2) }),
  remark('3', { says: 'belongs-to-model', about: [hash('c')], model: 'tern 1100 FUEL', at: at(3) }),
  remark('4', { says: 'model-also-called', model: 'Tern 1100 fuel', also: 'Gauge 30', at: at(4) }),
  remark('5', { says: 'belongs-to-model', about: [hash('d')], model: 'gauge 30', at: at(5) }),
  remark('6', { says: 'same-specimen', about: [hash('c'), hash('d')], at: at(6) }),
  remark('7', { says: 'withdrawn', about: [hash('a')], reason: 'meter was flat', at: at(7) }),
];

describe('what is said about cards', () => {
  const shelf = shelfOf(cards, statements);
  const of = (letter: string) => shelf.get(hash(letter));

  it('counts in the order of its days: the later remark on a model wins', () => {
    expect(of('b')?.model).toBe('Tern 1500 fuel');
  });

  it('takes one name in two spellings, and two names that are said to be one, for one model', () => {
    expect(of('c')?.model).toBe(of('a')?.model);
    expect(of('d')?.model).toBe(of('a')?.model);
    expect([of('d')?.model, ...(of('d')?.alsoCalled ?? [])].sort()).toEqual(['Gauge 30', 'Tern  1100 fuel']);
  });

  it('knows cards of one specimen, and those withdrawn with the reason; none is lost', () => {
    expect(of('d')?.specimen).toBe(of('c')?.specimen);
    expect(of('a')?.withdrawnBecause).toBe('meter was flat');
    expect(shelf.size).toBe(4);
  });

  it('takes the gauge of one job for one part, however often it was swept, until somebody says otherwise', () => {
    const job = 'f'.repeat(64);
    const swept = new Map(
      ['a', 'b', 'c'].map((letter) => [hash(letter), { ...summary, kind: 'gauge' as const, job }]),
    );
    swept.set(hash('d'), { ...summary, kind: 'gauge', job: '0'.repeat(64) });
    const specimens = (said: readonly Said[]) =>
      ['a', 'b', 'c', 'd'].map((letter) => shelfOf(swept, said).get(hash(letter))?.specimen);
    expect(specimens([])).toEqual([hash('a'), hash('a'), hash('a'), hash('d')]);
    const apart = remark('1', { says: 'other-specimens', about: [hash('a')], at: at(2) });
    expect(specimens([apart])).toEqual([hash('a'), hash('b'), hash('b'), hash('d')]);
    const same = remark('2', { says: 'same-specimen', about: [hash('a'), hash('d')], at: at(3) });
    expect(specimens([same, apart])).toEqual([hash('a'), hash('b'), hash('b'), hash('a')]);
    // Senders of a job are several parts.
    const senders = new Map(['a', 'b'].map((letter) => [hash(letter), { ...summary, job }]));
    expect(shelfOf(senders, []).get(hash('b'))?.specimen).toBe(hash('b'));
  });

  it('is the same in whatever order documents arrive', () => {
    fc.assert(
      fc.property(fc.shuffledSubarray(statements, { minLength: statements.length }), (shuffled) => {
        const other = shelfOf(cards, shuffled);
        for (const [key, value] of shelf) expect(other.get(key)).toEqual(value);
      }),
    );
  });
});
