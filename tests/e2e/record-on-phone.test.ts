import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { hasBrowser } from './browser';
import { openFakeHost, type FakeHost } from './fake-host';
import { NTC_POINTS, proved, sampleDesk, senderGiven, sweepDone } from './sample-job';
import { keepPicture } from './screenshots';
import { openStation } from './workshop';

async function openOnPhone(host: FakeHost, station: string): Promise<Page> {
  const desk = await sampleDesk(host.bench);
  sweepDone(desk);
  senderGiven(desk, NTC_POINTS);
  proved(desk);
  const page = await host.browser.newPage({ viewport: { width: 390, height: 844 } });
  await page.goto(`${host.url}/#/job/${desk.jobId}`);
  await openStation(page, station);
  return page;
}

const pageWidth = (page: Page): Promise<number> => page.evaluate(() => document.documentElement.scrollWidth);

describe.skipIf(!hasBrowser())('on a telephone', () => {
  it('shows the sheets of the record at their own size, each moved within its frame and not with the page', async () => {
    const host = await openFakeHost();
    const page = await openOnPhone(host, 'Record');
    const sheet = page.locator('.drawn-sheet').first();
    await sheet.waitFor();
    const { drawn, frame, scrolls } = await sheet.evaluate((each) => ({
      drawn: each.querySelector('svg')?.getBoundingClientRect().width ?? 0,
      frame: each.clientWidth,
      scrolls: each.scrollWidth,
    }));
    // 190 mm at 96 to the inch: letters stand as large as on paper, the smallest that is read 11 of these.
    expect(drawn).toBeCloseTo((190 * 96) / 25.4, 0);
    expect(frame).toBeLessThan(390);
    expect(scrolls).toBeGreaterThanOrEqual(Math.floor(drawn));
    expect(await pageWidth(page)).toBe(390);
    // By keyboard too.
    // The sheet may be drawn anew after the first sight of it: whoever sees nothing move presses again.
    await expect
      .poll(async () => {
        await sheet.focus();
        await page.keyboard.press('ArrowRight');
        return sheet.evaluate((each) => each.scrollLeft);
      })
      .toBeGreaterThan(0);
    await keepPicture(page, 'record-390', { fullPage: true });
    await host.close();
  });

  it('shows every verdict of the proof beside its pair: nothing of the table lies beside the screen', async () => {
    const host = await openFakeHost();
    const page = await openOnPhone(host, 'Proof');
    const table = page.getByRole('region', { name: 'Table of proof pairs' });
    await table.waitFor();
    const [scrolls, frame] = await table.evaluate((each) => [each.scrollWidth, each.clientWidth]);
    expect(scrolls).toBe(frame);
    const rows = await table.locator('tbody tr').all();
    expect(rows.length).toBeGreaterThan(1);
    for (const row of rows) {
      const box = await row.locator('td').last().boundingBox();
      expect(box?.width).toBeGreaterThan(60);
      expect((box?.x ?? 0) + (box?.width ?? 999)).toBeLessThanOrEqual(390);
    }
    // It is a table to whoever hears it read.
    expect(await table.getByRole('cell').count()).toBe(3 * rows.length);
    await keepPicture(page, 'proof-table-390', { fullPage: true });
    await host.close();
  });
});
