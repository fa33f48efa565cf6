import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { z } from 'zod';
import { hasBrowser } from './browser';
import { askedOhm, DRAWER, LEADS_OHM, ohmAt, readAndConfirm, shown, startByHand } from './hand-steps';
import { sidewaysPx } from './layout';
import { keepPicture } from './screenshots';
import { phoneOf } from './touch';
import { journalOf, openWorkshop, type Workshop } from './workshop';

const Marks = z.object({
  marks: z.array(z.object({ reading: z.number(), resistanceOhm: z.number() })),
});
const Sheet = z.object({
  gauges: z.array(
    z.object({ place: z.string(), done: z.string(), found: Marks.optional(), left: Marks.optional() }),
  ),
});
const LONG_MS = 600_000;
/** What somebody moves the pointer by, in degrees of the dial. */
const MOVED_CELSIUS = 3;

/** Two thermal temperature gauges side by side, and nothing that is a box. */
async function openCluster(page: Page, workshop: Workshop): Promise<void> {
  await page.goto(workshop.server.url);
  await page.getByRole('link', { name: /^A whole cluster/ }).click();
  await page.getByText('Gauges on my bench').click();
  await page.getByLabel('Which vehicle?').fill('Marlow Tourer (1961)');
  for (const [at, group] of (await page.getByRole('group', { name: /^Gauge \d/ }).all()).entries()) {
    await group.getByLabel('What does it show?').selectOption({ index: 0 });
    await group.getByLabel('What moves the needle?').selectOption('thermal');
    await group.getByLabel('Where does it sit?').fill(['left', 'right'][at] ?? '');
  }
  await page.getByLabel('Fuse in the feed').fill('2');
  await page.getByRole('button', { name: 'Open the cluster sheet' }).click();
}

const countOf = async (page: Page): Promise<number> =>
  (await journalOf(page)).filter(({ kind }) => kind === 'reading').length;

/** One gauge on its own sheet, from the parts to the last reading, and back to the cluster. */
async function sweepByHand(page: Page, place: string, movedBy: number, isFirst: boolean): Promise<void> {
  await page.getByRole('button', { name: `By hand: ${place}` }).click();
  const drawer = page.getByLabel('Resistors you have');
  const again = page.getByText('Sweep again or add points');
  await drawer.or(again).first().waitFor();
  if (!(await drawer.isVisible())) await again.click();
  await drawer.fill(DRAWER);
  await page.getByLabel('It shows, leads shorted').fill(String(LEADS_OHM));
  if (isFirst) await page.getByRole('button', { name: '450 to 30' }).click();
  await page.getByRole('button', { name: 'Go on with these' }).click();
  await page.getByText('Wait at each reading').click();
  await page.getByLabel('Wait (s)').fill('0.2');
  await startByHand(page);
  const put = page.getByText(/^Put [\d.]+/);
  const ended = page.getByRole('button', { name: 'On to the sender' });
  for (;;) {
    await put.or(ended).first().waitFor();
    if (await ended.isVisible()) break;
    const before = await countOf(page);
    const ohm = await askedOhm(page);
    await page.getByLabel(/ohmmeter shows/).fill(shown(ohm));
    await page.getByRole('button', { name: 'It is on' }).click();
    await readAndConfirm(page, ohm, movedBy);
    await expect.poll(() => countOf(page)).toBe(before + 1);
  }
  await page.getByRole('link', { name: 'Back to its cluster' }).click();
  await page.getByText('As found and as left').waitFor();
}

const sheetOf = async (page: Page): Promise<z.infer<typeof Sheet>> => {
  const response = await page.evaluate(async () => {
    const id = location.hash.replace('#/cluster/', '');
    const answer = await fetch(`/api/clusters/${id}/sheet`);
    return answer.text();
  });
  return Sheet.parse(JSON.parse(response));
};

describe.skipIf(!hasBrowser())('a cluster on a bench without boxes', () => {
  let workshop: Workshop;
  beforeAll(async () => void (workshop = await openWorkshop()));
  afterAll(async () => {
    expect(workshop.troubles).toEqual([]);
    await workshop.close();
  });

  it(
    'is swept gauge after gauge with resistors, set, and swept as left, on a phone',
    async () => {
      const page = await workshop.openScreen(phoneOf(390, 844));
      await openCluster(page, workshop);
      await page.getByRole('button', { name: 'By hand: left' }).waitFor();
      await keepPicture(page, 'cluster-hand-390-begin', { fullPage: true });
      await sweepByHand(page, 'left', 0, true);
      await page.getByText(/^\d+ readings in .* by hand, left/).waitFor();
      await sweepByHand(page, 'right', 0, true);
      await page.getByText(/^\d+ readings in .* by hand, right/).waitFor();
      await page.getByRole('heading', { name: 'Swept as found' }).waitFor();
      // Between the two: what was done to the left one is noted on this very sheet.
      const done = page.getByText('What was done to the gauge').first();
      await done.click();
      await page
        .getByLabel(/^By how much/)
        .first()
        .fill(String(MOVED_CELSIUS));
      await page.getByRole('button', { name: 'Note it: the next sweep is as left' }).first().click();
      await page.getByText(/Between the two: pointer moved/).waitFor();
      await keepPicture(page, 'cluster-hand-390-found', { fullPage: true });
      expect(await sidewaysPx(page)).toBe(0);
      await page.getByRole('button', { name: 'Now as left' }).click();
      await sweepByHand(page, 'left', MOVED_CELSIUS, false);
      await keepPicture(page, 'cluster-hand-390-left', { fullPage: true });
      const [left, right] = (await sheetOf(page)).gauges;
      expect(left?.done).toContain('pointer moved');
      expect([right?.left, right?.done]).toEqual([undefined, '']);
      // A needle that stands 3 degrees higher stands at 80 with the ohms that gave 77 before.
      const at = (marks: z.infer<typeof Marks> | undefined): number =>
        marks?.marks.find(({ reading }) => reading === 80)?.resistanceOhm ?? NaN;
      const more = ohmAt(80 - MOVED_CELSIUS) - ohmAt(80);
      expect(Math.abs(at(left?.left) - at(left?.found) - more)).toBeLessThan(more / 3);
    },
    LONG_MS,
  );
});
