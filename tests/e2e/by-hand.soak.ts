import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { hasBrowser } from './browser';
import { sidewaysPx } from './layout';
import { keepPicture } from './screenshots';
import { phoneOf } from './touch';
import {
  askedOhm,
  DRAWER,
  LEADS_OHM,
  needleAt,
  ohmAt,
  readAndConfirm,
  shown,
  startByHand,
} from './hand-steps';
import { CONFIRM, journalOf, openStation, openWorkshop, type Workshop } from './workshop';

async function beginByHand(page: Page, workshop: Workshop): Promise<void> {
  await page.goto(workshop.server.url);
  await page.getByRole('link', { name: /^Resistors and an ohmmeter/ }).click();
  await page.getByText('thermal (slow, hot wire)').click();
  await page.getByLabel('Which vehicle?').fill('Harrow Six saloon (1964)');
  await page.getByRole('button', { name: 'Open the job sheet' }).click();
  await openStation(page, 'Sweep');
}

/** The other end of the dial: asked back, however often it is pressed at once, and nothing is taken. */
async function slipAtTheNeedle(page: Page, ohm: number): Promise<void> {
  await page.getByText('Read the needle').waitFor();
  const before = (await journalOf(page)).length;
  await page.getByLabel(/or type it/).fill((160 - needleAt(ohm)).toFixed(1));
  await page.getByRole('button', { name: CONFIRM }).dblclick();
  await page.getByRole('button', { name: /^It really reads/ }).waitFor();
  await page.getByText(/Look again/).waitFor();
  await keepPicture(page, 'hand-390-doubt');
  expect((await journalOf(page)).length).toBe(before);
}

describe.skipIf(!hasBrowser())('a job without a box', () => {
  let workshop: Workshop;
  beforeAll(async () => void (workshop = await openWorkshop()));
  afterAll(() => workshop.close());

  it('goes from the first screen to the record with resistors and an ohmmeter, on a phone', async () => {
    const page = await workshop.openScreen(phoneOf(390, 844));
    await beginByHand(page, workshop);
    await keepPicture(page, 'hand-390-begin', { fullPage: true });
    // Who said so on the first screen is not told that a box is missing, nor once the page is loaded again.
    const missing = page.getByText('No box is connected.');
    expect(await missing.count()).toBe(0);
    await page.reload();
    await openStation(page, 'Sweep');
    await page.getByLabel('Resistors you have').waitFor();
    expect(await missing.count()).toBe(0);
    await page.getByText('The box', { exact: true }).click();
    await missing.waitFor();
    await page.getByText('Resistors', { exact: true }).click();
    await missing.waitFor({ state: 'detached' });
    const drawer = page.getByLabel('Resistors you have');
    await drawer.fill(DRAWER);
    // The whole list is in sight, its first line too.
    expect(await drawer.evaluate((field) => field.scrollHeight - field.clientHeight)).toBeLessThanOrEqual(1);
    await page.getByLabel('It shows, leads shorted').fill(String(LEADS_OHM));
    await page.getByRole('button', { name: '450 to 30' }).click();
    await page.getByText(/^They make/).waitFor();
    await page.getByRole('button', { name: 'Go on with these' }).click();
    await page.getByText('Wait at each reading').click();
    await page.getByLabel('Wait (s)').fill('0.2');
    await keepPicture(page, 'hand-390-start', { fullPage: true });
    expect(await sidewaysPx(page)).toBe(0);
    await startByHand(page);
    await page.getByText(/^Put [\d.]+/).waitFor();
    await keepPicture(page, 'hand-390-set');
    expect(await sidewaysPx(page)).toBe(0);
    // What is no part of this family's range is not taken, whatever was typed.
    await page.getByLabel(/ohmmeter shows/).fill('3');
    const tooLow = page.getByText(/the least that a sender of this family has/);
    // Once asked back, it is confirmed by a press of its own, not by a hand that trembles.
    await page.getByRole('button', { name: /^Yes, 3/ }).dblclick();
    await page.getByText(/about .* times as little/).waitFor();
    expect(await tooLow.count()).toBe(0);
    await expect
      .poll(async () => {
        await page.getByRole('button', { name: /^Yes, 3/ }).click();
        return tooLow.count();
      })
      .toBe(1);
    await keepPicture(page, 'hand-390-refused');
    // A decimal point forgotten: said, and not taken at one press.
    const forgotten = 10 * (await askedOhm(page));
    await page.getByLabel(/ohmmeter shows/).fill(String(forgotten));
    await page.getByRole('button', { name: /^Yes, / }).click();
    await page.getByText(/about 10 times as much/).waitFor();
    expect((await journalOf(page)).filter(({ kind }) => kind === 'reading')).toEqual([]);
    await page.getByText(/^Put [\d.]+/).waitFor();
    let given = 0;
    const ended = page.getByRole('button', { name: 'On to the sender' });
    const put = page.getByText(/^Put [\d.]+/);
    for (;;) {
      await put.or(ended).first().waitFor();
      if (await ended.isVisible()) break;
      const ohm = await askedOhm(page);
      await page.getByLabel(/ohmmeter shows/).fill(shown(ohm));
      await page.getByRole('button', { name: 'It is on' }).click();
      if (given === 5) await slipAtTheNeedle(page, ohm);
      await readAndConfirm(page, ohm);
      given += 1;
      await expect
        .poll(async () => (await journalOf(page)).filter(({ kind }) => kind === 'reading').length)
        .toBe(given);
    }
    expect(given).toBeGreaterThanOrEqual(8);
    await keepPicture(page, 'hand-390-result', { fullPage: true });
    const readings = (await journalOf(page)).filter((event) => event.kind === 'reading');
    for (const reading of readings) expect(reading).toMatchObject({ source: 'hand', leg: 'up' });

    await ended.click();
    await page.getByRole('button', { name: 'Give its points' }).click();
    await page.getByText('A table or a file', { exact: true }).click();
    // A sender that is 15 ohm short of what this dial wants everywhere: one resistor in series mends it.
    const rows = [40, 60, 80, 100, 110].map((celsius) => `${celsius}\t${(ohmAt(celsius) - 15).toFixed(1)}`);
    await page.getByLabel(/one pair a line/).fill(`temperature_C\tresistance_ohm\n${rows.join('\n')}`);
    await page.getByRole('button', { name: /Add these 5 points/ }).click();
    await page.getByRole('button', { name: 'On to the trim' }).click();
    await page.getByRole('button', { name: 'Find the network' }).click();
    // Not before the vehicle was seen to show what its two curves say: one natural state beside a reference.
    await page.getByRole('button', { name: 'First the chain test' }).waitFor();
    const chain = page.getByRole('region', { name: 'Chain test' });
    await chain.getByLabel(/^What is true/).fill('80');
    await chain.getByLabel(/95 %/).fill('2');
    await chain.getByLabel(/^The needle shows/).fill(needleAt(ohmAt(80) - 15).toFixed(1));
    await chain.getByRole('button', { name: 'Note it as found' }).click();
    await chain.getByRole('button', { name: 'Compare with the curves' }).click();
    await page.getByRole('button', { name: 'Fit this one' }).click();
    await openStation(page, 'Record');
    await page.getByText(/put on by hand \(My ohmmeter\).*rising only/).waitFor();
    await keepPicture(page, 'hand-390-record', { fullPage: true });
    expect(workshop.troubles).toEqual([]);
    await page.context().close();
  });

  it('is done with a potentiometer: near the mark, read, pulled and measured', async () => {
    const page = await workshop.openScreen({ viewport: { width: 1280, height: 800 } });
    await beginByHand(page, workshop);
    await page.getByText('A potentiometer', { exact: true }).click();
    await page.getByLabel(/^The whole potentiometer/).fill('470');
    await page.getByLabel(/^Rated/).fill('25');
    await page.getByRole('button', { name: '450 to 30' }).click();
    // Nothing is in series with it yet: the page names what must be.
    await page.getByText(/in series and leave it there/).waitFor();
    await page.getByRole('button', { name: 'I have that in series' }).click();
    await page.getByLabel('It shows, leads shorted').fill(String(LEADS_OHM));
    await page.getByRole('button', { name: 'Go on with these' }).click();
    await page.getByText('Wait at each reading').click();
    await page.getByLabel('Wait (s)').fill('0.2');
    await startByHand(page);
    await page.getByText(/^Turn to 40/).waitFor();
    await keepPicture(page, 'hand-1280-turn');
    await page.getByRole('button', { name: /^It sits near 40/ }).click();
    await readAndConfirm(page, 440);
    await page.getByText('Measure it by itself').waitFor();
    await keepPicture(page, 'hand-1280-measure');
    await page.getByLabel(/ohmmeter shows/).fill(shown(440));
    await page.getByRole('button', { name: /^It was/ }).click();
    await page.getByText(/^Turn to 60/).waitFor();
    const events = await journalOf(page);
    expect(events.filter(({ kind }) => kind === 'reading')).toMatchObject([
      { resistanceOhm: 440, source: 'hand' },
    ]);
    expect(workshop.troubles).toEqual([]);
    await page.context().close();
  });

  it('takes a table that was measured elsewhere', async () => {
    const page = await workshop.openScreen(phoneOf(390, 844));
    await beginByHand(page, workshop);
    await page.getByText('A table I have', { exact: true }).click();
    const rows = [400, 220, 120, 68, 39].map((ohm) => `${ohm},${needleAt(ohm).toFixed(1)}`);
    await page.getByLabel(/one pair a line/).fill(`resistance_ohm,reading_C\n${rows.join('\n')}\nred,50`);
    await page.getByText(/row 7/i).waitFor();
    await page.getByLabel(/one pair a line/).fill(`resistance_ohm,reading_C\n${rows.join('\n')}`);
    await page.getByRole('button', { name: 'Add these 5 readings' }).click();
    await page.getByRole('button', { name: 'On to the sender' }).waitFor();
    expect((await journalOf(page)).filter(({ kind }) => kind === 'reading')).toHaveLength(5);
    expect(workshop.troubles).toEqual([]);
    await page.context().close();
  });
});
