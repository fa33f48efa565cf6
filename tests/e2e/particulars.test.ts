import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { hasBrowser } from './browser';
import { journalOf, openStation, openWorkshop, startJob, type Workshop } from './workshop';

describe.skipIf(!hasBrowser())('whose it is, and who worked on it', () => {
  let workshop: Workshop;
  beforeAll(async () => {
    workshop = await openWorkshop();
  });
  afterAll(async () => {
    await workshop.close();
  });

  it('goes into the job and on the drawn sheet; the next job is offered the shop and no customer', async () => {
    const page = await workshop.openScreen();
    await startJob(page, workshop, 'two-coil-fuel');
    await openStation(page, 'Record');
    await page.getByText('Whose it is, and who worked on it').click();
    await page.getByLabel('Customer').fill('Mrs A. Lindqvist');
    await page.getByLabel('Shop').fill('Quarry Lane Instrument Works');
    await page.getByLabel('Serial number of the sender').fill('stamped 7/26');
    await page.getByLabel('Part number of the sender').fill('QL 12');
    await page.getByLabel('Odometer').fill('61204');
    await page.getByText('miles', { exact: true }).click();
    await page.getByRole('button', { name: 'Save these' }).click();
    await page
      .locator('.drawn-sheet', { hasText: 'Mrs A. Lindqvist' })
      .first()
      .waitFor({ state: 'attached' });
    const changed = (await journalOf(page)).filter((event) => event.kind === 'job-changed');
    expect(changed.at(-1)).toMatchObject({
      particulars: {
        customer: 'Mrs A. Lindqvist',
        shop: 'Quarry Lane Instrument Works',
        odometer: { distance: 61_204, unit: 'mile' },
        senderSerialNumber: 'stamped 7/26',
        senderPartNumber: 'QL 12',
      },
    });

    await startJob(page, workshop, 'two-coil-fuel');
    await openStation(page, 'Record');
    await page.getByText('Whose it is, and who worked on it').click();
    await expect.poll(() => page.getByLabel('Shop').inputValue()).toBe('Quarry Lane Instrument Works');
    expect(await page.getByLabel('Customer').inputValue()).toBe('');
  });
});
