import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { hasBrowser } from './browser';
import { openFakeHost, type FakeHost } from './fake-host';
import { sampleGauge } from './sample-job';
import { keepPicture } from './screenshots';
import { openWorkshop, type Workshop } from './workshop';

describe.skipIf(!hasBrowser())('the first page of a newcomer', () => {
  let workshop: Workshop;
  beforeAll(async () => void (workshop = await openWorkshop()));
  afterAll(() => workshop.close());

  it('begins a job on the simulated bench with one tap, and the job stands in the rack afterwards', async () => {
    const page = await workshop.openScreen({ viewport: { width: 390, height: 844 }, hasTouch: true });
    await page.goto(workshop.server.url);
    await page.getByText('None yet.').waitFor();
    await page.getByRole('button', { name: 'Try it: nothing to plug in' }).tap();
    await page.locator('#station-check').waitFor();
    await page.getByText('SIMULATED').first().waitFor();
    await page.getByRole('link', { name: 'Needlewright: all jobs' }).tap();
    await page.getByRole('link', { name: /Coolant temperature gauge.*Check/ }).waitFor();
    expect(workshop.troubles).toEqual([]);
  });
});

const MANY = 1_000;

describe.skipIf(!hasBrowser())('a rack of a thousand jobs', () => {
  let host: FakeHost;
  beforeAll(async () => {
    host = await openFakeHost();
    for (let number = 1; number <= MANY; number += 1)
      await host.bench.createJob({
        title: 'Coolant temperature gauge',
        vehicle: `Harrow Six saloon, chassis ${number}`,
        gauge: sampleGauge,
        place: 'car',
        simulated: true,
      });
  });
  afterAll(() => host.close());

  it('shows the newest, the rest when asked, and finds one by what stands on it', async () => {
    const page = await (await host.browser.newContext({ viewport: { width: 1280, height: 800 } })).newPage();
    await page.goto(host.url);
    const rows = page.locator('.rack li');
    await expect.poll(() => rows.count()).toBe(100);
    await page.getByText(`All ${MANY}`).waitFor();
    // With jobs there is no newcomer: one plate, and the jobs in the first screen.
    expect(await page.getByRole('link', { name: 'Start a job' }).count()).toBe(1);
    expect(await page.getByRole('heading', { name: 'Make a dash gauge tell the truth.' }).count()).toBe(0);
    await keepPicture(page, 'home-thousand-1280');
    await page.getByRole('button', { name: '900 more' }).click();
    await expect.poll(() => rows.count()).toBe(MANY);
    // What is out of sight takes room and is not drawn.
    const last = await rows.last().boundingBox();
    expect(last?.y ?? 0).toBeGreaterThan(50 * MANY);
    await page.getByLabel('Search jobs').fill('chassis 777');
    await expect.poll(() => rows.count()).toBe(1);
    await page.getByText('All 1').waitFor();
    await page.getByLabel('Search jobs').fill('no such thing');
    await page.getByText('No job has that on it.').waitFor();
    await page.context().close();
  });
});
