import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Page } from 'playwright-core';
import { z } from 'zod';
import type { SimulatedGauge } from '../../host/job/wire/host-messages';
import { hasBrowser } from './browser';
import { keepPicture } from './screenshots';
import { CONFIRM, lookAtDash, openWorkshop, type Workshop } from './workshop';

const CLUSTER = 'mixed-cluster';
const Sheet = z.object({
  gauges: z.array(
    z.object({
      place: z.string(),
      found: z
        .object({
          marks: z.array(z.object({ resistanceOhm: z.number() })),
        })
        .optional(),
      left: z.unknown().optional(),
    }),
  ),
});
const LONG_MS = 600_000;
/** What an eye sees of a needle that creeps, in degrees of the drawing. */
const SEEN_DEGREES = 4;

/** Keeps in the page where every drawn needle stood before the box that is named now began to move. */
const watchNeedles = (page: Page): Promise<void> =>
  page.evaluate(() => {
    let serial = '';
    let last = '[]';
    new MutationObserver(() => {
      const named = /\bbox (\d{3,})/i.exec(document.querySelector('.prompt')?.textContent ?? '')?.[1] ?? '';
      if (named !== '' && named !== serial) {
        serial = named;
        document.documentElement.dataset['before'] = last;
      }
      const needles = [...document.querySelectorAll('.dashes .needle')];
      last = JSON.stringify(
        needles.map((needle) =>
          Number(/rotate\((-?[\d.]+)\)/.exec(needle.getAttribute('transform') ?? '')?.[1] ?? 0),
        ),
      );
      document.documentElement.dataset['now'] = last;
    }).observe(document.body, { subtree: true, childList: true, attributes: true, characterData: true });
  });

const Degrees = z.array(z.number());
const kept = async (page: Page, name: 'before' | 'now'): Promise<number[]> =>
  Degrees.parse(JSON.parse((await page.locator('html').getAttribute(`data-${name}`)) ?? '[]'));

/** Watches the drawn needles and says which one each box moved. */
async function answerRollCall(page: Page, boxes: number): Promise<void> {
  for (let box = 0; box < boxes; box += 1) {
    const question = page.getByText('which needle did?');
    await question.waitFor();
    const [before, now] = [await kept(page, 'before'), await kept(page, 'now')];
    const moved = now.map((degrees, at) => Math.abs(degrees - (before[at] ?? 0)));
    const seen = moved.flatMap((by, at) => (by > SEEN_DEGREES ? [at] : []));
    expect(seen).toHaveLength(1);
    const asked = await question.textContent();
    await page
      .locator('.answers-of-places button:enabled')
      .nth(seen[0] ?? 0)
      .click();
    await expect.poll(() => page.locator('.prompt').allTextContents()).not.toContain(asked);
  }
}

/** A plate that has just come is asleep for a moment, and takes no press that was meant for the one before it. */
const press = async (page: Page, name: string): Promise<void> => {
  const plate = page.getByRole('button', { name });
  await plate.waitFor();
  await expect
    .poll(async () => {
      await plate.click({ timeout: 2_000 }).catch(() => undefined);
      return plate.count();
    })
    .toBe(0);
};

describe.skipIf(!hasBrowser())('a whole cluster at the page', () => {
  let workshop: Workshop;
  beforeAll(async () => {
    workshop = await openWorkshop();
  });
  afterAll(async () => {
    expect(workshop.troubles).toEqual([]);
    await workshop.close();
  });

  /** Reads whichever needle is asked until all are done; answers how many. */
  const readAll = async (page: Page, gauges: ReadonlyMap<string, SimulatedGauge>): Promise<number> => {
    const over = page.getByRole('button', { name: 'Print the sheet' });
    const asked = page.getByRole('button', { name: CONFIRM });
    const short = page.getByRole('button', { name: 'I am looking: make it' });
    const back = page.getByRole('button', { name: /^No: / });
    for (let given = 0; ;) {
      await over.or(asked).or(short).or(back).first().waitFor({ timeout: 120_000 });
      if (await over.isVisible()) return given;
      if (await short.isVisible()) {
        await short.click();
        await short.waitFor({ state: 'hidden' });
        continue;
      }
      if (await back.isVisible()) {
        await back.click();
        await back.waitFor({ state: 'hidden' });
        continue;
      }
      const heading = (await page.locator('.prompt').first().textContent()) ?? '';
      const gauge = [...gauges].find(([place]) => heading.endsWith(`, ${place}`))?.[1];
      if (gauge === undefined) continue;
      const before = await page.locator('[data-given]').getAttribute('data-given');
      const reading = await lookAtDash(page, gauge);
      // While one looks the question may end: a short step runs out, another needle is ready. Then one looks again.
      await page
        .getByLabel(/or type it/)
        .fill(reading.toFixed(2), { timeout: 5_000 })
        .catch(() => undefined);
      await asked.click({ timeout: 5_000 }).catch(() => undefined);
      const isTaken = await expect
        .poll(
          async () =>
            (await over.isVisible()) || (await back.isVisible())
              ? 'on'
              : page
                  .locator('[data-given]')
                  .getAttribute('data-given', { timeout: 1_000 })
                  .catch(() => 'on'),
          { timeout: 20_000 },
        )
        .not.toBe(before)
        .then(
          () => true,
          () => false,
        );
      if (!isTaken) continue;
      given += 1;
    }
  };

  it(
    'goes from the first screen to a sheet with every gauge as found, stops all at once, and begins the next',
    async () => {
      const page = await workshop.openScreen();
      await page.goto(workshop.server.url);
      await page.getByRole('link', { name: /^A whole cluster/ }).click();
      await page.getByLabel('Which simulated cluster?').selectOption(CLUSTER);
      await page.getByRole('button', { name: 'Open the cluster sheet' }).click();
      await watchNeedles(page);
      await page.getByRole('button', { name: 'Call the roll' }).click();
      await answerRollCall(page, 3);
      await page.getByRole('button', { name: 'Test the neighbours' }).waitFor();
      await press(page, 'Sweep without');
      await page
        .getByText(/^(Read|Next:)/)
        .first()
        .waitFor();
      await page.getByText('outputs live').waitFor();
      await page.keyboard.press('Escape');
      await page.getByText('All three boxes confirmed it: every output is open.').waitFor();
      // What was left goes on, and a second screen watches until it takes over.
      await press(page, 'Sweep without');
      await page
        .getByText(/^(Read|Next:)/)
        .first()
        .waitFor();
      const other = await workshop.openScreen({ viewport: { width: 390, height: 844 } });
      await other.goto(page.url());
      await other.getByText('This screen only watches').waitFor();
      await other.getByRole('button', { name: 'Take over here' }).click();
      await page.getByText('This screen only watches').waitFor();
      await keepPicture(page, 'cluster-second-screen');
      const described = (await workshop.server.bay.simulatedClusters()).find(({ name }) => name === CLUSTER);
      const gauges = new Map((described?.gauges ?? []).map(({ place, gauge }) => [place, gauge]));
      expect(await readAll(other, gauges)).toBeGreaterThan(20);
      await other.getByText('As found and as left').waitFor();
      await keepPicture(other, 'cluster-swept', { fullPage: true });
      const response = await other.evaluate(async () => {
        const id = location.hash.replace('#/cluster/', '');
        const answer = await fetch(`/api/clusters/${id}/sheet`);
        return answer.text();
      });
      const sheet = Sheet.parse(JSON.parse(response));
      expect(sheet.gauges.map(({ place, left }) => [place, left])).toEqual(
        [...gauges.keys()].map((place) => [place, undefined]),
      );
      // The ends of each gauge are where its own sender's ends are: the dial was drawn for them. What the gauges do to
      // each other was not tested, so nobody has taken it off: a twentieth of the sender's range.
      for (const { place, found } of sheet.gauges) {
        const ohms = (gauges.get(place)?.originalSender ?? []).map(({ ohm }) => ohm);
        const range = Math.max(...ohms) - Math.min(...ohms);
        for (const [mark, ohm] of [
          [found?.marks[0], ohms[0]],
          [found?.marks.at(-1), ohms.at(-1)],
        ] as const)
          expect(Math.abs((mark?.resistanceOhm ?? NaN) - (ohm ?? NaN))).toBeLessThan(range / 20);
      }
      await other.getByText('Same again').click();
      await other.getByLabel('Which vehicle is the next one?').fill('Tern 1100 van (1971)');
      // Pressed twice, as hands do: it is one cluster all the same.
      await other.getByRole('button', { name: 'Begin the next one' }).dblclick();
      // On a phone the bar has no room for it.
      await other.getByText('Tern 1100 van (1971)').first().waitFor({ state: 'attached' });
      await other.getByRole('button', { name: 'Call the roll' }).waitFor();
      await other.goto(`${workshop.server.url}/#/clusters`);
      await expect.poll(() => other.locator('tbody tr').count()).toBe(6);
    },
    LONG_MS,
  );
});
