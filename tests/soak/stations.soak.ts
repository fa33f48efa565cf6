import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { smallShop, type SmallShop } from '../support/catalogue/small-shop';
import { violations } from '../e2e/axe';
import { hasBrowser, launchBrowser } from '../e2e/browser';
import { openFakeHost, type FakeHost } from '../e2e/fake-host';
import { openViewScreen, showView, type ViewScreen } from '../e2e/view-screen';
import { views } from '../e2e/views';

/** The suite looks at a phone; the same of a laptop, whose layout is another, is looked at here. */
describe.skipIf(!hasBrowser())('every station on a laptop', () => {
  let shop: SmallShop;
  let host: FakeHost;
  let screen: ViewScreen;
  beforeAll(async () => {
    shop = await smallShop();
    host = await openFakeHost({ catalogue: shop.desk }, launchBrowser);
    screen = await openViewScreen(host);
  });
  afterAll(async () => {
    await host.close();
    shop.end();
  });

  it.each(views)('can be read and reached: $name', async (view) => {
    await showView(screen, view, { width: 1280, height: 800 });
    expect(await violations(screen.page)).toEqual([]);
  });
});
