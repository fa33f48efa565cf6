import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { isDeep, someOf } from '../support/deep';
import { smallShop, type SmallShop } from '../support/catalogue/small-shop';
import { violations } from './axe';
import { hasBrowser } from './browser';
import { openFakeHost, type FakeHost } from './fake-host';
import { besideTables, clipped, covered, isAnswerInSight, sidewaysPx } from './layout';
import { rulesBroken } from './rules';
import { keepPicture } from './screenshots';
import { openViewScreen, showView, USUAL_TYPE_PIXEL, type Size, type ViewScreen } from './view-screen';
import { views, type View } from './views';

const PHONE = { width: 390, height: 844 };
const LAPTOP = { width: 1280, height: 800 };
/** The soak looks at a small phone and a laptop too, and at larger type. */
const SIZES: readonly Size[] = someOf([PHONE, { width: 360, height: 740 }, LAPTOP], 3);

/**
 * What a person does who needs it twice as large. A browser zoomed to 200 % lays the page out in half as many pixels (and
 * draws each twice as large, which moves nothing); a phone or a browser set to large type keeps the pixels and doubles the
 * type.
 */
const LARGER = [
  { way: 'zoomed to 200 %', size: { width: 640, height: 400 }, typePixel: USUAL_TYPE_PIXEL },
  { way: 'type twice as large', size: LAPTOP, typePixel: 2 * USUAL_TYPE_PIXEL },
  { way: 'type twice as large', size: { width: 360, height: 740 }, typePixel: 2 * USUAL_TYPE_PIXEL },
] as const;

/** Night changes colours only, and `tests/web/contrast.test.ts` reckons those: the soak looks at the night as well. */
const LOOKS = someOf(
  [
    { colorScheme: 'light', rules: undefined },
    { colorScheme: 'dark', rules: ['color-contrast'] },
  ] as const,
  2,
);

/** What is read, reached and pressed by anybody, by day and by night. */
async function troublesOfLooks({ page }: ViewScreen, view: View): Promise<string[]> {
  const troubles: string[] = [];
  for (const { colorScheme, rules } of LOOKS) {
    await page.emulateMedia({ colorScheme });
    for (const size of [PHONE, LAPTOP]) {
      await keepPicture(page, `${view.name}-${size.width}-${colorScheme}`, { fullPage: true, size });
    }
    troubles.push(...(await violations(page, rules)).map((each) => `by ${colorScheme}: ${each}`));
  }
  return troubles;
}

/** One plate in the first screen, room for a finger, in a running sweep everything at the thumb; nothing sideways. */
async function troublesAt({ page }: ViewScreen, view: View, size: Size): Promise<string[]> {
  await page.setViewportSize(size);
  const isRunning = (await page.locator('.run').count()) > 0;
  const broken = await rulesBroken(page, {
    plates: view.waits === undefined ? 1 : 0,
    isRunning,
    isAtThumb: isRunning && size.width < 600,
  });
  const sideways = await sidewaysPx(page);
  return [
    ...broken,
    ...(sideways > 0 ? [`scrolls ${sideways} px sideways`] : []),
    ...(await besideTables(page)),
  ].map((each) => `at ${size.width}: ${each}`);
}

/** A sweep brings its question into sight when the sheet is opened, not when somebody zooms. */
async function isAnswerSeenFirst({ page }: ViewScreen): Promise<boolean> {
  await page.reload();
  await page.locator('.entry').waitFor();
  return isAnswerInSight(page);
}

async function troublesLarger(
  screen: ViewScreen,
  view: View,
  { way, size, typePixel }: (typeof LARGER)[number],
): Promise<string[]> {
  const { page } = screen;
  await screen.typeOf(typePixel);
  await page.setViewportSize(size);
  const type = await page.evaluate(() => parseFloat(getComputedStyle(document.documentElement).fontSize));
  expect(type).toBe(typePixel);
  await keepPicture(page, `${view.name}-${size.width}-${way.replaceAll(/[^a-z0-9]+/g, '-')}`);
  const sideways = await sidewaysPx(page);
  const share = await covered(page);
  const isAnswerHidden =
    view.name === 'sweep-read' && size.width >= 640 && !(await isAnswerSeenFirst(screen));
  return [
    ...(sideways > 0 ? [`scrolls ${sideways} px sideways`] : []),
    ...(await clipped(page)).map((each) => `${each} is cut off`),
    ...(share > 0.5 ? [`${Math.round(100 * share)} % of the view is covered`] : []),
    ...(isAnswerHidden ? ['the confirmation is not in sight beside the dial'] : []),
  ].map((each) => `${way} at ${size.width}: ${each}`);
}

describe.skipIf(!hasBrowser())('every station', () => {
  let shop: SmallShop;
  let host: FakeHost;
  let screen: ViewScreen;

  beforeAll(async () => {
    shop = await smallShop();
    host = await openFakeHost({ catalogue: shop.desk });
    screen = await openViewScreen(host);
  });
  afterAll(async () => {
    await host.close();
    shop.end();
  });

  it.each(views)('has one plate in sight, and can be read, reached and made larger: $name', async (view) => {
    await showView(screen, view, PHONE);
    const troubles = await troublesOfLooks(screen, view);
    for (const size of SIZES) troubles.push(...(await troublesAt(screen, view, size)));
    for (const larger of isDeep ? LARGER : []) troubles.push(...(await troublesLarger(screen, view, larger)));
    expect(troubles).toEqual([]);
    expect(screen.errors.splice(0)).toEqual([]);
  });

  it('leaves no view out', () => {
    expect(views.length).toBe(76);
    expect(new Set(views.map((view) => view.name)).size).toBe(76);
  });
});
