import { readdirSync } from 'node:fs';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { z } from 'zod';
import { needOf } from '../../host/server/gate';
import { Catalogue } from '../../host/store/catalogue';
import { emptyShop } from '../support/catalogue/empty-shop';
import type { SmallShop } from '../support/catalogue/small-shop';
import { openTestHost, type TestHost } from './support';

const Taken = z.looseObject({
  tables: z.array(
    z.looseObject({
      cards: z.array(
        z.looseObject({
          id: z.string().optional(),
          new: z.boolean(),
          points: z.number(),
          refused: z.string().optional(),
        }),
      ),
      leftOut: z.array(z.looseObject({ row: z.number().optional(), text: z.string().optional() })),
      leftOutCount: z.number(),
    }),
  ),
});

const BAD = 'resistance_ohm,reading_percent\n10,0\n30,22\n6O,41\n90,55\n140,75\n';
const MENDED = BAD.replace('6O', '60');
const SENDER = 'temperature_C;resistance_ohm\n40;1200\n60;600\n80;300\n';

describe('tables brought into the catalogue, by HTTP', () => {
  let shop: SmallShop;
  let host: TestHost;
  beforeEach(async () => {
    shop = emptyShop();
    host = await openTestHost({ catalogue: shop.desk });
  });
  afterEach(async () => {
    await host.close();
    shop.end();
  });

  const post = (body: unknown): Promise<Response> =>
    fetch(`http://${host.place}/api/catalogue/tables`, {
      method: 'POST',
      headers: { 'content-type': 'application/json' },
      body: JSON.stringify(body),
    });
  const told = async (tables: readonly object[], keep?: object) =>
    Taken.parse(await (await post({ tables, ...(keep === undefined ? {} : { keep }) })).json()).tables;

  it('are looked at without making a catalogue, and kept once', async () => {
    const tables = [{ from: 'one.csv', text: BAD }, { text: SENDER }];
    expect(await told(tables)).toMatchObject([
      { cards: [{ new: true, points: 4 }], leftOut: [{ row: 4, text: '6O,41' }], leftOutCount: 1 },
      { cards: [{ new: true, points: 3 }], leftOutCount: 0 },
    ]);
    expect(readdirSync(shop.folder).filter((name) => name.startsWith('catalogue'))).toEqual([]);
    const kept = await told(tables, {});
    expect(kept.flatMap(({ cards }) => cards).every((card) => card.new && card.id !== undefined)).toBe(true);
    const again = await told(tables, {});
    expect(again.flatMap(({ cards }) => cards).map((card) => card.new)).toEqual([false, false]);
    const catalogue = await Catalogue.open(shop.folder, 'test');
    expect(
      catalogue
        .entries()
        .map(({ summary }) => summary.description)
        .sort(),
    ).toEqual(['one', undefined]);
    catalogue.close();
  });

  it('that were mended take the place of what they were, of the same model', async () => {
    const [first] = await told([{ from: 'one.csv', text: BAD }], { model: 'Tern 1100 fuel' });
    const id = first?.cards[0]?.id;
    const mended = { from: 'one.csv', text: MENDED, replaces: id };
    const [second] = await told([mended], { model: 'Tern 1100 fuel' });
    expect(second?.cards[0]).toMatchObject({ new: true, points: 5 });
    const catalogue = await Catalogue.open(shop.folder, 'test');
    const entries = catalogue.entries();
    catalogue.close();
    expect(entries.map(({ model }) => model)).toEqual(['Tern 1100 fuel', 'Tern 1100 fuel']);
    expect(entries.filter(({ supersededBy }) => supersededBy === undefined)).toHaveLength(1);
    expect(entries.find(({ supersededBy }) => supersededBy === undefined)?.summary.counted).toBe(5);
  });

  it('say after keeping that two readings make no curve, and keep them all the same', async () => {
    const text = 'resistance_ohm,reading_percent\n10,0\n90,100\n';
    const [table] = await told([{ text }], {});
    expect(table?.cards[0]).toMatchObject({ new: true, points: 2 });
    expect(table?.cards[0]?.refused).toMatch(/off its stops at 2 res/);
  });

  it('are refused whole where they are no tables, too many or too long', async () => {
    for (const body of [
      {},
      { tables: [] },
      { tables: [{ text: 1 }] },
      { tables: Array(51).fill({ text: '' }) },
    ])
      expect((await post(body)).status).toBe(422);
    expect((await post({ tables: [{ text: 'x'.repeat(9 * 2 ** 20) }] })).status).toBe(413);
    expect(needOf('POST', '/api/catalogue/tables')).toBe('operate');
  });
});
