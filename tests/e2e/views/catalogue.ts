import type { Page } from 'playwright-core';
import type { View } from './view';

/** Types ohms and puts the needle down where it sits, as a finger does. */
export async function giveReading(page: Page, number: number, ohm: number, place: number): Promise<void> {
  const row = page.getByRole('group', { name: `Reading ${number}`, exact: true });
  await row.getByLabel('Ohms').fill(String(ohm));
  const strip = row.locator('.needle-strip');
  await strip.scrollIntoViewIfNeeded();
  const box = await strip.boundingBox();
  if (box === null) throw new Error('the strip is not drawn');
  /** Margin of the glass at both ends of the arc. */
  const margin = 16;
  await page.mouse.click(box.x + margin + (box.width - 2 * margin) * place, box.y + box.height / 2);
}

/** Six pairs as a notebook has them; the fourth was misread. */
export const TABLE_WITH_A_BAD_ROW = [
  'resistance_ohm;reading_percent',
  ...['10;0', '30;22,5', '60;41', '9O;55', '140;75', '180;88'],
].join('\n');

/** Through the address bar, so that what was typed in an earlier view is gone. */
const at = (address: string) => () => Promise.resolve(address);

export const catalogueViews: readonly View[] = [
  {
    name: 'catalogue',
    make: at('#/catalogue'),
    act: (page) => page.locator('.found-parts li').first().waitFor(),
  },
  {
    name: 'catalogue-find',
    make: at('#/catalogue'),
    act: async (page) => {
      await giveReading(page, 1, 155, 0.25);
      await page.getByRole('heading', { name: /^One reading/ }).waitFor();
    },
  },
  {
    name: 'catalogue-unit',
    make: at('#/catalogue'),
    act: async (page) => {
      await page.getByText('What else is known of it').click();
      await page.getByText('°C', { exact: true }).click();
      const row = page.getByRole('group', { name: 'Reading 1', exact: true });
      await row.getByLabel('Ohms').fill('97');
      await row.getByLabel('Needle at, °C').fill('92');
      await page.getByRole('heading', { name: /^One reading/ }).waitFor();
    },
  },
  {
    name: 'catalogue-sender',
    make: at('#/catalogue'),
    act: async (page) => {
      await page.getByText('What else is known of it').click();
      await page.getByText('Sender', { exact: true }).click();
      await page.getByLabel('°C').first().waitFor();
    },
  },
  {
    name: 'catalogue-bring-in',
    make: at('#/catalogue/bring-in'),
    act: (page) => page.getByRole('button', { name: 'Paste or pick a table' }).waitFor(),
  },
  {
    name: 'catalogue-bring-in-left-out',
    make: at('#/catalogue/bring-in'),
    act: async (page) => {
      await page.getByLabel('or paste a table').fill(TABLE_WITH_A_BAD_ROW);
      await page.getByRole('button', { name: 'Keep 1 curve' }).waitFor();
    },
  },
  {
    name: 'catalogue-model',
    make: at('#/catalogue/model/Harrow%20Six%20coolant%20gauge'),
    act: (page) => page.locator('.specimens').waitFor(),
  },
  {
    name: 'catalogue-unknown',
    make: at('#/catalogue/card/zzzzzzzzzz'),
    act: (page) => page.getByRole('link', { name: 'Look in the catalogue' }).waitFor(),
  },
];
