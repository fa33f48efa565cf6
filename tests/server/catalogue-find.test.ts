import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { z } from 'zod';
import { ARC_UNIT } from '../../host/core/catalogue/arc-scale';
import { needOf } from '../../host/server/gate';
import { Catalogue, removeDemo } from '../../host/store/catalogue';
import { smallShop, type SmallShop } from '../support/catalogue/small-shop';
import { openTestHost, type TestHost } from './support';

const Found = z.looseObject({
  kind: z.literal('found-in-catalogue'),
  parts: z.array(
    z.looseObject({
      name: z.string(),
      model: z.string().optional(),
      cards: z.array(z.string()),
      share: z.number().optional(),
      offBy: z.number().optional(),
      line: z.array(z.tuple([z.number(), z.number()])),
      because: z.array(z.string()),
    }),
  ),
  verdict: z.enum(['clear', 'open', 'none']).optional(),
  settleAt: z.array(z.number()).optional(),
  next: z
    .looseObject({
      at: z.number(),
      expected: z.array(z.looseObject({ name: z.string(), value: z.number() })),
    })
    .optional(),
  holds: z.strictObject({ gauges: z.number(), senders: z.number(), models: z.number() }),
});
const Part = z.looseObject({
  kind: z.literal('part-in-catalogue'),
  name: z.string(),
  specimens: z.array(z.looseObject({ id: z.string(), knownTo: z.number().optional(), counts: z.boolean() })),
  marks: z.array(
    z.looseObject({
      at: z.number(),
      middle: z.number(),
      next: z.strictObject({ from: z.number(), to: z.number() }),
    }),
  ),
});
const Refusal = z.looseObject({ kind: z.literal('refused'), code: z.string() });

/** The heater of the first model: 62 ohm, scale from 590 ohm (40 degC) to 52 ohm (120 degC); its power is what is read. */
const heaterPlace = (ohm: number): number => {
  const power = (each: number): number => 1 / (each + 62) ** 2;
  return (power(ohm) - power(590)) / (power(52) - power(590));
};

describe('finding in the catalogue, by HTTP', () => {
  let shop: SmallShop;
  let host: TestHost;
  beforeAll(async () => {
    shop = await smallShop();
  });
  afterAll(() => shop.end());
  beforeEach(async () => {
    host = await openTestHost({ catalogue: shop.desk });
  });
  afterEach(() => host.close());

  const get = async (path: string): Promise<{ status: number; body: unknown }> => {
    const answer = await fetch(`http://${host.place}/api/catalogue/${path}`);
    return { status: answer.status, body: await answer.json() };
  };
  const find = (ask: object): Promise<{ status: number; body: unknown }> =>
    get(
      `find?ask=${encodeURIComponent(
        JSON.stringify({
          ...{ kind: 'gauge', unit: ARC_UNIT, points: [], words: '', withSimulated: false },
          ...ask,
        }),
      )}`,
    );

  it('knows a gauge by where its needle sits, and says where to read next until it does', async () => {
    const points = [155, 97].map((ohm) => ({ resistanceOhm: ohm, value: heaterPlace(ohm) }));
    const found = Found.parse((await find({ points })).body);
    expect(found.parts[0]).toMatchObject({ name: 'Harrow Six coolant gauge' });
    expect(found.parts[0]?.cards).toHaveLength(8);
    expect(found.parts[0]?.offBy).toBeLessThan(0.02);
    const next = found.next;
    const more = [next?.at ?? 70, 300].map((ohm) => ({ resistanceOhm: ohm, value: heaterPlace(ohm) }));
    const settled = Found.parse((await find({ points: [...points, ...more] })).body);
    expect(settled.verdict).toBe('clear');
    expect(settled.parts[0]?.name).toBe('Harrow Six coolant gauge');
  });

  it('is not sure of anything after one reading, which contradicts nothing', async () => {
    const points = [{ resistanceOhm: 155, value: heaterPlace(155) }];
    const found = Found.parse((await find({ points })).body);
    expect(found.parts[0]?.name).toBe('Harrow Six coolant gauge');
    expect(found.verdict).toBe('open');
  });

  it('says how many more readings would settle it, and keeps to it where these are as foreseen', async () => {
    const degrees = (ohm: number): number => 40 + 80 * heaterPlace(ohm);
    // The middle one is read 3 degC high, as a parallax does.
    let points = [455, 287, 181].map((ohm) => ({
      resistanceOhm: ohm,
      value: degrees(ohm) + (ohm === 287 ? 3 : 0),
    }));
    const ask = { unit: 'degC', quantity: 'temperature' };
    const first = Found.parse((await find({ ...ask, points })).body);
    expect([first.verdict, first.settleAt?.length]).toEqual(['open', 2]);
    expect(first.settleAt?.[0]).toBe(first.next?.at);
    let now = first;
    for (let further = 0; further < 2; further += 1) {
      const [expected] = now.next?.expected ?? [];
      points = [...points, { resistanceOhm: now.next?.at ?? 0, value: expected?.value ?? 0 }];
      now = Found.parse((await find({ ...ask, points })).body);
    }
    expect(now.verdict).toBe('clear');
  });

  it('finds by words, says which, and lists everything where nothing is asked', async () => {
    const all = Found.parse((await find({})).body);
    expect(all.parts.map(({ name }) => name)).toEqual(['Harrow Six coolant gauge', 'Harrow Six fuel gauge']);
    expect(all.verdict).toBeUndefined();
    expect(all.holds).toEqual({ gauges: 14, senders: 0, models: 2 });
    const fuel = Found.parse((await find({ words: 'fuel' })).body);
    expect(fuel.parts.map(({ name, because }) => [name, because])).toEqual([
      ['Harrow Six fuel gauge', ['fuel']],
    ]);
    const none = Found.parse((await find({ words: 'zeppelin' })).body);
    expect(none.parts).toEqual([]);
  });

  it('shows a model with its specimens, and one of them alone', async () => {
    const model = Part.parse((await get('model/harrow%20six%20coolant%20gauge')).body);
    expect(model.name).toBe('Harrow Six coolant gauge');
    expect(model.specimens).toHaveLength(8);
    for (const { at, middle, next } of model.marks) {
      // The maker's own curve lies where the next specimen is said to.
      expect(40 + 80 * heaterPlace(at)).toBeGreaterThan(next.from);
      expect(40 + 80 * heaterPlace(at)).toBeLessThan(next.to);
      expect(middle).toBeGreaterThan(next.from);
    }
    const [first] = model.specimens;
    const alone = Part.parse((await get(`card/${first?.id}`)).body);
    expect(alone.specimens.map(({ id }) => id)).toEqual([first?.id]);
  });

  it('says what it does not know, and what is no question', async () => {
    const model = await get('model/Harow%20six%20coolant%20gauge');
    expect([model.status, Refusal.parse(model.body).code]).toEqual([404, 'MODEL_UNKNOWN']);
    expect(JSON.stringify(model.body)).toContain('Harrow Six coolant gauge');
    const card = await get('card/zzzzzzzzzz');
    expect([card.status, Refusal.parse(card.body).code]).toEqual([404, 'CARD_UNKNOWN']);
    for (const bad of ['find', 'find?ask=%7B', 'find?ask=%7B%7D', 'model/x?simulated=perhaps'])
      expect((await get(bad)).status).toBe(422);
    expect((await get('shelf/x')).status).toBe(404);
    const long = { points: Array.from({ length: 41 }, () => ({ resistanceOhm: 1, value: 0 })) };
    expect((await find(long)).status).toBe(422);
  });

  it('is asked by screens that only watch; the demo is taken by those that operate', () => {
    expect(needOf('GET', '/api/catalogue/find')).toBe('watch');
    expect(needOf('GET', '/api/catalogue/:kind/:name')).toBe('watch');
    expect(needOf('POST', '/api/catalogue/demo')).toBe('operate');
  });
});

describe('the demo in a catalogue', () => {
  it('comes and goes whole, and what a person keeps stays', async () => {
    const shop = await smallShop();
    try {
      const catalogue = await Catalogue.open(shop.folder, 'test');
      catalogue.add(
        [
          {
            ...{
              schema: 'needlewright/card/1',
              kind: 'gauge',
              quantity: 'fuel',
              unit: '%',
              licence: 'private',
            },
            simulated: false,
            points: [
              { resistance_ohm: 10, reading: 100 },
              { resistance_ohm: 70, reading: 0 },
            ],
          },
        ],
        '2026-03-02T12:00:00Z',
      );
      // What a person said of the demo's cards alone goes with them.
      const demoCard = catalogue.entries().find(({ summary }) => summary.demo);
      catalogue.say([
        {
          ...{ says: 'withdrawn', about: [demoCard!.hash], reason: 'worn' },
          at: '2026-03-02T13:00:00Z',
        },
      ]);
      expect(catalogue.keeper.count()).toBe(18);
      expect(await removeDemo(catalogue)).toBe(17);
      expect(catalogue.keeper.count()).toBe(1);
      expect(catalogue.entries().map(({ summary }) => summary.demo)).toEqual([false]);
      catalogue.close();
    } finally {
      shop.end();
    }
  });
});

describe('a catalogue that is asked again', () => {
  it('knows at once what another program has kept, withdrawn and worked out meanwhile', async () => {
    const shop = await smallShop();
    try {
      const points = [155, 97].map((ohm) => ({ resistanceOhm: ohm, value: heaterPlace(ohm) }));
      const ask = { kind: 'gauge', unit: ARC_UNIT, points, words: '', withSimulated: false } as const;
      const told = async () => Found.parse(await shop.desk.find(ask));
      const before = await told();
      expect(await told()).toEqual(before);
      const other = await Catalogue.open(shop.folder, 'test');
      const ofModel = other.entries().filter(({ model }) => model === 'Harrow Six coolant gauge');
      const at = '2026-03-03T12:00:00Z';
      other.say([{ says: 'withdrawn', about: ofModel.map(({ hash }) => hash), reason: 'worn', at }]);
      expect((await told()).parts.map(({ name }) => name)).not.toContain('Harrow Six coolant gauge');
      await removeDemo(other);
      expect((await told()).holds).toEqual({ gauges: 0, senders: 0, models: 0 });
      other.close();
    } finally {
      shop.end();
    }
  });
});
