import { afterAll, beforeAll, describe, expect, it, onTestFinished } from 'vitest';
import { hasBrowser } from './browser';
import { openFakeHost, type FakeHost } from './fake-host';
import { views } from './views';
import { firstScriptBytes } from '../support/first-script';

describe.skipIf(!hasBrowser())('the first view', () => {
  let host: FakeHost;
  beforeAll(async () => {
    host = await openFakeHost();
  });
  afterAll(() => host.close());

  it.each(['jobs', 'sweep-read'])(
    'fetches at most 60 KB of letters, all of them from its host: %s',
    async (name) => {
      const address = await views.find((view) => view.name === name)?.make(host.bench);
      const context = await host.browser.newContext({ viewport: { width: 390, height: 844 } });
      onTestFinished(() => context.close());
      const page = await context.newPage();
      const fetched: { readonly url: string; readonly bytes: Promise<number>; readonly kept: string }[] = [];
      // What else comes may still be on its way when the page is closed.
      page.on('response', (response) => {
        if (response.url().endsWith('.woff2'))
          fetched.push({
            url: response.url(),
            bytes: response.body().then((body) => body.length),
            kept: response.headers()['cache-control'] ?? '',
          });
      });
      await page.goto(`${host.url}/${address ?? ''}`);
      await page.locator('h1').waitFor();
      await page.evaluate(() => document.fonts.ready);
      const fonts = [...fetched];
      const sizes = await Promise.all(fonts.map(({ bytes }) => bytes));
      expect(sizes.length).toBeGreaterThanOrEqual(2);
      expect(sizes.reduce((sum, bytes) => sum + bytes, 0)).toBeLessThanOrEqual(60_000);
      expect(new Set(fonts.map(({ url }) => new URL(url).origin))).toEqual(new Set([host.url]));
      expect(fonts.every(({ kept }) => kept.includes('immutable'))).toBe(true);
      // What is named ahead is what is used: a name that is not met is fetched for nothing.
      const ahead = await page
        .locator('link[rel=preload]')
        .evaluateAll((links) => links.map((link) => (link instanceof HTMLLinkElement ? link.href : '')));
      expect(ahead.every((url) => fonts.filter((font) => font.url === url).length === 1)).toBe(true);
      expect(ahead.length).toBe(2);
      const drawn = await page.evaluate(() =>
        [...document.fonts]
          .filter((face) => face.status === 'loaded')
          .map((face) => face.family.replaceAll('"', '')),
      );
      expect(new Set(drawn)).toEqual(new Set(['National Park', 'Sofia Sans']));
    },
  );

  it('weighs at most 90 KB of script, gzipped', () => {
    expect(firstScriptBytes()).toBeLessThanOrEqual(90_000);
  });
});
