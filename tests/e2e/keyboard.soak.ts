import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { hasBrowser } from './browser';
import { tabTo } from './tab-to';
import { awaitQuestion, countReadings, openWorkshop, START, type Workshop } from './workshop';

describe.skipIf(!hasBrowser())('with the keyboard alone', () => {
  let workshop: Workshop;
  beforeAll(async () => void (workshop = await openWorkshop()));
  afterAll(() => workshop.close());

  it('opens a job, starts a sweep, gives a reading with arrows and Enter, undoes it, and stops', async () => {
    const page = await workshop.openScreen();
    await page.goto(workshop.server.url);
    await tabTo(page, START);
    await page.keyboard.press('Enter');
    await page.getByRole('button', { name: 'Open the job sheet' }).waitFor();
    await tabTo(page, /^Open the job sheet$/);
    await page.keyboard.press('Enter');
    await page.getByText('Box connected').waitFor();
    await tabTo(page, /Sweep/);
    await page.keyboard.press('Enter');
    await tabTo(page, /^Range, number of points, up and down$/);
    await page.keyboard.press('Enter');
    await tabTo(page, /^Wait at each point/);
    await page.keyboard.type('60');
    await tabTo(page, /ignition off/);
    await page.keyboard.press('Space');
    await tabTo(page, /^Start the sweep$/);
    await page.keyboard.press('Enter');
    expect(await awaitQuestion(page)).toBe(true);
    await tabTo(page, /^Where the needle stands$/);
    const shown = (): Promise<string | null> => page.getByRole('slider').getAttribute('aria-valuetext');
    const before = await shown();
    await page.keyboard.press('ArrowRight');
    await page.keyboard.press('Shift+ArrowRight');
    await page.keyboard.press('PageUp');
    expect(await shown()).not.toBe(before);
    await page.keyboard.press('Enter');
    await expect.poll(() => countReadings(page)).toBe(1);
    await tabTo(page, /^Undo$/);
    await page.keyboard.press('Enter');
    await expect.poll(() => countReadings(page)).toBe(0);
    await page.keyboard.press('Escape');
    await page.getByText('output open (safe)').waitFor();
    expect(workshop.troubles).toEqual([]);
  });

  it('takes a foot pedal: Enter outside any control confirms what the needle was set to', async () => {
    const page = await workshop.openScreen();
    await page.goto(workshop.server.url);
    await page
      .getByRole('link', { name: /Coolant temperature gauge/ })
      .first()
      .click();
    await page.getByRole('button', { name: 'Go on with the sweep' }).click();
    expect(await awaitQuestion(page)).toBe(true);
    await page.getByLabel(/or type it/).fill('45');
    await page.locator('h1').click();
    await page.keyboard.press('Enter');
    await expect.poll(() => countReadings(page)).toBe(1);
    await page.keyboard.press('Escape');
    await page.getByText('output open (safe)').waitFor();
  });
});
