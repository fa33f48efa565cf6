import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { foldJob } from '../../host/job';
import { hasBrowser } from './browser';
import { journalOf, openStation, openWorkshop, screenshotFolder, startJob, type Workshop } from './workshop';

const stateOf = async (page: Page) => {
  const state = foldJob(await journalOf(page));
  if (state === undefined) throw new Error('no state');
  return state;
};

const givePair = async (page: Page, reference: string, indicated: string): Promise<void> => {
  const before = await page.locator('#station-proof tbody tr').count();
  await page.getByLabel(/The reference says/).fill(reference);
  await page.getByLabel(/or type it/).fill(indicated);
  await page
    .locator('#station-proof')
    .getByRole('button', { name: /^Confirm / })
    .click();
  await page.waitForFunction(
    (count) => document.querySelectorAll('#station-proof tbody tr').length > count,
    before,
  );
};

describe.skipIf(!hasBrowser())('units and the proof, through the page', () => {
  let workshop: Workshop;
  beforeAll(async () => void (workshop = await openWorkshop()));
  afterAll(() => workshop.close());

  it('shows and takes everything in another unit, keeps what was typed, and stores the dial\u2019s own', async () => {
    const page = await workshop.openScreen();
    await startJob(page, workshop, 'thermal-temperature');
    await page.getByRole('button', { name: 'thermostat open' }).click();
    await page.getByLabel('or type it').fill('100');
    await page.getByRole('button', { name: 'Confirm 100.0 \u00b0C' }).click();
    await page.getByText('Question 2 of').waitFor();
    const other = await workshop.openScreen();
    await other.goto(page.url());
    // Digits of one unit are not read in another: the needle stays, the digits go.
    await openStation(page, 'Proof');
    await page.getByRole('button', { name: 'Yes, it is so' }).click();
    await page.getByLabel(/or type it/).fill('80');
    await page.getByLabel('shown in').selectOption('degF');
    await page.locator('.reading-now').filter({ hasText: '176.0 \u00b0F' }).waitFor();
    expect(await page.getByLabel(/or type it/).inputValue()).toBe('');
    // A second screen follows by itself.
    await other.getByText('(the dial is printed in \u00b0C)').waitFor();
    await givePair(page, '194', '199.4');
    const row = page.locator('#station-proof tbody tr').first();
    expect(await row.textContent()).toContain('194.0 \u2192 199.4 \u00b0F');
    expect(await row.textContent()).toContain('+5.4 \u00b0F');
    await page.screenshot({ path: `${screenshotFolder}/proof-fahrenheit.png`, fullPage: true });

    const state = await stateOf(page);
    expect(state.gauge.unit).toBe('degC');
    expect(state.asFound[0]?.indicated).toBe(100);
    expect(state.proofPairs[0]).toMatchObject({
      reference: 90,
      indicated: 93,
      given: { unit: 'degF', numbers: { reference: 194, indicated: 199.4 } },
    });

    await openStation(page, 'Record');
    await page.getByText(/dial in .C, shown here in .F/).waitFor();
    await page.getByLabel('shown in').selectOption('degC');
    await page
      .getByText(/Reads 3 K high at 90 .C|3 K high at 90/i)
      .first()
      .waitFor();
  });

  it('asks for what can hurt before the step opens, once, and puts it on the record', async () => {
    const page = await workshop.openScreen({ viewport: { width: 360, height: 740 } });
    await startJob(page, workshop, 'two-coil-fuel');
    await openStation(page, 'Proof');
    expect(await page.getByLabel(/The reference says/).count()).toBe(0);
    await page.getByText(/The tank stays closed/).waitFor();
    await page.getByText(/maker\u2019s manual, local codes and licensed trades/).waitFor();
    await page.screenshot({ path: `${screenshotFolder}/proof-confirm-360.png`, fullPage: true });
    await page.getByRole('button', { name: 'Yes, it is so' }).click();
    await page.getByLabel(/The reference says/).waitFor();
    const said = (await stateOf(page)).saidForSafety;
    expect(said.map((each) => each.confirmation)).toEqual(['tank-closed']);
    expect(said[0]?.sentence).toMatch(/tank stays closed/);
    await openStation(page, 'Record');
    await page.getByRole('heading', { name: 'Confirmed before the work' }).waitFor();
    expect(await page.locator('.record').textContent()).toContain('The tank stays closed');
  });

  it('asks nothing of that on a bench', async () => {
    const page = await workshop.openScreen();
    await page.goto(workshop.server.url);
    await page.getByRole('link', { name: 'Start a job' }).click();
    await page.getByLabel('Which simulated vehicle?').selectOption('two-coil-fuel');
    await page.getByText('On the bench').click();
    await page.getByRole('button', { name: 'Open the job sheet' }).click();
    await page.getByText('Box connected').waitFor();
    await openStation(page, 'Proof');
    await page.getByLabel(/The reference says/).waitFor();
    expect(await page.getByText(/The tank stays closed/).count()).toBe(0);
    expect(await page.getByRole('button', { name: 'Yes, it is so' }).count()).toBe(0);
    expect((await stateOf(page)).saidForSafety).toEqual([]);
  });

  it('judges by the limit a person chose, in three ways, and says the rule on the sheet and on the record', async () => {
    const page = await workshop.openScreen();
    await startJob(page, workshop, 'thermal-temperature');
    await openStation(page, 'Proof');
    await page.getByRole('button', { name: 'Yes, it is so' }).click();
    await givePair(page, '80', '83');
    // A span of 80 K: 5 % is 4 K; read to a fiftieth of the scale, sure to 0.92 K: 3 + 0.92 is within.
    await page.getByText('Within the limit', { exact: true }).waitFor();
    const set = async (kind: string, value: string): Promise<void> => {
      const summary = page.locator('#station-proof summary').filter({ hasText: /^Limit/ });
      if ((await page.getByRole('button', { name: 'Set the limit' }).count()) === 0) await summary.click();
      await page.getByText(kind, { exact: true }).click();
      await page.getByLabel(/^At most/).fill(value);
      await page.getByRole('button', { name: 'Set the limit' }).click();
      await expect.poll(async () => JSON.stringify((await stateOf(page)).proofLimit)).toContain(value);
    };
    await set('in K', '3.5');
    await page.getByText('It cannot be told', { exact: true }).waitFor();
    await set('in K', '2');
    await page.getByText('Outside the limit', { exact: true }).waitFor();
    await page.getByRole('button', { name: 'Back to the trim' }).waitFor();
    await page.screenshot({ path: `${screenshotFolder}/proof-outside.png`, fullPage: true });
    await set('% of the scale', '12.5');
    await page.getByText('Within the limit', { exact: true }).waitFor();
    expect((await stateOf(page)).proofLimit).toEqual({ kind: 'percent', percent: 12.5 });
    await openStation(page, 'Record');
    const record = (await page.locator('.record').textContent()) ?? '';
    expect(record).toMatch(/Limit \u00b110\.0 K \(12\.5 % of the scale, as agreed for this job\)/);
    expect(record).toMatch(/Rule: within when error and uncertainty together/);
    expect(record).toMatch(/1 of the references came without one/);
  });

  it('leaves no trouble behind', () => expect(workshop.troubles).toEqual([]));
});
