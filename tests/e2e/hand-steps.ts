import type { Page } from 'playwright-core';
import { CONFIRM } from './workshop';

/** A heater of 58 ohm on 10 V of heat: the needle goes with its watts. Invented dial: 450 ohm at 40, 30 ohm at 120 degC. */
const HEATER_OHM = 58;
const heatAt = (ohm: number): number => 1 / (HEATER_OHM + ohm) ** 2;
const [COLD, HOT] = [heatAt(450), heatAt(30)];
export const needleAt = (ohm: number): number => 40 + (80 * (heatAt(ohm) - COLD)) / (HOT - COLD);
export const ohmAt = (celsius: number): number => {
  const heat = COLD + ((celsius - 40) / 80) * (HOT - COLD);
  return 1 / Math.sqrt(heat) - HEATER_OHM;
};
/** The ohmmeter with its leads. */
export const LEADS_OHM = 0.3;
export const shown = (ohm: number): string => (ohm + LEADS_OHM).toFixed(1);

export const DRAWER = '2 x 10 5W\n33 2W\n47 2W\n68 1W\n100 1W\n150 1W\n220 1W\n330 1W\n470 1W';

/** The ohms in the heading, "Put 288 ohm on". */
export const askedOhm = async (page: Page): Promise<number> => {
  const heading = (await page.locator('.prompt').textContent()) ?? '';
  return Number(/Put ([\d.]+)/.exec(heading)?.[1]);
};

/** Each thing that can hurt is asked for itself; then it starts. */
export async function startByHand(page: Page): Promise<void> {
  const start = page.getByRole('button', { name: /^Start (another sweep )?by hand$/ });
  const yes = page.getByRole('button', { name: 'Yes', exact: true });
  for (;;) {
    await yes.or(start).first().waitFor();
    if (await start.isVisible()) break;
    const asked = (await page.locator('.asked .prompt').textContent()) ?? '';
    await yes.click();
    await page.getByText(asked, { exact: true }).waitFor({ state: 'detached' });
  }
  await start.click();
}

export const readAndConfirm = async (page: Page, ohm: number, movedBy = 0): Promise<void> => {
  await page.getByText('Read the needle').waitFor();
  await page.getByLabel(/or type it/).fill((needleAt(ohm) + movedBy).toFixed(1));
  await page.getByRole('button', { name: CONFIRM }).click();
};
