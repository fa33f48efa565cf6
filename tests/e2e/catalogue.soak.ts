import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { smallShop, type SmallShop } from '../support/catalogue/small-shop';
import { hasBrowser } from './browser';
import { openFakeHost, type FakeHost } from './fake-host';
import { sampleDesk, sweepDone } from './sample-job';
import { giveReading, TABLE_WITH_A_BAD_ROW } from './views/catalogue';

/** The heater of the first model (62 ohm; 590 ohm at the low end, 52 at the high one): its power is what is read. */
const heaterPlace = (ohm: number): number => {
  const power = (each: number): number => 1 / (each + 62) ** 2;
  return (power(ohm) - power(590)) / (power(52) - power(590));
};

describe.skipIf(!hasBrowser())('the catalogue on the page', () => {
  let shop: SmallShop;
  let host: FakeHost;
  beforeAll(async () => {
    shop = await smallShop();
    host = await openFakeHost({ catalogue: shop.desk });
  });
  afterAll(async () => {
    await host.close();
    shop.end();
  });

  it('names an unknown gauge after the readings it asked for, and begins a job with its dial', async () => {
    const page = await host.browser.newPage({ viewport: { width: 390, height: 844 } });
    await page.goto(`${host.url}/#/`);
    await page.getByRole('link', { name: 'Catalogue' }).click();
    await giveReading(page, 1, 155, heaterPlace(155));
    await page.getByRole('heading', { name: /^One reading/ }).waitFor();
    await giveReading(page, 2, 97, heaterPlace(97));
    const open = page.getByRole('link', { name: 'Open Harrow Six coolant gauge' });
    const next = page.getByRole('button', { name: /^Read it at/ });
    for (let row = 3; row < 7; row += 1) {
      await open.or(next).first().waitFor();
      if (await open.isVisible()) break;
      await next.click();
      const asked = page.getByRole('group', { name: `Reading ${row}`, exact: true });
      const ohm = Number(await asked.getByLabel('Ohms').inputValue());
      expect(ohm).toBeGreaterThan(50);
      await page.getByRole('button', { name: `Put the needle for ${ohm}` }).waitFor();
      await giveReading(page, row, ohm, heaterPlace(ohm));
    }
    await open.click();
    await page.getByRole('heading', { name: 'Harrow Six coolant gauge' }).waitFor();
    expect(await page.locator('.specimens tbody tr').count()).toBe(8);
    // Whoever looked at a model comes back to his readings.
    await page.goBack();
    const first = page.getByRole('group', { name: 'Reading 1', exact: true });
    await expect.poll(() => first.getByLabel('Ohms').inputValue()).toBe('155');
    await page.goForward();
    await page.getByRole('link', { name: 'Start a job from this' }).click();
    await page.getByText('As in the catalogue').waitFor({ state: 'attached' });
    await page.getByRole('button', { name: 'Open the job sheet' }).click();
    await expect.poll(() => [...host.bench.desks.values()].at(-1)?.state.gauge.marks.length).toBe(5);
    const { gauge } = [...host.bench.desks.values()].at(-1)!.state;
    expect(gauge).toMatchObject({ unit: 'degC', mechanism: 'thermal', quantity: 'temperature' });
    expect(gauge.family?.lowEndOhm).toBeGreaterThan(500);
    await page.close();
  });

  it('is asked with the keyboard alone', async () => {
    const page = await host.browser.newPage();
    await page.goto(`${host.url}/#/catalogue`);
    await page.getByRole('group', { name: 'Reading 1', exact: true }).getByLabel('Ohms').focus();
    await page.keyboard.type('155');
    await page.keyboard.press('Tab');
    for (let press = 0; press < 4; press += 1) await page.keyboard.press('ArrowLeft');
    await page.getByRole('heading', { name: /^One reading/ }).waitFor();
    const place = await page.getByRole('slider').first().getAttribute('aria-valuetext');
    expect(place).toBe('48 % of the arc');
    await page.close();
  });

  it('takes the figures that are printed on the dial, and quarters', async () => {
    const page = await host.browser.newPage();
    await page.goto(`${host.url}/#/catalogue`);
    await page.getByText('What else is known of it').click();
    await page.getByText('Percent or quarters').click();
    const row = page.getByRole('group', { name: 'Reading 1', exact: true });
    await row.getByLabel('Ohms').fill('155');
    await row.getByLabel('Needle at, %').fill('1/4');
    await page.getByRole('heading', { name: /^One reading/ }).waitFor();
    await page.getByText('°C', { exact: true }).click();
    const degrees = page.getByRole('group', { name: 'Reading 2', exact: true });
    await degrees.getByLabel('Ohms').fill('97');
    await degrees.getByLabel('Needle at, °C').fill('85');
    await page
      .getByRole('link', { name: /Harrow Six coolant gauge/ })
      .first()
      .waitFor();
    await page.close();
  });

  it('says where a number is none, and asks nothing with it', async () => {
    const page = await host.browser.newPage();
    await page.goto(`${host.url}/#/catalogue`);
    await giveReading(page, 1, 100, 0.5);
    const ohms = page.getByRole('group', { name: 'Reading 1', exact: true }).getByLabel('Ohms');
    await ohms.fill('15O');
    await page.getByRole('alert').first().waitFor();
    await page.getByRole('heading', { name: 'Which gauge is this?' }).waitFor();
    await page.close();
  });
});

describe.skipIf(!hasBrowser())('curves that are brought in', () => {
  let shop: SmallShop;
  let host: FakeHost;
  beforeAll(async () => {
    shop = await smallShop();
    host = await openFakeHost({ catalogue: shop.desk });
  });
  afterAll(async () => {
    await host.close();
    shop.end();
  });

  it('are pasted; a bad row is told with what it says, stays, and is mended in its place', async () => {
    const page = await host.browser.newPage();
    await page.goto(`${host.url}/#/catalogue`);
    await page.getByRole('link', { name: 'Bring in curves you have' }).click();
    const field = page.getByLabel('or paste a table');
    await field.fill(TABLE_WITH_A_BAD_ROW);
    const left = page.getByRole('region', { name: 'What is left out' });
    await left.getByRole('cell', { name: '9O;55' }).waitFor();
    expect(await left.getByRole('row').nth(1).innerText()).toMatch(/^5\s/);
    await page.getByText('All of one model').click();
    await page.getByLabel('Model, as you would look for it').fill('Kestrel 12 fuel gauge');
    await page.getByRole('button', { name: 'Keep 1 curve, 1 left out' }).click();
    await page.getByText('Fuel gauge, 5 readings, kept as').first().waitFor();
    // What was left out is still there, and nothing has to be typed again.
    expect(await field.inputValue()).toBe(TABLE_WITH_A_BAD_ROW);
    await page.getByRole('button', { name: 'All of it is kept' }).waitFor();
    await field.fill(TABLE_WITH_A_BAD_ROW.replace('9O', '90'));
    await page.getByRole('button', { name: 'Keep 1 curve', exact: true }).click();
    await page.getByText('Fuel gauge, 6 readings, kept as').waitFor();
    expect(await field.inputValue()).toBe('');
    await page.goto(`${host.url}/#/catalogue/model/Kestrel%2012%20fuel%20gauge`);
    await page.getByRole('cell', { name: /^replaced by/ }).waitFor();
    expect(await page.locator('.specimens tbody tr').count()).toBe(2);
    await page.close();
  });

  it('come out of several files at once, each with its own trouble', async () => {
    const page = await host.browser.newPage();
    await page.goto(`${host.url}/#/catalogue/bring-in`);
    const sender = 'temperature_C;resistance_ohm\n40;1200\n60;600\n80;300\n100;160\n';
    await page.getByLabel('Tables from files').setInputFiles([
      // As a spreadsheet of another country saves it: two bytes a letter, decimal commas.
      { name: 'coolant.csv', mimeType: 'text/csv', buffer: Buffer.from(`\ufeff${sender}`, 'utf16le') },
      { name: 'notes.txt', mimeType: 'text/plain', buffer: Buffer.from('call the shop on Monday') },
      { name: 'huge.csv', mimeType: 'text/csv', buffer: Buffer.alloc(5 * 2 ** 20, '1,2\n') },
    ]);
    await page.getByText('huge.csv: the file has more than 4 megabytes').waitFor();
    await page.getByText('Temperature sender \u201ccoolant\u201d, 4 points').waitFor({ state: 'attached' });
    await page.getByRole('button', { name: 'Keep 1 curve, 1 left out' }).click();
    await page.getByRole('link', { name: /Temperature sender .coolant., 4 points, kept as/ }).click();
    await page.getByRole('heading', { name: 'coolant' }).waitFor();
    await page.close();
  });
});

describe.skipIf(!hasBrowser())('a finished sweep and the catalogue', () => {
  it('is kept in one action, under the name that a person gives', async () => {
    const kept: (string | undefined)[] = [];
    const card = { kind: 'gauge', new: true, simulated: true } as const;
    const shop = await smallShop();
    const host = await openFakeHost({
      catalogue: {
        ...shop.desk,
        lookUp: () =>
          Promise.resolve({
            ...{ kind: 'job-in-catalogue', cards: [{ ...card, new: false }] },
            looksLike: { names: ['Harrow Six coolant gauge'], share: 0.9 },
          }),
        keep: (_jobId, model) => {
          kept.push(model);
          return Promise.resolve({
            ...{ kind: 'job-in-catalogue', cards: [{ ...card, id: 'q3fs5kx2ck' }] },
            ...(model === undefined ? {} : { model }),
          });
        },
      },
    });
    try {
      const desk = await sampleDesk(host.bench);
      sweepDone(desk);
      const page = await host.browser.newPage();
      await page.goto(`${host.url}/#/job/${desk.jobId}`);
      await page.getByRole('button', { name: /^Sweep/ }).click();
      await page.getByText('this curve is not kept yet').click();
      await page.getByText('This looks like Harrow Six coolant gauge: most likely this one.').waitFor();
      await page.getByLabel('Model, as you would look for it').fill('Harrow Six coolant gauge');
      await page.getByRole('button', { name: 'Keep this curve in the catalogue' }).click();
      await page.getByText('kept as q3fs5kx2ck, Harrow Six coolant gauge').waitFor();
      expect(kept).toEqual(['Harrow Six coolant gauge']);
    } finally {
      await host.close();
      shop.end();
    }
  });
});
