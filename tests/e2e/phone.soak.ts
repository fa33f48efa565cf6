import type { Locator, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { hasBrowser } from './browser';
import { fingerOn, spotOnArc } from './touch';
import { keepPicture } from './screenshots';
import {
  awaitQuestion,
  CONFIRM,
  countReadings,
  journalOf,
  lookAtDash,
  openWorkshop,
  startJob,
  startSweep,
  type Workshop,
} from './workshop';

const SIZES = [
  { width: 360, height: 640 },
  { width: 390, height: 844 },
  { width: 844, height: 390 },
] as const;

/** Wholly within the view, and not under something that lies on top of it. */
async function isInSight(page: Page, what: Locator): Promise<boolean> {
  const box = await what.boundingBox();
  const size = page.viewportSize();
  if (box === null || size === null) return false;
  if (box.x < 0 || box.y < 0 || box.x + box.width > size.width || box.y + box.height > size.height)
    return false;
  return what.evaluate((element) => {
    const { left, right, top, bottom } = element.getBoundingClientRect();
    const spots = [
      [(left + right) / 2, top + 2],
      [(left + right) / 2, bottom - 2],
      [left + 4, (top + bottom) / 2],
      [right - 4, (top + bottom) / 2],
    ];
    return spots.every(([x, y]) => {
      const hit = document.elementFromPoint(x!, y!);
      return hit !== null && (element.contains(hit) || hit.contains(element));
    });
  });
}

describe.skipIf(!hasBrowser())('a phone in one hand', () => {
  let workshop: Workshop;
  beforeAll(async () => void (workshop = await openWorkshop()));
  afterAll(() => workshop.close());

  it.each(SIZES)(
    'shows dash, question, drawn needle and confirmation together at $width x $height while a finger drags the needle',
    async (viewport) => {
      const gauge = await workshop.simulated('thermal-temperature');
      const page = await workshop.openScreen({ viewport, hasTouch: true, isMobile: true });
      await startJob(page, workshop, gauge.name);
      await startSweep(page);
      expect(await awaitQuestion(page)).toBe(true);
      const name = `live-phone-${viewport.width}x${viewport.height}`;
      await keepPicture(page, name);

      const face = page.locator('.dial-turns .dial-face');
      const confirm = page.getByRole('button', { name: CONFIRM });
      const parts = {
        dash: page.locator('.dash .dial-face'),
        question: page.locator('.prompt'),
        needle: face,
        confirm,
        stop: page.getByRole('button', { name: /^STOP/ }),
      };
      const finger = await fingerOn(page);
      const scrolled = await page.evaluate(() => scrollY);
      await finger.down(await spotOnArc(face, 0.5));
      await finger.moveTo(await spotOnArc(face, 0.25));
      await keepPicture(page, `${name}-dragging`);
      for (const [part, where] of Object.entries(parts))
        expect([part, await isInSight(page, where)]).toEqual([part, true]);

      const seen = await lookAtDash(page, gauge);
      const low = await confirm.textContent();
      await finger.moveTo(await spotOnArc(face, 0.75));
      expect(await confirm.textContent()).not.toBe(low);
      const [from, to] = [gauge.marks[0]?.reading ?? 0, gauge.marks.at(-1)?.reading ?? 0];
      await finger.moveTo(await spotOnArc(face, fractionOf(gauge.marks, seen)));
      await finger.up();
      expect(await page.evaluate(() => scrollY)).toBe(scrolled);

      const words = await confirm.textContent();
      await confirm.tap();
      await expect.poll(() => countReadings(page)).toBe(1);
      const [reading] = (await journalOf(page)).filter((event) => event.kind === 'reading');
      expect(words).toContain(reading?.reading.toFixed(1));
      expect(Math.abs((reading?.reading ?? NaN) - seen)).toBeLessThan((to - from) / 100);
      await page.getByRole('button', { name: /^STOP:/ }).tap();
      await page.getByText('The box confirmed it').waitFor();
      await page.context().close();
    },
  );
});

function fractionOf(
  marks: readonly { readonly reading: number; readonly angleFraction: number }[],
  reading: number,
): number {
  const index = Math.max(
    1,
    marks.findIndex((mark) => mark.reading >= reading),
  );
  const [low, high] = [marks[index - 1]!, marks[index]!];
  const share = (reading - low.reading) / (high.reading - low.reading);
  return low.angleFraction + share * (high.angleFraction - low.angleFraction);
}
