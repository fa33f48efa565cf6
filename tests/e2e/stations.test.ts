import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { gzipSync } from 'node:zlib';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { violations } from './axe';
import { hasBrowser } from './browser';
import { openFakeHost, type FakeHost } from './fake-host';
import { views } from './views';
import { openStation, screenshotFolder } from './workshop';

const SIZES = [
  { width: 360, height: 740 },
  { width: 1280, height: 800 },
] as const;
const SCHEMES = ['light', 'dark'] as const;

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

  it('weighs at most 80 KB of script, gzipped', () => {
    const script = readFileSync(fileURLToPath(new URL('../../.build/web/main.js', import.meta.url)));
    expect(gzipSync(script).length).toBeLessThanOrEqual(80_000);
  });

  it('leaves no station out', () => {
    expect(views.length).toBe(23);
  });
});
