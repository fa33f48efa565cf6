import type { Page } from 'playwright-core';

const MOST_TABS = 80;

/** Moves the focus with Tab until the focused control bears the name; a control that cannot be reached fails the test. */
export async function tabTo(page: Page, name: RegExp): Promise<void> {
  for (let tab = 0; tab < MOST_TABS; tab += 1) {
    const focused = await page.evaluate(() => {
      const element = document.activeElement;
      if (element === null || element === document.body) return '';
      const labelled = element instanceof HTMLInputElement ? element.labels?.[0]?.textContent : undefined;
      return element.getAttribute('aria-label') ?? labelled ?? element.textContent ?? '';
    });
    if (name.test(focused)) return;
    await page.keyboard.press('Tab');
  }
  throw new Error(`Tab never reached ${String(name)}`);
}
