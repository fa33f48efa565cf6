import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { hasBrowser } from './browser';
import { openFakeHost, type FakeHost } from './fake-host';
import { views, type View } from './views';
import { openStation, screenshotFolder } from './workshop';

/**
 * What a person does who needs it twice as large. A browser zoomed to 200 % lays the page out in half as many pixels and
 * draws each twice as large; a phone or a browser set to large type keeps the pixels and doubles the type.
 */
const WAYS = [
  {
    way: 'a laptop zoomed to 200 %',
    viewport: { width: 640, height: 400 },
    deviceScaleFactor: 2,
    typePixel: 16,
  },
  {
    way: 'a laptop with type twice as large',
    viewport: { width: 1280, height: 800 },
    deviceScaleFactor: 1,
    typePixel: 32,
  },
  {
    way: 'a phone with type twice as large',
    viewport: { width: 360, height: 740 },
    deviceScaleFactor: 1,
    typePixel: 32,
  },
] as const;

const CONTROLS = 'button, input, select, textarea, summary, a, label.chip, .station-name, .station-line, dd';

/** Controls that reach out of the view, or whose own words do not fit into them, outside tables that scroll by themselves. */
const clipped = (page: Page): Promise<string[]> =>
  page.evaluate(
    (selector) =>
      [...document.querySelectorAll<HTMLElement>(selector)]
        .filter(
          (each) => each.offsetParent !== null && each.closest('.table-scroll, .unseen, .plot') === null,
        )
        .filter((each) => {
          const box = each.getBoundingClientRect();
          const isOut = box.left < -0.5 || box.right > innerWidth + 0.5;
          const isText = !(each instanceof HTMLInputElement) && !(each instanceof HTMLSelectElement);
          const isCut =
            isText && getComputedStyle(each).display !== 'inline' && each.scrollWidth > each.clientWidth + 1;
          return box.width > 0 && (isOut || isCut);
        })
        .map((each) => `${each.tagName} "${each.innerText.slice(0, 40)}" ${each.className}`),
    CONTROLS,
  );

/** What lies over the sheet must leave some of the sheet to be seen. */
const covered = (page: Page): Promise<number> =>
  page.evaluate(() =>
    [...document.querySelectorAll('.dash, .stop-bar')]
      .filter((each) => ['fixed', 'sticky'].includes(getComputedStyle(each).position))
      .map((each) => each.getBoundingClientRect())
      .filter((box) => box.width > innerWidth / 2)
      .reduce((sum, box) => sum + box.height / innerHeight, 0),
  );

/** Dial and confirmation, clear of the dash above and of the stop control below. */
const isAnswerInSight = (page: Page): Promise<boolean> =>
  page.evaluate(() => {
    const confirm = document.querySelector('.entry .button-main')?.getBoundingClientRect();
    const question = document.querySelector('.prompt')?.getBoundingClientRect();
    const dash = document.querySelector('.dash')?.getBoundingClientRect();
    const stop = document.querySelector('.stop-bar')?.getBoundingClientRect();
    if (!confirm || !question || !dash || !stop) return false;
    const isBeside = dash.right < question.left || dash.left > question.right;
    return (isBeside || question.top >= dash.bottom - 1) && confirm.bottom <= stop.top;
  });

describe.skipIf(!hasBrowser())('twice as large', () => {
  let host: FakeHost;
  const addresses = new Map<string, string>();
  beforeAll(async () => {
    host = await openFakeHost();
    for (const view of views) addresses.set(view.name, await view.make(host.bench));
  }, 60_000);
  afterAll(() => host.close(), 60_000);

  const show = async (page: Page, view: View, typePixel: number): Promise<void> => {
    const session = await page.context().newCDPSession(page);
    await session.send('Page.setFontSizes', { fontSizes: { standard: typePixel } });
    await page.goto(`${host.url}/${addresses.get(view.name) ?? ''}`);
    await page.locator('.station, .rack, form').first().waitFor();
    if (view.open !== undefined) await openStation(page, view.open);
    await view.act?.(page);
    const type = await page.evaluate(() => parseFloat(getComputedStyle(document.documentElement).fontSize));
    expect(type).toBe(typePixel);
  };

  it.each(WAYS)(
    'nothing is cut off and nothing scrolls sideways on any station: $way',
    async ({ way, viewport, deviceScaleFactor, typePixel }) => {
      const context = await host.browser.newContext({ viewport, deviceScaleFactor });
      const troubles: string[] = [];
      for (const view of views) {
        const page = await context.newPage();
        page.setDefaultTimeout(10_000);
        await show(page, view, typePixel);
        const sideways = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
        if (sideways > 0) troubles.push(`${view.name}: scrolls ${sideways} px sideways`);
        for (const each of await clipped(page)) troubles.push(`${view.name}: ${each} is cut off`);
        const share = await covered(page);
        if (share > 0.5) troubles.push(`${view.name}: ${Math.round(100 * share)} % of the view is covered`);
        if (view.name === 'sweep-read' && viewport.width >= 640 && !(await isAnswerInSight(page)))
          troubles.push(`${view.name}: the confirmation is not in sight beside the dial`);
        const name = way.replaceAll(/[^a-z0-9]+/g, '-');
        await page.screenshot({ path: `${screenshotFolder}/large-${view.name}-${name}.png` });
        await page.close();
      }
      expect(troubles).toEqual([]);
      await context.close();
    },
    120_000,
  );
});
