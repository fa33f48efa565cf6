import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { z } from 'zod';
import { needOf } from '../../host/server/gate';
import { Catalogue } from '../../host/store/catalogue';
import { smallShop, type SmallShop } from '../support/catalogue/small-shop';
import { openTestHost, type TestHost } from './support';

const Part = z.looseObject({
  specimens: z.array(
    z.looseObject({
      ...{ id: z.string(), counts: z.boolean(), sameAs: z.string().optional() },
      fromMiddle: z.array(z.tuple([z.number(), z.number()])),
    }),
  ),
  disagree: z.array(
    z.looseObject({
      cards: z.tuple([z.string(), z.string()]),
      unit: z.string(),
      at: z.number(),
      shows: z.tuple([z.number(), z.number()]),
      explained: z.number(),
    }),
  ),
});

/** A moving coil on a rheostat; `weak`: how much further its hairspring lets it go than it did. */
const degrees = (ohm: number, weak: number): number => 40 + (80 * (1 + weak) * 52) / (ohm + 52);
const table = (weak: number): string =>
  [
    'resistance_ohm,reading_degC',
    ...[10, 20, 40, 60, 90, 120, 180, 260].map(
      (ohm, i) => `${ohm},${(degrees(ohm, weak) + (i % 3) / 10).toFixed(1)}`,
    ),
  ].join('\n');

describe('two curves of one part at the page', () => {
  let shop: SmallShop;
  let host: TestHost;
  beforeEach(async () => {
    shop = await smallShop();
    host = await openTestHost({ catalogue: shop.desk });
    await shop.desk.tables([{ text: table(0) }, { text: table(0.1) }], { model: 'Dray 4' });
    const catalogue = await Catalogue.open(shop.folder, 'test');
    const about = catalogue.entries().flatMap(({ hash, model }) => (model === 'Dray 4' ? [hash] : []));
    catalogue.say([{ says: 'same-specimen', about, at: '2020-01-01T00:00:00Z' }]);
    catalogue.close();
  });
  afterEach(async () => {
    await host.close();
    shop.end();
  });

  const ask = async (path: string, said?: object): Promise<{ status: number; body: unknown }> => {
    const answer = await fetch(
      `http://${host.place}/api/catalogue/${path}`,
      said === undefined
        ? {}
        : {
            method: 'POST',
            headers: { 'content-type': 'application/json' },
            body: JSON.stringify(said),
          },
    );
    return { status: answer.status, body: await answer.json() };
  };
  const part = async (path: string, said?: object) => Part.parse((await ask(path, said)).body);

  it('count once, are both drawn, and are told apart in degrees', async () => {
    const model = await part('model/Dray%204');
    expect(model.specimens.filter(({ counts }) => counts)).toHaveLength(1);
    const [speaker] = model.specimens.filter(({ counts }) => counts);
    expect(model.specimens.find(({ counts }) => !counts)?.sameAs).toBe(speaker?.id);
    // Each dial ends where it was read: the other curve still lies as far off as its hairspring lets it go.
    const other = model.specimens.find(({ counts }) => !counts);
    const off = Math.max(...(other?.fromMiddle ?? []).map(([, by]) => Math.abs(by)));
    expect(off).toBeGreaterThan(5);
    expect(off).toBeLessThan(8);
    const [found, ...more] = model.disagree;
    expect(more).toEqual([]);
    const by = Math.abs(found!.shows[1] - found!.shows[0]);
    expect(found!.unit).toBe('degC');
    expect(Math.abs(by - 0.1 * (degrees(found!.at, 0) - 40))).toBeLessThan(1);
    expect(by).toBeGreaterThan(found!.explained);
    for (const card of found!.cards) expect((await part(`card/${card}`)).disagree).toHaveLength(1);
  });

  it.each([
    ['withdrawn', ([one]: readonly string[]) => ({ says: 'withdrawn', card: one, reason: 'low supply' })],
    ['replaced', ([one, by]: readonly string[]) => ({ says: 'replaced', card: one, by, reason: 'worn' })],
    ['two parts', ([one]: readonly string[]) => ({ says: 'apart', card: one })],
  ])('agree once something is said: %s', async (_, said) => {
    const { disagree } = await part('model/Dray%204');
    expect((await part('model/Dray%204', said(disagree[0]!.cards))).disagree).toEqual([]);
    expect((await part('model/Dray%204')).disagree).toEqual([]);
  });

  it('are not settled by what is no remark, nor of a card that is not there', async () => {
    expect((await ask('model/Dray%204', { says: 'apart', card: 'zzzzzzzzzz' })).status).toBe(404);
    expect((await ask('model/Dray%204', { says: 'withdrawn', card: 'a' })).status).toBe(422);
    expect((await ask('model/Dray%204', { says: 'burnt', card: 'a' })).status).toBe(422);
    expect((await part('model/Dray%204')).disagree).toHaveLength(1);
    expect(needOf('POST', '/api/catalogue/:kind/:name')).toBe('operate');
  });
});
