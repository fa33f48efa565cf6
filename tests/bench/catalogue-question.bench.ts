import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { documentText, summaryOf, type Card } from '../../host/catalogue';
import { POSITIONS } from '../../host/core/catalogue/columns';
import { randomSource, type RandomSource } from '../../host/core/numeric/random';
import { answerFromCatalogue, Catalogue } from '../../host/store/catalogue';
import { hashOf, type Derived, type Document } from '../../host/store/catalogue/keeper';
import { derivedVersion } from '../../host/store/catalogue/worked-out';
import {
  anyMaker,
  measured,
  readBy,
  specimenOf,
  threeOhms,
  type Maker,
} from '../support/catalogue/gauge-world';
import { addRow } from './table';

const PROGRAM = 'bench';
const AT_ONCE = 5_000;

/** A card and its columns as the background work leaves them; fitting 100,000 would take three hours. */
function workedOut(maker: Maker, index: number, random: RandomSource): readonly [Document, Derived] {
  const card: Card = {
    ...{ schema: 'needlewright/card/1', kind: 'gauge', quantity: 'fuel', unit: '%', licence: 'private' },
    ...{ description: `part ${index}`, simulated: false },
    points: Array.from({ length: 10 }, (_, k) => ({ resistance_ohm: 10 + 20 * k, reading: 10 * k })),
  };
  const body = documentText(card);
  const hash = hashOf(body);
  const { value, uncertainty, ...search } = measured(specimenOf(maker, random, 0.02), maker, random);
  const both = new Float32Array(2 * POSITIONS);
  both.set(value);
  both.set(uncertainty, POSITIONS);
  const answer = JSON.stringify({ summary: summaryOf(card), search });
  return [
    { hash, kind: 'card', body },
    { hash, answer, columns: new Uint8Array(both.buffer) },
  ];
}

async function filled(folder: string, count: number, random: RandomSource): Promise<Maker> {
  const makers = Array.from({ length: count / 10 }, () => anyMaker(random));
  const catalogue = await Catalogue.open(folder, PROGRAM);
  for (let from = 0; from < count; from += AT_ONCE) {
    const some = Array.from({ length: Math.min(AT_ONCE, count - from) }, (_, i) =>
      workedOut(makers[(from + i) % makers.length]!, from + i, random),
    );
    catalogue.keeper.add(
      some.map(([document]) => document),
      '2030-01-01T00:00:00Z',
    );
    catalogue.keeper.putDerived(
      derivedVersion(PROGRAM),
      some.map(([, derived]) => derived),
    );
  }
  catalogue.close();
  return makers[0]!;
}

describe('a question of the page, from its words to its answer', () => {
  it.each([1_000, 10_000, 100_000])('among %i cards without a model', async (count) => {
    const folder = mkdtempSync(join(tmpdir(), 'catalogue-'));
    const random = randomSource(3);
    const maker = await filled(folder, count, random);
    const times: { readonly ms: number; readonly cpuMs: number }[] = [];
    for (let question = 0; question < 6; question += 1) {
      const part = specimenOf(maker, random, 0.02);
      const points = threeOhms(maker, random).map((ohm) => readBy(part, ohm, random));
      const ask = { kind: 'gauge', unit: '%', points, words: '', withSimulated: false } as const;
      const [askedMs, cpu] = [performance.now(), process.cpuUsage()];
      const answer = await answerFromCatalogue({ kind: 'find', folder, program: PROGRAM, ask });
      const { user, system } = process.cpuUsage(cpu);
      times.push({ ms: performance.now() - askedMs, cpuMs: (user + system) / 1_000 });
      expect(answer.kind).toBe('found-in-catalogue');
    }
    rmSync(folder, { recursive: true, force: true });
    const [first, ...again] = times;
    const told = (each: (typeof times)[number] | undefined): string =>
      `${(each?.ms ?? 0).toFixed(0)} ms (${(each?.cpuMs ?? 0).toFixed(0)} ms of work)`;
    const middle = again.sort((one, other) => one.ms - other.ms)[Math.floor(again.length / 2)];
    addRow({
      part: 'catalogue',
      what: `a question of the page among ${count} cards, the first and one asked again`,
      measured: `${told(first)}, ${told(middle)}`,
      goal: count === 100_000 ? 'first under 1.5 s, again under 200 ms' : '',
    });
  });
});
