import { cp, mkdir } from 'node:fs/promises';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { z } from 'zod';
import { needOf } from '../../host/server/gate';
import { emptyShop } from '../support/catalogue/empty-shop';
import type { SmallShop } from '../support/catalogue/small-shop';
import { openTestHost, type TestHost } from './support';

const Suited = z.looseObject({
  kind: z.literal('senders-for-gauge'),
  unit: z.string(),
  senders: z.array(
    z.looseObject({
      name: z.string(),
      alone: z.number(),
      worst: z.number(),
      parts: z.array(z.strictObject({ place: z.string(), resistanceOhm: z.number() })),
    }),
  ),
  unusable: z.array(z.looseObject({ name: z.string() })),
});

/** A gauge whose scale is even in ohms: 240 ohm empty, 33 ohm full, as the trade's 240-33 family has it (common practice). */
const LEVELS = [0, 12.5, 25, 37.5, 50, 62.5, 75, 87.5, 100];
const ohmAt = (level: number): number => 240 - (207 * level) / 100;
const gauge = ['resistance_ohm,reading_percent', ...LEVELS.map((level) => `${ohmAt(level)},${level}`)].join(
  '\n',
);
const sender = (ohmOf: (level: number) => number): string =>
  ['level_percent,resistance_ohm', ...LEVELS.map((level) => `${level},${ohmOf(level)}`)].join('\n');

describe('the senders that suit a gauge', () => {
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
  const get = async (path: string): Promise<{ status: number; body: unknown }> => {
    const answer = await fetch(`http://${host.place}/api/${path}`);
    return { status: answer.status, body: await answer.json() };
  };

  it('are ranked by the worst error left, with the resistor that series addition asks for', async () => {
    await shop.desk.tables([{ from: 'dial.csv', text: gauge }], { model: 'Kestrel fuel gauge' });
    const senders = [
      { from: 'twenty less.csv', text: sender((level) => ohmAt(level) - 20) },
      { from: 'made for it.csv', text: sender(ohmAt) },
      { from: 'upside down.csv', text: sender((level) => ohmAt(100 - level)) },
      { from: 'oil.csv', text: 'pressure_bar,resistance_ohm\n0,240\n3,120\n6,33\n' },
    ];
    for (const one of senders) await shop.desk.tables([one], { model: one.from.replace('.csv', '') });
    const { body } = await get('catalogue/model/Kestrel%20fuel%20gauge/senders');
    const { unit, senders: found } = Suited.parse(body);
    expect(unit).toBe('%');
    expect(found.map(({ name }) => name)).toEqual(['made for it', 'twenty less', 'upside down']);
    const [fits, less, upside] = found;
    expect(fits?.alone).toBeLessThan(0.5);
    expect(less?.parts).toEqual([{ place: 'series', resistanceOhm: 20 }]);
    expect(less?.worst).toBeLessThan(0.5);
    // 20 ohm of 207 over the whole scale.
    expect(less?.alone).toBeGreaterThan(9);
    expect(upside?.worst).toBeGreaterThan(30);
  });

  it('are ranked for the gauge of a job as well, and nothing is made by asking', async () => {
    const demo = new URL('../../demo-sessions/tern-1100-fuel', import.meta.url);
    await mkdir(join(shop.folder, 'tern'));
    await cp(new URL(`${demo.href}/job.ndjson`), join(shop.folder, 'tern/job.ndjson'));
    expect(Suited.parse((await get('jobs/tern/catalogue/senders')).body).senders).toEqual([]);
    await shop.desk.tables([{ from: 'made for it.csv', text: sender(ohmAt) }], { model: undefined });
    const { senders: found } = Suited.parse((await get('jobs/tern/catalogue/senders')).body);
    expect(found).toHaveLength(1);
    expect(found[0]?.worst).toBeGreaterThan(0);
  });

  it('are asked of a gauge only, and by screens that only watch too', async () => {
    const [table] = (await keptSender()).tables;
    const { status, body } = await get(`catalogue/card/${table?.cards[0]?.id}/senders`);
    expect([status, body]).toMatchObject([422, { code: 'CARD_IS_NO_GAUGE' }]);
    expect((await get('catalogue/model/nobody/senders')).status).toBe(404);
    expect((await get('jobs/nobody/catalogue/senders')).status).toBe(404);
    expect(needOf('GET', '/api/catalogue/:kind/:name/senders')).toBe('watch');
  });

  const keptSender = async () => {
    const kept = await shop.desk.tables([{ text: sender(ohmAt) }], { model: undefined });
    if (kept.kind === 'refused') throw new Error(kept.message);
    return kept;
  };
});
