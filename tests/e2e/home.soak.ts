import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { hasBrowser } from './browser';
import { openFakeHost, type FakeHost } from './fake-host';
import { sampleGauge } from './sample-job';
import { keepPicture } from './screenshots';
import { journalOf, openWorkshop, startJob, type Workshop } from './workshop';

describe.skipIf(!hasBrowser())('the first page of a newcomer', () => {
  let workshop: Workshop;
  beforeAll(async () => void (workshop = await openWorkshop()));
  afterAll(() => workshop.close());

  it('begins a job on the simulated bench with one tap, and the job stands in the rack afterwards', async () => {
    const page = await workshop.openScreen({ viewport: { width: 390, height: 844 }, hasTouch: true });
    await page.goto(workshop.server.url);
    await page.getByText('None yet.').waitFor();
    await page.getByRole('button', { name: 'Try it: nothing to plug in' }).tap();
    // It opens where the needle moves.
    await page.locator('#station-sweep').waitFor();
    await page.getByText('SIMULATED').first().waitFor();
    await page.getByRole('link', { name: 'Needlewright: all jobs' }).tap();
    await page.getByRole('link', { name: /Coolant temperature gauge.*Check/ }).waitFor();
    // What a whole job looks like: one tap, marked as what it is.
    await page.getByRole('button', { name: 'Open a finished job' }).tap();
    await page.getByRole('button', { name: /^Proof/ }).waitFor();
    await page.getByRole('link', { name: 'Needlewright: all jobs' }).tap();
    await page.getByRole('link', { name: /Harrow Six.*EXAMPLE/ }).waitFor();
    // This screen by night, whatever the system says; it stays so, and the others go on as they were.
    const sheet = (): Promise<string> =>
      page.evaluate(() => getComputedStyle(document.documentElement).backgroundColor);
    const byDay = await sheet();
    await page.getByText('Night', { exact: true }).tap();
    await expect.poll(sheet).not.toBe(byDay);
    const byNight = await sheet();
    await page.reload();
    await expect.poll(sheet).toBe(byNight);
    await page.getByText('As the system', { exact: true }).tap();
    await expect.poll(sheet).toBe(byDay);
    expect(workshop.troubles).toEqual([]);
  });

  it('archives, deletes and begins a job again, each taken back by one tap', async () => {
    const page = await workshop.openScreen({ viewport: { width: 390, height: 844 }, hasTouch: true });
    await page.goto(workshop.server.url);
    const rows = page.locator('.rack li');
    await expect.poll(() => rows.count()).toBe(2);
    const undo = page.getByRole('button', { name: 'Undo' });
    const deed = async (name: string): Promise<void> => {
      await page.getByRole('button', { name: /^More: Harrow Six runs hot/ }).tap();
      await page.getByRole('button', { name, exact: true }).tap();
    };
    // Archived, it stands in its own list.
    await deed('Archive');
    await expect.poll(() => rows.count()).toBe(1);
    await page.getByRole('button', { name: 'Archived 1' }).tap();
    await page.getByRole('link', { name: /EXAMPLE/ }).waitFor();
    await undo.tap();
    await page.getByRole('button', { name: 'All 2' }).tap();
    await expect.poll(() => rows.count()).toBe(2);
    await deed('Delete');
    await expect.poll(() => rows.count()).toBe(1);
    await undo.tap();
    await expect.poll(() => rows.count()).toBe(2);
    // The same gauge again is another job, with its dial and nothing measured.
    await deed('Same gauge again');
    await page.locator('#station-check').waitFor();
    expect((await journalOf(page)).map(({ kind }) => kind)).toEqual(['job-opened']);
    expect(workshop.troubles).toEqual([]);
  });

  it('goes back from a sheet just opened to where one came from, not to a form of a job that is open', async () => {
    const page = await workshop.openScreen({ viewport: { width: 390, height: 844 } });
    await startJob(page, workshop, 'thermal-temperature');
    await page.goBack();
    await page
      .getByRole('heading', { name: 'Jobs', exact: true })
      .or(page.getByRole('searchbox'))
      .first()
      .waitFor();
    expect(await page.getByRole('button', { name: 'Open the job sheet' }).count()).toBe(0);
    await page.context().close();
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
