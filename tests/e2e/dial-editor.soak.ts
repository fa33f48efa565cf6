import type { BrowserContextOptions, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it, onTestFinished } from 'vitest';
import { foldJob } from '../../host/job/state/fold';
import { hasBrowser } from './browser';
import { openFakeHost, type FakeHost } from './fake-host';
import { fingerOn, spotOnArc, phoneOf } from './touch';
import { keepPicture } from './screenshots';

const PHONE = phoneOf(360, 640);

describe.skipIf(!hasBrowser())('the dial editor', () => {
  let host: FakeHost;
  beforeAll(async () => void (host = await openFakeHost()));
  afterAll(() => host.close());

  const openEditor = async (options: BrowserContextOptions = {}): Promise<Page> => {
    const context = await host.browser.newContext({ viewport: { width: 1280, height: 800 }, ...options });
    onTestFinished(() => context.close());
    const page = await context.newPage();
    page.setDefaultTimeout(60_000);
    await page.goto(`${host.url}/#/new`);
    await page.getByText('A real box').click();
    await page.getByText('Make it look like mine').click();
    await page.locator('.mark-pad').evaluate((pad) => pad.scrollIntoView({ block: 'center' }));
    return page;
  };
  const pad = (page: Page) => page.locator('.mark-pad .dial-face');
  const rows = (page: Page) => page.getByRole('region', { name: 'Table of marks' }).locator('tbody tr');
  const place = async (page: Page, number: number): Promise<number> =>
    Number(await page.getByLabel(`Place of mark ${number} on the arc, percent`).inputValue());

  it('adds a mark where the arc is clicked, takes its print beside it, and moves it by dragging', async () => {
    const page = await openEditor();
    const before = await rows(page).count();
    const at = await spotOnArc(pad(page), 0.42, 110, 100);
    await page.mouse.click(at.x, at.y);
    expect(await rows(page).count()).toBe(before + 1);
    const number = 1 + (await rows(page).evaluateAll((all) => all.findIndex((row) => row.ariaCurrent)));
    expect(await place(page, number)).toBeCloseTo(42, 0);
    await page.getByLabel('Printed at the chosen mark').fill('NORM');
    expect(await page.getByLabel(`Printed at mark ${number}`, { exact: true }).inputValue()).toBe('NORM');
    const to = await spotOnArc(pad(page), 0.36, 110, 100);
    await page.mouse.move(at.x, at.y);
    await page.mouse.down();
    await page.mouse.move((at.x + to.x) / 2, (at.y + to.y) / 2, { steps: 3 });
    await page.mouse.move(to.x, to.y, { steps: 3 });
    await page.mouse.up();
    expect(await place(page, number)).toBeCloseTo(36, 0);
    expect(await rows(page).count()).toBe(before + 1);
  });

  it('works with the keyboard alone: arrows move the mark in focus, Insert adds, Delete takes away', async () => {
    const page = await openEditor();
    const before = await rows(page).count();
    const start = await place(page, 2);
    await page.locator('.grip-mark').nth(1).focus();
    await page.keyboard.press('ArrowRight');
    await page.keyboard.press('ArrowRight');
    await expect.poll(() => place(page, 2)).toBeCloseTo(start + 1, 6);
    await page.keyboard.press('Insert');
    await expect.poll(() => rows(page).count()).toBe(before + 1);
    const focused = () => page.evaluate(() => document.activeElement?.getAttribute('aria-label') ?? '');
    await expect.poll(focused).toMatch(/^Mark 3, printed /);
    await page.keyboard.press('ArrowLeft');
    await page.keyboard.press('Delete');
    await expect.poll(() => rows(page).count()).toBe(before);
    await expect.poll(focused).toMatch(/^Mark 3, printed /);
  });

  it('works with a thumb on a phone: a tap adds, a drag moves and does not scroll the page', async () => {
    const page = await openEditor(PHONE);
    const before = await rows(page).count();
    const at = await spotOnArc(pad(page), 0.42, 110, 100);
    await page.touchscreen.tap(at.x, at.y);
    expect(await rows(page).count()).toBe(before + 1);
    const number = 1 + (await rows(page).evaluateAll((all) => all.findIndex((row) => row.ariaCurrent)));
    const scrolled = await page.evaluate(() => scrollY);
    const finger = await fingerOn(page);
    const from = await spotOnArc(pad(page), 0.42, 110, 100);
    await finger.down({ x: from.x + 6, y: from.y + 5 });
    await finger.moveTo(await spotOnArc(pad(page), 0.36, 110, 100));
    await finger.up();
    expect(await page.evaluate(() => scrollY)).toBe(scrolled);
    expect(await place(page, number)).toBeCloseTo(36, 0);
    expect(await rows(page).count()).toBe(before + 1);
    await keepPicture(page, 'dial-editor-touch-360');
  });

  it('makes an uneven scale of letters with a red zone, drawn and typed, and the job keeps exactly that', async () => {
    const page = await openEditor();
    while ((await rows(page).count()) > 3) {
      await page.locator('.grip-mark').nth(1).focus();
      await page.keyboard.press('Delete');
    }
    for (const [index, [label, reading, percent]] of [
      ['C', '40', '0'],
      ['N', '85', '27,5'],
      ['H', '120', '100'],
    ].entries()) {
      await page.getByLabel(`Place of mark ${index + 1} on the arc, percent`).fill(percent!);
      await page.getByLabel(`Mark ${index + 1} stands for`).fill(reading!);
      await page.getByLabel(`Printed at mark ${index + 1}`, { exact: true }).fill(label!);
    }
    const zones = page.getByRole('region', { name: 'Table of zones' });
    while ((await page.getByRole('button', { name: /^Take away zone/ }).count()) > 0)
      await page
        .getByRole('button', { name: /^Take away zone/ })
        .first()
        .click();
    await page.getByRole('button', { name: 'Add a zone' }).click();
    await zones.getByLabel('Zone 1 from').fill('110');
    await page.locator('.grip-zone').first().focus();
    await page.keyboard.press('ArrowRight');
    await keepPicture(page, 'dial-editor-letters-1280', { fullPage: true });
    await page.getByRole('button', { name: 'Open the job sheet' }).click();
    await page.getByRole('heading', { name: 'Coolant temperature gauge' }).waitFor();
    const desk = [...host.bench.desks.values()].at(-1);
    const state = foldJob(desk?.events ?? []);
    expect(state?.gauge.marks).toEqual([
      { label: 'C', reading: 40, angleFraction: 0 },
      { label: 'N', reading: 85, angleFraction: 0.275 },
      { label: 'H', reading: 120, angleFraction: 1 },
    ]);
    // One press of an arrow is half a hundredth of the arc: 0.005 of the way over which 35 degC lie.
    expect(state?.gauge.zones).toEqual([{ fromReading: 110.2, toReading: 120, meaning: 'danger' }]);
  });
});
