import type { Page } from 'playwright-core';
import type { FakeHost } from './fake-host';
import type { View } from './views';
import { openStation } from './workshop';

export type Size = { readonly width: number; readonly height: number };
export const USUAL_TYPE_PIXEL = 16;

/** One page that is shown view after view, the size of type its browser is set to, and what went wrong in it. */
export type ViewScreen = {
  readonly page: Page;
  readonly host: FakeHost;
  readonly typeOf: (pixel: number) => Promise<void>;
  readonly errors: string[];
};

export async function openViewScreen(host: FakeHost): Promise<ViewScreen> {
  const context = await host.browser.newContext({ hasTouch: true });
  const page = await context.newPage();
  const errors: string[] = [];
  page.on('pageerror', (error) => errors.push(error.message));
  const session = await context.newCDPSession(page);
  const typeOf = async (standard: number): Promise<void> => {
    await session.send('Page.setFontSizes', { fontSizes: { standard } });
  };
  return { page, host, typeOf, errors };
}

/** The view as if it were opened first: nothing larger, by day. */
export async function showView({ page, host, typeOf }: ViewScreen, view: View, size: Size): Promise<void> {
  await typeOf(USUAL_TYPE_PIXEL);
  await page.emulateMedia({ colorScheme: 'light' });
  await page.setViewportSize(size);
  const address = await view.make(host.bench);
  // Another hash alone would only turn the page over.
  await page.goto('about:blank');
  await page.goto(`${host.url}/${address}`);
  await page.locator('h1').waitFor();
  await page.locator('.station, .rack, form, main .button-main').first().waitFor();
  if (view.open !== undefined) await openStation(page, view.open);
  await view.act?.(page);
  await page.evaluate(() => document.fonts.ready);
}
