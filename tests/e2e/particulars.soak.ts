import { createHash } from 'node:crypto';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { LATITUDE, SECRETS, telephoneJpeg } from '../support/pictures';
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

  it('keeps a photograph without place and camera, upright, shows it, and deletes it for good', async () => {
    const page = await workshop.openScreen();
    await startJob(page, workshop, 'two-coil-fuel');
    await openStation(page, 'Record');
    await page.locator('summary', { hasText: 'Photographs' }).click();
    const pick = page.getByLabel('Take or pick a picture (JPEG or PNG)');
    await pick.setInputFiles({ name: 'dial.jpg', mimeType: 'image/jpeg', buffer: Buffer.from('no picture') });
    await page.getByText('This file is no JPEG and no PNG, whatever it is called.').waitFor();

    await pick.setInputFiles({ name: 'dial.jpg', mimeType: 'image/jpeg', buffer: telephoneJpeg() });
    const shown = page.locator('.photographs img');
    await shown.waitFor();
    // Its camera lay on its side: 160 by 128 with orientation 6 is seen as 128 by 160. Source: Exif 2.3, 4.6.4.
    await expect
      .poll(() =>
        shown.evaluate(
          (image) => image instanceof HTMLImageElement && [image.naturalWidth, image.naturalHeight],
        ),
      )
      .toEqual([128, 160]);
    const kept = await page.request.get(new URL((await shown.getAttribute('src')) ?? '', page.url()).href);
    const bytes = await kept.body();
    expect(bytes.subarray(0, 3)).toEqual(Buffer.of(0xff, 0xd8, 0xff));
    for (const secret of [...SECRETS, LATITUDE]) expect(bytes.includes(secret)).toBe(false);
    const added = (await journalOf(page)).find((event) => event.kind === 'photograph-added');
    expect(added).toMatchObject({ of: 'as-found', sha256: createHash('sha256').update(bytes).digest('hex') });
    await page.locator('.drawn-sheet image').waitFor({ state: 'attached' });

    await page.getByRole('button', { name: 'Delete: Dial as found' }).click();
    await page.getByRole('button', { name: 'Delete it for good' }).click();
    await shown.waitFor({ state: 'detached' });
    expect((await page.request.get(kept.url())).status()).toBe(404);
  });
});
