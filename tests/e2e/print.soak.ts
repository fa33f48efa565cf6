import { writeFileSync } from 'node:fs';
import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { hasBrowser, launchBrowser } from './browser';
import { openFakeHost, type FakeHost } from './fake-host';
import { hasPdfReaders, readPdf } from '../support/pdf-readers';
import { NTC_POINTS, proved, sampleDesk, senderGiven, sweepDone } from './sample-job';
import { keepPicture, picturePath } from './screenshots';
import { openStation } from './workshop';

/** The record of a job gone through to its proof, laid out for paper. */
async function openPrinted(host: FakeHost): Promise<Page> {
  const desk = await sampleDesk(host.bench);
  sweepDone(desk);
  senderGiven(desk, NTC_POINTS);
  proved(desk);
  const page = await host.browser.newPage();
  await page.goto(`${host.url}/#/job/${desk.jobId}`);
  await openStation(page, 'Record');
  await page.locator('.drawn-sheet').first().waitFor({ state: 'attached' });
  await page.emulateMedia({ media: 'print' });
  return page;
}

describe.skipIf(!hasBrowser())('the printed sheet', () => {
  it('holds the record, its disclaimer and the SIMULATED mark, and nothing one would press', async () => {
    const host = await openFakeHost();
    const page = await openPrinted(host);
    const visible = await page.evaluate(() => document.body.innerText);
    expect(visible).toContain('no accredited certificate');
    expect(visible).toContain('SIMULATED: no vehicle was measured');
    expect(visible).toContain('Harrow Six saloon (1964)');
    // The sheets as the PDF file has them.
    expect(visible).toContain('sheet 1 of');
    for (const button of await page.locator('.button').all()) expect(await button.isVisible()).toBe(false);
    expect(await page.locator('.dash').isVisible()).toBe(false);
    await keepPicture(page, 'record-print', { fullPage: true });
    await host.close();
  });

  // A headless browser was once seen to give no answer at all to a print on a crowded machine: it gets a fresh browser.
  it('is printed as a PDF', { timeout: 60_000, retry: 2 }, async () => {
    const host = await openFakeHost({}, launchBrowser);
    const page = await openPrinted(host);
    const pdf = await page.pdf({ format: 'A4' });
    writeFileSync(picturePath('record.pdf'), pdf);
    expect(pdf.subarray(0, 5).toString()).toBe('%PDF-');
    // A sheet a page, and no page between them.
    const sheets = await page.locator('.drawn-sheet').count();
    if (hasPdfReaders()) expect(readPdf(pdf).pages).toHaveLength(sheets);
    await host.close();
  });
});
