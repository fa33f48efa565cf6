import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { hasBrowser } from './browser';
import { fingerOn, phoneOf, spotOnArc, type Finger } from './touch';
import { journalOf, openWorkshop, type Workshop } from './workshop';

/** The plate of a view: its words, whether it can be pressed, how many readings there are beside it. */
type Plate = { readonly words: string; readonly canBePressed: boolean; readonly given: string };

/** Somebody who has read no manual: presses the plate, and does what a plate says that cannot be pressed yet. */
class Newcomer {
  taps = 0;
  readings = 0;
  gestures = 0;
  readonly #page: Page;
  readonly #finger: Finger;

  constructor(page: Page, finger: Finger) {
    this.#page = page;
    this.#finger = finger;
  }

  /** Empty words while there is nothing to do but to wait. */
  plate(): Promise<Plate> {
    return this.#page.evaluate(() => {
      const it = [...document.querySelectorAll<HTMLButtonElement>('.button-main')].find((each) =>
        each.checkVisibility(),
      );
      const given = document.querySelector('[data-given]')?.getAttribute('data-given') ?? '';
      return { words: it?.innerText ?? '', canBePressed: it?.disabled === false, given };
    });
  }

  /** Does what the plate asks for. */
  async follow(plate: Plate): Promise<void> {
    const { words, canBePressed } = plate;
    if (canBePressed) {
      await this.#until(plate, () =>
        this.#page.locator('.button-main:visible').first().tap({ timeout: 5_000 }),
      );
      if (/^It (reads|is on)/.test(words)) this.readings += 1;
      else this.taps += 1;
    } else if (words.startsWith('Put the needle')) {
      await this.#until(plate, () => this.#drag());
      this.gestures += 1;
    } else if (words.startsWith('Tick')) {
      await this.#until(plate, () => this.#page.locator('label.chip:has([type=checkbox])').first().tap());
      this.taps += 1;
    } else await this.#page.evaluate(() => new Promise((resolve) => requestAnimationFrame(resolve)));
  }

  /**
   * Until the page has answered. What it took for the second half of the press before, or a drag on a dial that was just
   * going away, is done once more: a person is slower than this program.
   */
  async #until(last: Plate, deed: () => Promise<void>): Promise<void> {
    const hasAnswered = async (): Promise<boolean> =>
      JSON.stringify(await this.plate()) !== JSON.stringify(last);
    await expect
      .poll(
        async () => {
          if (await hasAnswered()) return true;
          await deed();
          return hasAnswered();
        },
        { interval: 700 },
      )
      .toBe(true);
  }

  /** Puts the drawn needle where the dash's needle stands, by one drag. */
  async #drag(): Promise<void> {
    const turn = (await this.#page.locator('.dash .needle').getAttribute('transform')) ?? '';
    const fraction = Number(/rotate\((-?[\d.]+)\)/.exec(turn)?.[1]) / 110 + 0.5;
    const face = this.#page.locator('.dial-turns .dial-face');
    await this.#finger.down(await spotOnArc(face, 0.5));
    await this.#finger.moveTo(await spotOnArc(face, Math.min(0.995, Math.max(0.005, fraction))));
    await this.#finger.up();
  }
}

/** The plate under a recommendation; before a resistor is fitted in a vehicle its chain is tested. */
const ADVICE = /^(Fit this one|First the chain test|Leave it as it is|Try another sender)/;

/** A person takes so long to look, drag and tap; and to find and press a plate. Common practice, no source. */
const READ_S = 6;
const TAP_S = 6;
/** What `serve` hurries its simulated needle by. */
const SPEED = 10;

describe.skipIf(!hasBrowser())('a newcomer with nothing plugged in', () => {
  let workshop: Workshop;
  beforeAll(async () => void (workshop = await openWorkshop()));
  afterAll(() => workshop.close());

  it('reaches a recommendation by doing what the page says, in under 12 taps besides the readings', async () => {
    const page = await workshop.openScreen(phoneOf(390, 844));
    const person = new Newcomer(page, await fingerOn(page));
    await page.goto(workshop.server.url);
    for (let plate = await person.plate(); !ADVICE.test(plate.words); plate = await person.plate())
      await person.follow(plate);
    const events = await journalOf(page);
    const given = events.filter((event) => event.kind === 'reading').length;
    expect(given).toBeGreaterThanOrEqual(10);
    // One gesture and one tap a reading. A drag begun before a step asks is let go by the page, and done again.
    expect(person.gestures).toBeGreaterThanOrEqual(given);
    expect(person.gestures).toBeLessThan(1.5 * given);
    expect(person.readings).toBe(given);
    expect(person.taps).toBeLessThan(12);
    // What the host makes a person wait at each reading, in the simulated needle's time.
    const settleMs = events.flatMap((event) => (event.kind === 'sweep-started' ? event.settleMs : []))[0];
    const waitedS = (given * (settleMs ?? Infinity)) / 1_000 / SPEED;
    expect(waitedS + READ_S * given + TAP_S * person.taps).toBeLessThan(5 * 60);
    expect(workshop.troubles).toEqual([]);
  });
});
