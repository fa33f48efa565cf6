import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it, onTestFinished } from 'vitest';
import type { EventOf } from '../../host/job/schema/events';
import { hasBrowser } from './browser';
import { phoneOf } from './touch';
import { keepPicture } from './screenshots';
import {
  awaitQuestion,
  countReadings,
  journalOf,
  lookAtDash,
  openWorkshop,
  startJob,
  startSweep,
  typeReading,
  type Workshop,
} from './workshop';

const PHONE = phoneOf(390, 844);
const CARD = '[aria-label="The chosen point"]';

/** Reads three, and ends the sweep there. */
async function readThree(page: Page, workshop: Workshop): Promise<EventOf<'reading'>[]> {
  onTestFinished(() => page.context().close());
  const gauge = await workshop.simulated('two-coil-fuel');
  await startJob(page, workshop, gauge.name);
  await startSweep(page);
  for (let read = 0; read < 3; read += 1) {
    await awaitQuestion(page);
    await typeReading(page, await lookAtDash(page, gauge));
  }
  // No curve stands beside a reading that is being given.
  await page.getByRole('button', { name: 'Finish here' }).click();
  await page.getByRole('button', { name: 'On to the sender' }).waitFor();
  return (await journalOf(page)).filter((event) => event.kind === 'reading');
}

const placeOf = async (page: Page, readingId: string): Promise<{ x: number; y: number }> => {
  const point = page.locator(`[data-point="${readingId}"]`);
  await point.evaluate((element) => element.scrollIntoView({ block: 'center' }));
  const box = await point.boundingBox();
  if (box === null) throw new Error('the point is not drawn');
  return { x: box.x + box.width / 2, y: box.y + box.height / 2 };
};

describe.skipIf(!hasBrowser())('the points of the curve', () => {
  let workshop: Workshop;
  beforeAll(async () => void (workshop = await openWorkshop()));
  afterAll(() => workshop.close());

  it('show their figures under a mouse that only comes near, and keep them when clicked', async () => {
    const page = await workshop.openScreen();
    const [first, second] = await readThree(page, workshop);
    const card = page.locator(CARD);
    let at = await placeOf(page, first!.readingId);
    // The page may still be drawing when the mouse comes: a person comes again.
    await expect
      .poll(async () => {
        at = await placeOf(page, first!.readingId);
        await page.mouse.move(at.x + 20, at.y + 16);
        await page.mouse.move(at.x + 9, at.y + 7);
        return card.count();
      })
      .toBe(1);
    const text = await card.innerText();
    expect(text).toContain(first!.resistanceOhm.toPrecision(4));
    expect(text).toMatch(/going up/);
    expect(text).toContain(first!.by);
    await expect
      .poll(async () => {
        await page.mouse.move(at.x, Math.max(1, at.y - 500));
        await page.mouse.move(2, 2);
        return card.count();
      })
      .toBe(0);
    await expect
      .poll(async () => {
        const other = await placeOf(page, second!.readingId);
        await page.mouse.click(other.x + 5, other.y - 5);
        await page.mouse.move(1, 1);
        return card.innerText();
      })
      .toContain(second!.resistanceOhm.toPrecision(4));
    await keepPicture(page, 'points-1280');
  });

  it('are reached with Tab, walked with the arrows, struck and restored, and THAT step is read again', async () => {
    const page = await workshop.openScreen();
    const [first] = await readThree(page, workshop);
    await page.locator('.plot-point[tabindex="0"]').focus();
    for (let press = 0; press < 3; press += 1) await page.keyboard.press('ArrowLeft');
    const focused = (name: string): Promise<string | null | undefined> =>
      page.evaluate((asked) => document.activeElement?.getAttribute(asked), name);
    for (let press = 0; press < 2 && (await focused('data-point')) !== first!.readingId; press += 1)
      await page.keyboard.press('ArrowRight');
    expect(await focused('data-point')).toBe(first!.readingId);
    expect(await focused('aria-label')).toContain('going up');
    const press = async (name: string): Promise<void> => {
      await page.getByRole('button', { name, exact: true }).focus();
      await page.keyboard.press('Enter');
    };
    await press('Strike this point');
    await page.locator(CARD).getByText('Struck: struck by hand.').waitFor();
    await press('Restore this point');
    await page.getByRole('button', { name: 'Strike this point' }).waitFor();
    const before = await countReadings(page);
    await press('Repeat this step');
    await page.getByText('A point is to be read again.').waitFor();
    await page.getByRole('button', { name: 'Go on with the sweep' }).click();
    const gauge = await workshop.simulated('two-coil-fuel');
    await awaitQuestion(page);
    await typeReading(page, await lookAtDash(page, gauge));
    expect(await countReadings(page)).toBe(before + 1);
    const events = await journalOf(page);
    const again = events.filter((event) => event.kind === 'reading').at(-1);
    expect(again?.resistanceOhm).toBe(first!.resistanceOhm);
    expect(again?.leg).toBe(first!.leg);
    const kinds = events.map((event) => event.kind);
    for (const kind of ['reading-struck', 'reading-restored', 'sweep-extended'])
      expect(kinds).toContain(kind);
  });

  it('are tapped with a thumb that need not hit the dot', async () => {
    const page = await workshop.openScreen(PHONE);
    const [, , third] = await readThree(page, workshop);
    const at = await placeOf(page, third!.readingId);
    await page.touchscreen.tap(at.x + 12, at.y + 12);
    const card = page.locator(CARD);
    await card.waitFor();
    expect(await card.innerText()).toContain(third!.resistanceOhm.toPrecision(4));
    await card.scrollIntoViewIfNeeded();
    await keepPicture(page, 'points-390');
    await card.getByRole('button', { name: 'Repeat this step' }).tap();
    await page.getByText('A point is to be read again.').waitFor();
    await page.getByRole('button', { name: 'Go on with the sweep' }).tap();
    expect(await awaitQuestion(page)).toBe(true);
    const events = await journalOf(page);
    const [started] = events.filter((event) => event.kind === 'sweep-started');
    const [added] = events.filter((event) => event.kind === 'sweep-extended');
    expect(added?.steps[0]?.aim).toEqual(started?.steps.find((step) => step.stepId === third!.stepId)?.aim);
    expect(workshop.troubles).toEqual([]);
  });
});
