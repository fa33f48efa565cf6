import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { z } from 'zod';
import type { SimulatedGauge } from '../../host/job/wire/host-messages';
import { hasBrowser } from './browser';
import { keepPicture } from './screenshots';
import { journalOf, openWorkshop, startJob, startSweep, type Workshop } from './workshop';

const ARC_DEGREES = 110;
/** An eye tells "on the mark" from "beside it" over this part of the arc: a third of a needle's tip. */
const ON_MARK_FRACTION = 0.004;

/** Where the drawn needle of the dash stands against the mark that is asked for, as an eye would see it. */
async function lookAgainst(
  page: Page,
  gauge: SimulatedGauge,
  reading: number,
): Promise<'below' | 'on' | 'above'> {
  const turn = (await page.locator('.dash .needle').getAttribute('transform')) ?? '';
  const fraction = Number(/rotate\((-?[\d.]+)\)/.exec(turn)?.[1]) / ARC_DEGREES + 0.5;
  const mark = gauge.marks.find((each) => each.reading === reading);
  if (mark === undefined) throw new Error(`no mark at ${reading}`);
  const away = fraction - mark.angleFraction;
  return Math.abs(away) <= ON_MARK_FRACTION ? 'on' : away < 0 ? 'below' : 'above';
}

const KEYS = { below: 'ArrowLeft', on: 'PageDown', above: 'ArrowRight' } as const;
const BUTTONS = { below: 'Needle is below', on: 'On the mark', above: 'Needle is above' } as const;

/** The mark the page asks about now; undefined when the sweep has come to its end. */
async function askedMark(page: Page): Promise<number | undefined> {
  const asked = page.locator('.seek-answers .button-main:enabled');
  const ended = page.getByRole('button', { name: 'On to the sender' });
  await asked.or(ended).first().waitFor({ timeout: 90_000 });
  if (await ended.isVisible()) return undefined;
  const label = await page.getByRole('group', { name: /^Seek / }).getAttribute('aria-label');
  return Number(/Seek ([\d.]+)/.exec(label ?? '')?.[1]);
}

const findingsShape = z.object({
  curve: z.object({
    curve: z.object({
      marks: z.array(
        z.object({ reading: z.number(), note: z.string(), fromOhm: z.number(), toOhm: z.number() }),
      ),
    }),
  }),
});

/** What the host found of the job on the page. */
const marksFound = async (page: Page) => {
  const text = await page.evaluate(async () => {
    const response = await fetch(`/api/jobs/${location.hash.replace('#/job/', '')}/findings`);
    return response.text();
  });
  return findingsShape.parse(JSON.parse(text)).curve.curve.marks;
};

describe.skipIf(!hasBrowser())('a whole seek sweep through the page, on the simulated bench', () => {
  let workshop: Workshop;
  beforeAll(async () => void (workshop = await openWorkshop()));
  afterAll(() => workshop.close());

  it('walks the needle onto every mark from both sides, and the fitted curve holds the truth within its interval', async () => {
    const gauge = await workshop.simulated('two-coil-fuel');
    const page = await workshop.openScreen();
    await startJob(page, workshop, gauge.name);
    await startSweep(page, { mode: 'Seek the marks', waitSecond: 30 });
    let answers = 0;
    for (let mark = await askedMark(page); mark !== undefined; mark = await askedMark(page)) {
      if (answers === 3) await keepPicture(page, 'live-seek-1280');
      const before = (await journalOf(page)).length;
      const seen = await lookAgainst(page, gauge, mark);
      // Every other answer by a key, wherever the focus is.
      if (answers % 2 === 0) await page.getByRole('button', { name: BUTTONS[seen] }).click();
      else await page.keyboard.press(KEYS[seen]);
      await expect
        .poll(async () => (await journalOf(page)).length, { timeout: 90_000 })
        .toBeGreaterThan(before);
      answers += 1;
    }
    const read = (await journalOf(page)).filter((event) => event.kind === 'reading');
    expect(new Set(read.map((event) => event.method))).toEqual(new Set(['seek']));
    expect(read.length).toBeGreaterThanOrEqual(gauge.marks.length + 3);
    expect(answers).toBeGreaterThan(read.length);

    const marks = (await marksFound(page)).filter(
      (mark) => mark.note === 'measured' || mark.note === 'between',
    );
    expect(marks.length).toBeGreaterThanOrEqual(4);
    const truths = new Map(gauge.originalSender.map((row) => [row.value, row.ohm]));
    const spanOhm = Math.max(...truths.values()) - Math.min(...truths.values());
    // Each interval holds the truth with 95 %: of five, one may just miss it; none may be far off, and none may be wide.
    const misses = marks.map(({ reading, fromOhm, toOhm }) => {
      const half = (toOhm - fromOhm) / 2;
      expect([reading, half < 0.03 * spanOhm]).toEqual([reading, true]);
      return Math.abs((truths.get(reading) ?? NaN) - (fromOhm + toOhm) / 2) / half;
    });
    expect(misses.filter((miss) => !(miss <= 1)).length).toBeLessThanOrEqual(1);
    expect(Math.max(...misses)).toBeLessThan(1.5);
    expect(workshop.troubles).toEqual([]);
  });
});
