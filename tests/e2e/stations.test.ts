import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { hasBrowser } from './browser';
import { openFakeHost, type FakeHost } from './fake-host';
import { views } from './views';
import { openStation, screenshotFolder } from './workshop';

const axeSource = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

const SIZES = [
  { width: 360, height: 740 },
  { width: 1280, height: 800 },
] as const;
const SCHEMES = ['light', 'dark'] as const;

type Violation = {
  readonly id: string;
  readonly nodes: readonly { readonly html: string; readonly failureSummary?: string }[];
};

async function violations(page: Page): Promise<string[]> {
  await page.evaluate(axeSource);
  const found = await page.evaluate<Violation[]>(
    'axe.run(document, { resultTypes: ["violations"] }).then((result) => result.violations)',
  );
  return found.map(
    (each) =>
      `${each.id}: ${each.nodes
        .map((node) => `${node.html} ${node.failureSummary ?? ''}`)
        .slice(0, 2)
        .join(' | ')}`,
  );
}

describe.skipIf(!hasBrowser())('every station', () => {
  let host: FakeHost;
  const addresses = new Map<string, string>();

  beforeAll(async () => {
    host = await openFakeHost();
    for (const view of views) addresses.set(view.name, await view.make(host.bench));
  }, 60_000);
  afterAll(() => host.close(), 60_000);

  const cases = views.flatMap((view) =>
    SIZES.flatMap((size) => SCHEMES.map((scheme) => ({ view, size, scheme }))),
  );

  it.each(cases)(
    'has no accessibility violation and no sideways scroll: $view.name at $size.width, $scheme',
    async ({ view, size, scheme }) => {
      const context = await host.browser.newContext({
        viewport: size,
        colorScheme: scheme,
        hasTouch: size.width < 700,
      });
      const page = await context.newPage();
      const errors: string[] = [];
      page.on('pageerror', (error) => errors.push(error.message));
      await page.goto(`${host.url}/${addresses.get(view.name) ?? ''}`);
      await page.locator('h1').waitFor();
      await page.locator('.station, .rack, form').first().waitFor();
      if (view.open !== undefined) await openStation(page, view.open);
      await view.act?.(page);
      await page.evaluate(() => document.fonts.ready);
      const name = `${screenshotFolder}/${view.name}-${size.width}-${scheme}`;
      await page.screenshot({ path: `${name}-view.png` });
      await page.screenshot({ path: `${name}.png`, fullPage: true });
      const sideways = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
      expect(sideways).toBeLessThanOrEqual(0);
      expect(await violations(page)).toEqual([]);
      expect(errors).toEqual([]);
      await context.close();
    },
    30_000,
  );

  it('leaves no station out', () => {
    expect(views.length).toBe(23);
  });
});
