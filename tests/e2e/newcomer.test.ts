import type { Locator, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { hasBrowser } from './browser';
import { fingerOn, phoneOf, spotOnArc, type Finger } from './touch';
import { journalOf, openWorkshop, type Workshop } from './workshop';

/** Somebody who has read no manual: presses the plate, and does what a plate says that cannot be pressed yet. */
class Newcomer {
  taps = 0;
  gestures = 0;
  readonly #page: Page;
  readonly #finger: Finger;

  constructor(page: Page, finger: Finger) {
    this.#page = page;
    this.#finger = finger;
  }

  /** The plate in sight now: its words, and whether it can be pressed; empty words while there is none. */
  plate(): Promise<{ readonly words: string; readonly canBePressed: boolean }> {
    return this.#page.evaluate(() => {
      const it = [...document.querySelectorAll<HTMLButtonElement>('.button-main')].find((each) =>
        each.checkVisibility(),
      );
      return { words: it?.innerText ?? '', canBePressed: it?.disabled === false };
    });
  }

  /** Looks until there is another plate than the last one. */
  async nextPlate(last: string): Promise<{ readonly words: string; readonly canBePressed: boolean }> {
    let plate = await this.plate();
    await expect
      .poll(async () => {
        plate = await this.plate();
        return plate.words !== '' && `${plate.words} ${plate.canBePressed}` !== last;
      })
      .toBe(true);
    return plate;
  }

  async tap(what: Locator): Promise<void> {
    await what.tap({ timeout: 5_000 });
    this.taps += 1;
  }

  /** One press of the plate. What the page took for the second half of the last press is given once more. */
  async press(last: string): Promise<void> {
    this.taps += 1;
    const isStill = async (): Promise<boolean> => {
      const { words, canBePressed } = await this.plate();
      return canBePressed && `${words} ${canBePressed}` === last;
    };
    await expect
      .poll(
        async () => {
          if (await isStill())
            await this.#page.locator('.button-main:visible').first().tap({ timeout: 5_000 });
          return isStill();
        },
        { interval: 700 },
      )
      .toBe(false);
  }

  /** Puts the drawn needle where the dash's needle stands, by one drag. */
  async putNeedle(): Promise<void> {
    const turn = (await this.#page.locator('.dash .needle').getAttribute('transform')) ?? '';
    const fraction = Number(/rotate\((-?[\d.]+)\)/.exec(turn)?.[1]) / 110 + 0.5;
    const face = this.#page.locator('.dial-turns .dial-face');
    await this.#finger.down(await spotOnArc(face, 0.5));
    await this.#finger.moveTo(await spotOnArc(face, Math.min(0.995, Math.max(0.005, fraction))));
    await this.#finger.up();
    this.gestures += 1;
  }
}

/** A person takes so long to look, drag and tap; and to find and press a plate. Common practice, no source. */
const READ_S = 6;
const TAP_S = 6;
const SPEED = 10;

describe.skipIf(!hasBrowser())('a newcomer with nothing plugged in', () => {
  let workshop: Workshop;
  beforeAll(async () => void (workshop = await openWorkshop()));
  afterAll(() => workshop.close());

  it('reaches a recommendation by doing what the page says, in under 12 taps besides the readings', async () => {
    const page = await workshop.openScreen(phoneOf(390, 844));
    const person = new Newcomer(page, await fingerOn(page));
    await page.goto(workshop.server.url);
    const isAdvised = page.getByRole('button', {
      name: /^Fit this one|^Leave it as it is|^Try another sender/,
    });
    let readings = 0;
    let last = '';
    while (!(await isAdvised.first().isVisible())) {
      const plate = await person.nextPlate(last);
      last = `${plate.words} ${plate.canBePressed}`;
      if (plate.canBePressed) {
        const isReading = /^It (reads|is on)/.test(plate.words);
        await person.press(last);
        if (!isReading) continue;
        readings += 1;
        // The page says "Wait".
        await expect
          .poll(async () => (await person.plate()).words)
          .not.toMatch(/^(It reads|It is on|Put the)/);
      } else if (plate.words.startsWith('Put the needle')) await person.putNeedle();
      else if (plate.words.startsWith('Tick'))
        await person.tap(page.locator('label.chip:has([type=checkbox])'));
    }
    const events = await journalOf(page);
    const given = events.filter((event) => event.kind === 'reading');
    expect(given.length).toBeGreaterThanOrEqual(10);
    // One gesture and one tap a reading.
    expect(person.gestures).toBe(given.length);
    expect(readings).toBe(given.length);
    const besides = person.taps - readings;
    expect(besides).toBeLessThan(12);
    const waitedS = given.reduce((sum, { waitedMs }) => sum + waitedMs, 0) / 1_000;
    expect(waitedS / SPEED + READ_S * given.length + TAP_S * besides).toBeLessThan(5 * 60);
    expect(workshop.troubles).toEqual([]);
  });
});
