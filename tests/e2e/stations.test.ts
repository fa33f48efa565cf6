import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { violations } from './axe';
import { hasBrowser } from './browser';
import { openFakeHost, type FakeHost } from './fake-host';
import { besideTables, clipped, covered, isAnswerInSight, sidewaysPx } from './layout';
import { rulesBroken } from './rules';
import { views, type View } from './views';
import { keepPicture } from './screenshots';
import { openStation } from './workshop';

/**
 * The screens of the job sheet, and on each what a person does who needs it twice as large. A browser zoomed to 200 % lays
 * the page out in half as many pixels (and draws each twice as large, which moves nothing); a phone or a browser set to
 * large type keeps the pixels and doubles the type.
 */
const SCREENS = [
  {
    screen: 'phone',
    first: { width: 390, height: 844 },
    size: { width: 360, height: 740 },
    larger: [{ way: 'type twice as large', size: { width: 360, height: 740 }, typePixel: 32 }],
    looks: [
      { colorScheme: 'light', rules: undefined },
      { colorScheme: 'dark', rules: ['color-contrast'] },
    ],
  },
  {
    screen: 'laptop',
    first: undefined,
    size: { width: 1280, height: 800 },
    larger: [
      { way: 'zoomed to 200 %', size: { width: 640, height: 400 }, typePixel: 16 },
      { way: 'type twice as large', size: { width: 1280, height: 800 }, typePixel: 32 },
    ],
    // Night changes colours only, and the phone has all of them.
    looks: [{ colorScheme: 'light', rules: undefined }],
  },
] as const;

type Size = { readonly width: number; readonly height: number };
const USUAL_TYPE_PIXEL = 16;

type Larger = (typeof SCREENS)[number]['larger'][number];

/** What is wrong with the page as it stands, in sentences; a picture of it is kept. */
async function troublesOf(page: Page, name: string, rules?: readonly string[]): Promise<string[]> {
  await keepPicture(page, name, { fullPage: true });
  const sideways = await sidewaysPx(page);
  return [
    ...(sideways > 0 ? [`scrolls ${sideways} px sideways`] : []),
    ...(await besideTables(page)),
    ...(await violations(page, rules)),
  ].map((each) => `${name}: ${each}`);
}

/** A sweep brings its question into sight when the sheet is opened, not when somebody zooms. */
async function isAnswerSeenFirst(page: Page): Promise<boolean> {
  await page.reload();
  await page.locator('.entry').waitFor();
  return isAnswerInSight(page);
}

/** The view as if it were opened first: nothing larger, by day. */
async function showAnew(page: Page, view: View, address: string, size: Size): Promise<void> {
  const session = await page.context().newCDPSession(page);
  await session.send('Page.setFontSizes', { fontSizes: { standard: USUAL_TYPE_PIXEL } });
  await session.detach();
  await page.emulateMedia({ colorScheme: 'light' });
  await page.setViewportSize(size);
  // Another hash alone would only turn the page over.
  await page.goto('about:blank');
  await page.goto(address);
  await page.locator('h1').waitFor();
  await page.locator('.station, .rack, form').first().waitFor();
  if (view.open !== undefined) await openStation(page, view.open);
  await view.act?.(page);
  await page.evaluate(() => document.fonts.ready);
}

/** One plate in the first screen, room for a finger, and in a running sweep everything at the thumb. */
async function rulesAt(page: Page, view: View, size: Size): Promise<string[]> {
  await page.setViewportSize(size);
  const isRunning = (await page.locator('.run').count()) > 0;
  const asked = {
    plates: view.waits === undefined ? 1 : 0,
    isAtThumb: isRunning && size.width < 600,
  } as const;
  const broken = await rulesBroken(page, asked);
  const sideways = await sidewaysPx(page);
  return [...broken, ...(sideways > 0 ? [`scrolls ${sideways} px sideways`] : [])].map(
    (each) => `${view.name}-${size.width}: ${each}`,
  );
}

async function troublesLarger(page: Page, view: View, { way, size, typePixel }: Larger): Promise<string[]> {
  const session = await page.context().newCDPSession(page);
  await session.send('Page.setFontSizes', { fontSizes: { standard: typePixel } });
  await page.setViewportSize(size);
  const type = await page.evaluate(() => parseFloat(getComputedStyle(document.documentElement).fontSize));
  expect(type).toBe(typePixel);
  const name = `${view.name}-${size.width}-${way.replaceAll(/[^a-z0-9]+/g, '-')}`;
  await keepPicture(page, name);
  const sideways = await sidewaysPx(page);
  const share = await covered(page);
  const isAnswerHidden = view.name === 'sweep-read' && size.width >= 640 && !(await isAnswerSeenFirst(page));
  return [
    ...(sideways > 0 ? [`scrolls ${sideways} px sideways`] : []),
    ...(await clipped(page)).map((each) => `${each} is cut off`),
    ...(share > 0.5 ? [`${Math.round(100 * share)} % of the view is covered`] : []),
    ...(isAnswerHidden ? ['the confirmation is not in sight beside the dial'] : []),
  ].map((each) => `${name}: ${each}`);
}

describe.skipIf(!hasBrowser())('every station', () => {
  let host: FakeHost;
  const addresses = new Map<string, string>();

  beforeAll(async () => {
    host = await openFakeHost();
    for (const view of views) addresses.set(view.name, await view.make(host.bench));
  });
  afterAll(() => host.close());

  describe.each(SCREENS)('on a $screen', ({ first, size, larger, looks }) => {
    let page: Page;
    const errors: string[] = [];
    beforeAll(async () => {
      const context = await host.browser.newContext({ hasTouch: size.width < 700 });
      page = await context.newPage();
      page.on('pageerror', (error) => errors.push(error.message));
    });
    afterAll(() => page.context().close());

    it.each(views)(
      'has one plate in sight, and can be read, reached and made larger: $name',
      async (view) => {
        await showAnew(page, view, `${host.url}/${addresses.get(view.name) ?? ''}`, first ?? size);
        const troubles: string[] = first === undefined ? [] : await rulesAt(page, view, first);
        troubles.push(...(await rulesAt(page, view, size)));
        for (const { colorScheme, rules } of looks) {
          await page.emulateMedia({ colorScheme });
          troubles.push(...(await troublesOf(page, `${view.name}-${size.width}-${colorScheme}`, rules)));
        }
        await keepPicture(page, `${view.name}-${size.width}-view`);
        for (const way of larger) troubles.push(...(await troublesLarger(page, view, way)));
        expect(troubles).toEqual([]);
        expect(errors.splice(0)).toEqual([]);
      },
    );
  });

  it('leaves no view out', () => {
    expect(views.length).toBe(39);
    expect(new Set(views.map((view) => view.name)).size).toBe(39);
  });
});
