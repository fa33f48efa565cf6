import { writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import type { FastifyInstance } from 'fastify';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { createServerApp } from '../../host/server/app';
import { createBoxBay } from '../../host/server/box-bay';
import { knownCallers } from '../../host/server/callers';
import { createComputer } from '../../host/server/computer';
import { compute } from '../../host/server/findings';
import { FakeBench } from '../support/fake-bench';
import { hasBrowser, openBrowser } from './browser';
import { NTC_POINTS, proved, sampleDesk, senderGiven, sweepDone } from './sample-job';
import { openStation, screenshotFolder } from './workshop';

const webFolder = fileURLToPath(new URL('../../.build/web', import.meta.url));

describe.skipIf(!hasBrowser())('the printed sheet', () => {
  const bench = new FakeBench();
  let app: FastifyInstance;
  let browser: Browser;
  let address: string;
  beforeAll(async () => {
    const computer = createComputer({
      reckon: (task) => Promise.resolve(compute(task)),
      close: () => Promise.resolve(),
    });
    app = await createServerApp({
      bench,
      bay: createBoxBay(),
      computer,
      callers: knownCallers(false),
      webFolder,
      version: '0',
    });
    const url = await app.listen({ host: '127.0.0.1', port: 0 });
    const desk = await sampleDesk(bench);
    sweepDone(desk);
    senderGiven(desk, NTC_POINTS);
    proved(desk);
    address = `${url}/#/job/${desk.jobId}`;
    browser = await openBrowser();
  }, 60_000);
  afterAll(async () => {
    await browser.close();
    await app.close();
  });

  it('holds the record, its disclaimer and the SIMULATED mark, and nothing one would press', async () => {
    const page = await browser.newPage();
    await page.goto(address);
    await openStation(page, 'Record');
    await page.getByText('Resistance at the marks').waitFor();
    await page.emulateMedia({ media: 'print' });
    const visible = await page.evaluate(() => document.body.innerText);
    expect(visible).toContain('not an accredited calibration');
    expect(visible).toContain('SIMULATED: no vehicle was measured');
    expect(visible).toContain('Harrow Six saloon (1964)');
    for (const button of await page.locator('.button').all()) expect(await button.isVisible()).toBe(false);
    expect(await page.locator('.dash').isVisible()).toBe(false);
    const pdf = await page.pdf({ format: 'A4' });
    writeFileSync(`${screenshotFolder}/record.pdf`, pdf);
    expect(pdf.subarray(0, 5).toString()).toBe('%PDF-');
    await page.screenshot({ path: `${screenshotFolder}/record-print.png`, fullPage: true });
  }, 30_000);
});
