import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { countedSenderPoints, foldJob } from '../../host/job';
import { hasBrowser } from './browser';
import { keepPicture } from './screenshots';
import {
  askTheList,
  awaitQuestion,
  journalOf,
  openStation,
  openWorkshop,
  startJob,
  startSweep,
  typeReading,
  type Workshop,
} from './workshop';

const stateOf = async (page: Page) => {
  const state = foldJob(await journalOf(page));
  if (state === undefined) throw new Error('no state');
  return state;
};

/** Opens the sender station, names a sender and chooses how its points come in. */
async function beginSender(page: Page, way: string): Promise<void> {
  await openStation(page, 'Sender');
  await page.getByRole('button', { name: 'Give its points' }).click();
  await page.getByText(way, { exact: true }).click();
}

const confirmCold = (page: Page): Promise<void> =>
  page.getByRole('button', { name: 'Yes', exact: true }).click();

/** What a person reads off the drawn thermometer. */
async function thermometer(page: Page): Promise<number> {
  const text = (await page.locator('.thermometer').textContent()) ?? '';
  return Number(/[\d.]+/.exec(text)?.[0]);
}

describe.skipIf(!hasBrowser())('the sender, through the page', () => {
  let workshop: Workshop;
  let folder: string;
  beforeAll(async () => {
    workshop = await openWorkshop();
    folder = mkdtempSync(join(tmpdir(), 'needlewright-tables-'));
  });
  afterAll(async () => {
    rmSync(folder, { recursive: true, force: true });
    await workshop.close();
  });

  it('stays open under the hands: a second point does not fold it away after a reload', async () => {
    const page = await workshop.openScreen();
    await startJob(page, workshop, 'two-coil-fuel');
    await askTheList(page);
    const isAsked = page.getByRole('button', { name: 'Skip', exact: true });
    const isEnded = page.getByRole('button', { name: 'Save the finding' });
    // The last press may already have been answered when the next one is tried.
    while (!(await isEnded.isVisible())) await isAsked.click({ timeout: 5_000 }).catch(() => undefined);
    await page.getByRole('button', { name: 'Save the finding' }).click();
    await startSweep(page);
    expect(await awaitQuestion(page)).toBe(true);
    await typeReading(page, 25);
    await page.getByRole('button', { name: 'Finish here' }).click();
    // The curve is looked at before the person goes on.
    await page.getByRole('button', { name: 'On to the sender' }).waitFor();
    await page.reload();
    await page.getByRole('button', { name: 'On to the sender' }).click();
    await page.getByRole('button', { name: 'Give its points' }).click();
    await page.getByText('Type points', { exact: true }).click();
    // What must be said of the tank is asked first.
    const isSo = page.getByRole('button', { name: 'Yes', exact: true }).first();
    const isAskedForPoint = async (): Promise<boolean> => {
      if (await isSo.isVisible()) await isSo.click({ timeout: 5_000 }).catch(() => undefined);
      return page.getByLabel(/^Level/).isVisible();
    };
    await expect.poll(isAskedForPoint).toBe(true);
    for (const [value, ohm] of [
      ['0', '3'],
      ['50', '30'],
      ['100', '90'],
    ] as const) {
      await page.getByLabel(/^Level/).fill(value);
      await page.getByLabel(/^Resistance/).fill(ohm);
      await page.getByLabel(/^Resistance/).press('Enter');
      await page
        .locator('#station-sender tbody tr')
        .filter({ hasText: `${value} %` })
        .waitFor();
    }
    await page.getByRole('button', { name: 'On to the trim' }).click();
    await page.getByText('The gauge has no curve yet. The sender has points.').waitFor();
  });

  it('is measured by the box itself in its bath: the person types the thermometer and Enter, nothing else', async () => {
    const gauge = await workshop.simulated('thermal-temperature');
    const page = await workshop.openScreen();
    await startJob(page, workshop, gauge.name);
    await beginSender(page, 'Let the box measure');
    expect(await page.getByRole('button', { name: /box measures by itself/ }).count()).toBe(0);
    await confirmCold(page);
    await page.getByRole('button', { name: 'The replacement sender' }).click();
    await page.getByRole('button', { name: /box measures by itself/ }).click();
    const field = page.getByLabel('The thermometer shows');
    // The hands come from the start button: the field has the focus, and keeps it from point to point.
    await expect.poll(() => field.evaluate((input) => input === document.activeElement)).toBe(true);
    for (const celsius of [90, 70, 50]) {
      // The world outside the page: somebody at the hot plate.
      workshop.server.bay.tellWorld({ bath: { sender: 'replacement', holdAt: celsius } });
      await page.getByText('It stands still: read the thermometer now.').waitFor({ timeout: 90_000 });
      if (celsius === 70) await keepPicture(page, 'sender-watch', { fullPage: true });
      const shown = await thermometer(page);
      expect(Math.abs(shown - celsius)).toBeLessThan(0.5);
      await page.keyboard.type(shown.toFixed(1));
      await page.keyboard.press('Enter');
      await page.getByText(`Taken: ${shown.toFixed(1)}`).waitFor();
      expect(await field.inputValue()).toBe('');
    }
    const state = await stateOf(page);
    const points = countedSenderPoints(state, 'sender-1');
    expect(points.length).toBe(3);
    expect(state.saidForSafety.map((each) => each.confirmation)).toEqual(['engine-cold']);
    for (const point of points) {
      expect(point.source).toBe('box');
      const [low, high] = [
        gauge.replacementSender.filter((row) => row.value <= point.value).at(-1),
        gauge.replacementSender.find((row) => row.value > point.value),
      ];
      if (low === undefined || high === undefined) throw new Error('outside the table');
      const share = (point.value - low.value) / (high.value - low.value);
      const truth = Math.exp(Math.log(low.ohm) * (1 - share) + Math.log(high.ohm) * share);
      // 0.1 K of the thermometer is 0.3 %, straight lines in ln R between the rows another 0.3 %, the box 0.15 %.
      expect(Math.abs(point.resistanceOhm / truth - 1)).toBeLessThan(0.01);
    }

    await page.getByRole('button', { name: 'Pause', exact: true }).click();
    await page.getByText('Paused: paused by hand.').waitFor();
    await page.getByRole('button', { name: 'Undo the last point' }).click();
    await page.waitForFunction(() => document.querySelectorAll('#station-sender tbody tr').length === 2);
    expect(countedSenderPoints(await stateOf(page), 'sender-1').length).toBe(2);
    await page.getByRole('button', { name: /^Strike 70/ }).click();
    await page.locator('#station-sender tr.struck').waitFor();
    await page.getByRole('button', { name: 'Go on' }).click();
    await page.locator('[data-watch="measuring"]').waitFor();
  });

  it('tells how much its own current warms it, from two currents in one bath', async () => {
    const page = await workshop.openScreen();
    workshop.server.bay.tellWorld({ bath: 'off' });
    await startJob(page, workshop, 'thermal-temperature');
    await beginSender(page, 'A table or a file');
    await page.getByRole('button', { name: /Take the replacement sender/ }).click();
    await page.getByText('Let the box measure', { exact: true }).click();
    await confirmCold(page);
    await page.getByRole('button', { name: 'The replacement sender' }).click();
    workshop.server.bay.tellWorld({ bath: { sender: 'replacement', holdAt: 70 } });
    await page.getByRole('button', { name: /box measures by itself/ }).click();
    await page.getByText('It stands still: read the thermometer now.').waitFor({ timeout: 90_000 });
    await page.getByText('Does its own current warm this sender?').click();
    await page.getByLabel('The bath stands at').fill('70');
    await page.getByRole('button', { name: 'Check at two currents' }).click();
    await page.getByRole('progressbar').waitFor();
    await page.getByText(/It sheds \d+/).waitFor({ timeout: 150_000 });
    const sheds = Number(/sheds (\d+)/.exec((await page.locator('[data-heating]').textContent()) ?? '')?.[1]);
    // Simulated: 20 mW for each kelvin.
    expect(sheds).toBeGreaterThanOrEqual(15);
    expect(sheds).toBeLessThanOrEqual(26);
    await keepPicture(page, 'sender-heating', { fullPage: true });
  });

  it('takes the table of the simulated vehicle at one press, marked as such', async () => {
    const page = await workshop.openScreen();
    await startJob(page, workshop, 'thermal-temperature');
    await beginSender(page, 'A table or a file');
    await page.getByRole('button', { name: /Take the replacement sender/ }).click();
    await page.getByRole('button', { name: 'On to the trim' }).waitFor();
    const points = countedSenderPoints(await stateOf(page), 'sender-1');
    const gauge = await workshop.simulated('thermal-temperature');
    expect(points.map((point) => [point.value, point.resistanceOhm])).toEqual(
      gauge.replacementSender.map((row) => [row.value, row.ohm]),
    );
    expect(points.every((point) => point.remark?.includes('SIMULATED') === true)).toBe(true);
  });

  const utf16 = (text: string): Buffer =>
    Buffer.concat([Buffer.from([0xff, 0xfe]), Buffer.from(text, 'utf16le')]);
  it.each([
    ['utf-8.csv', Buffer.from('\ufefftemperature_C,resistance_ohm\r\n40,"1200"\r\n60,500\r\n', 'utf8')],
    ['utf-16.txt', utf16('Temperatur \u00b0C\tWiderstand \u03a9\n40\t1200\n60\t500\n')],
    ['latin-1.csv', Buffer.from('Temp \u00b0C;Ohm\n40,0;1200\n60;500,0\n', 'latin1')],
    ['fahrenheit.tsv', Buffer.from('No.\tT (\u00b0F)\tR (k\u03a9)\n1\t104\t1.2\n2\t140\t0.5\n', 'utf8')],
  ])('reads a table from %s', async (name, bytes) => {
    const page = await workshop.openScreen();
    await startJob(page, workshop, 'thermal-temperature');
    await beginSender(page, 'A table or a file');
    writeFileSync(join(folder, name), bytes);
    await page.getByLabel(/A table from a file/).setInputFiles(join(folder, name));
    await page.getByRole('button', { name: 'Add these 2 points' }).click();
    await page.getByRole('button', { name: 'On to the trim' }).waitFor();
    const points = countedSenderPoints(await stateOf(page), 'sender-1');
    expect(points.map((point) => [point.value, point.resistanceOhm])).toEqual([
      [40, 1200],
      [60, 500],
    ]);
    expect(points.map((point) => point.remark)).toEqual([`${name}, row 2`, `${name}, row 3`]);
    expect(points[0]?.given).toEqual(
      name === 'fahrenheit.tsv' ? { unit: 'degF', numbers: { value: 104 } } : undefined,
    );
  });

  it('loses nothing of a bad table: says row, column and what to do, takes the rest, and keeps what is to be mended', async () => {
    const page = await workshop.openScreen({ viewport: { width: 360, height: 740 } });
    await startJob(page, workshop, 'thermal-temperature');
    await beginSender(page, 'A table or a file');
    const bad = join(folder, 'bad.csv');
    writeFileSync(bad, 'value;ohm\n40;1200\nsixty;500\n80\n100;52,8\n');
    await page.getByLabel(/A table from a file/).setInputFiles(bad);
    const table = page.getByRole('region', { name: 'Rows that were not understood' });
    expect(await table.locator('tbody tr').allTextContents()).toEqual([
      expect.stringMatching(/^3sixty;500value: .*not a number/),
      expect.stringMatching(/^480ohm: the cell is empty/),
    ]);
    await keepPicture(page, 'sender-bad-table-360', { fullPage: true });
    await page.getByRole('button', { name: 'Add these 2 points, leave 2 to mend' }).click();
    const field = page.getByLabel(/or paste/);
    await expect.poll(() => field.inputValue()).toBe('value;ohm\nsixty;500\n80');
    await field.fill('value;ohm\n60;500\n80;97,3');
    await page.getByRole('button', { name: 'Add these 2 points', exact: true }).click();
    await expect.poll(async () => countedSenderPoints(await stateOf(page), 'sender-1').length).toBe(4);
    writeFileSync(join(folder, 'book.xlsx'), Buffer.from([0x50, 0x4b, 3, 4, 0, 0]));
    await page.getByLabel(/A table from a file/).setInputFiles(join(folder, 'book.xlsx'));
    await page.getByText(/save the sheet as CSV/).waitFor();
  });

  it('takes a dropped file like a picked one', async () => {
    const page = await workshop.openScreen();
    await startJob(page, workshop, 'thermal-temperature');
    await beginSender(page, 'A table or a file');
    const dropped = await page.evaluateHandle(() => {
      const transfer = new DataTransfer();
      transfer.items.add(new File(['40 1k2\n60 500'], 'notes.txt', { type: 'text/plain' }));
      return transfer;
    });
    await page.getByLabel(/or paste/).dispatchEvent('drop', { dataTransfer: dropped });
    await page.getByRole('button', { name: 'Add these 2 points' }).waitFor();
  });

  it('works out from nine volts how hot the gauge\u2019s own current makes the sender', async () => {
    const page = await workshop.openScreen();
    await startJob(page, workshop, 'thermal-temperature');
    await beginSender(page, 'A table or a file');
    await page.getByRole('button', { name: /Take the replacement sender/ }).click();
    await page.getByRole('button', { name: 'On to the trim' }).waitFor();
    await page.getByText('How hot does the gauge\u2019s own current make it?').click();
    await page.getByLabel('Lead unclipped, nothing on it').fill('10');
    await page.getByLabel('A known resistor').fill('58');
    await page.getByLabel('Lead with that resistor to ground').fill('5');
    // 10 V behind 58 ohm: 4.6 V is 49.4 ohm, 4.0 V is 38.7 ohm; 0.41 W warmed it from the one to the other.
    for (const turn of ['first', 'second', 'third']) {
      await page.getByLabel(`Just on, ${turn} time`).fill('4.6');
      await page.getByLabel(`After a minute, ${turn} time`).fill('4');
    }
    await page.getByRole('button', { name: 'Work out the heat' }).click();
    const found = page.locator('[data-in-place]');
    await found.waitFor();
    expect(await found.textContent()).toMatch(/At working current this sender reads [\d.]+ .C? ?.*hot/);
    await keepPicture(page, 'sender-working-heat', { fullPage: true });
    const { workingCurrents } = await stateOf(page);
    expect(workingCurrents[0]?.lead.ohm).toBeCloseTo(58, 6);
    expect(workingCurrents[0]?.readings.map(({ when }) => when)).toEqual([
      ...['cold', 'warm', 'cold', 'warm', 'cold', 'warm'],
    ]);
  });

  it('leaves no trouble behind', () => expect(workshop.troubles).toEqual([]));
});
