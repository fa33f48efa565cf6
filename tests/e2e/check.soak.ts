import type { Page } from 'playwright-core';
import { phoneOf } from './touch';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { foldJob } from '../../host/job';
import { hasBrowser } from './browser';
import { keepPicture } from './screenshots';
import {
  askTheList,
  awaitQuestion,
  journalOf,
  lookAtDash,
  openStation,
  openWorkshop,
  startJob,
  typeReading,
  type Workshop,
} from './workshop';

const answer = async (page: Page, question: RegExp, words: string): Promise<void> => {
  await page.getByText(question).first().waitFor();
  await page.getByRole('button', { name: words, exact: true }).click();
};

/** A measurement is shown, and asked nothing after before it is kept. */
const keep = async (page: Page, figure: RegExp): Promise<void> => {
  await page.locator('#station-check .prompt').filter({ hasText: figure }).waitFor();
  await page.getByRole('button', { name: 'Keep it', exact: true }).click();
};

const skipTo = async (page: Page, question: RegExp): Promise<void> => {
  const wanted = page.locator('#station-check :is(.prompt, .lead)').filter({ hasText: question });
  const skip = page.getByRole('button', { name: 'Skip', exact: true });
  while (!(await wanted.isVisible())) {
    const before = await page.locator('#station-check .figure').first().textContent();
    await skip.click();
    await page.waitForFunction(
      (was) => document.querySelector('#station-check .figure')?.textContent !== was,
      before,
    );
  }
};

const asFound = async (page: Page, reading: string): Promise<void> => {
  await page.getByRole('button', { name: 'engine warm, idling' }).click();
  await page.getByLabel('or type it').fill(reading);
  await page.getByRole('button', { name: `It reads ${reading}.0 \u00b0C` }).click();
};

const typeMeasure = async (page: Page, question: RegExp, figure: string): Promise<void> => {
  await page.getByText(question).first().waitFor();
  await page.getByLabel(/What the meter shows/).fill(figure);
  await page.getByLabel(/What the meter shows/).press('Enter');
};

const letBoxMeasure = async (page: Page, question: RegExp): Promise<void> => {
  await page.getByText(question).first().waitFor();
  await page.getByRole('button', { name: 'Let the box measure it' }).click();
};

describe.skipIf(!hasBrowser())('the check, through the page', () => {
  let workshop: Workshop;
  beforeAll(async () => void (workshop = await openWorkshop()));
  afterAll(() => workshop.close());

  it('tells a bad ground in the units of the dial, and the effective volts, from the box and a meter', async () => {
    const gauge = await workshop.simulated('thermal-temperature');
    const page = await workshop.openScreen();
    await startJob(page, workshop, gauge.name);
    await askTheList(page);
    await asFound(page, '90');
    await answer(page, /Are other gauges in this dash wrong/, 'No');
    await answer(page, /Switch the headlights on/, 'Yes');
    await typeMeasure(page, /Supply at the gauge/, '13,5');
    await keep(page, /13\.50 V/);
    await letBoxMeasure(page, /everything switched off/);
    await keep(page, /gauge ground to sender body: /i);
    await typeMeasure(page, /now with the lights on/, '300');
    await keep(page, /lights on: 300 mV/i);
    await answer(page, /pull the wire off the sender/, 'Low end');
    await letBoxMeasure(page, /nothing connected to it/);
    await keep(page, /sender wire with nothing on it/i);
    await skipTo(page, /Effective volts at the gauge: what/);
    await letBoxMeasure(page, /Effective volts at the gauge: what/);
    await keep(page, /effective volts at the gauge/i);
    await typeMeasure(page, /Resistance of the gauge itself/, '58');
    await keep(page, /the gauge itself: 58/i);
    await skipTo(page, /a ground is bad, worth/);
    await page.getByText(/a ground is bad, worth/).waitFor();

    // By hand: straight in ln R between the ends of the family, 300 mV over 58 ohm and the sender at 90 degC, 10 V feed.
    const [cold, hot] = [gauge.originalSender[0], gauge.originalSender.at(-1)];
    if (cold === undefined || hot === undefined) throw new Error('no table');
    const decades = Math.log(hot.ohm / cold.ohm);
    const span = hot.value - cold.value;
    const sender = cold.ohm * Math.exp((decades * (90 - cold.value)) / span);
    const heat = (await journalOf(page)).flatMap((event) =>
      event.kind === 'check-measured' && event.what === 'effective-volt' ? [event.value] : [],
    )[0];
    expect(heat).toBeGreaterThan(9.8);
    expect(heat).toBeLessThan(10.2);
    const seen = sender + (0.3 * (58 + sender)) / ((heat ?? NaN) - 0.3);
    const worth = Math.abs((span * Math.log(seen / sender)) / decades);
    const text = (await page.locator('#station-check').textContent()) ?? '';
    expect(Number(/a ground is bad, worth ([\d.]+) .C at 90 .C/.exec(text)?.[1])).toBeCloseTo(worth, 1);
    expect(text).toMatch(
      /heats the gauge like (9\.9|10\.0|10\.1)\d V\. A DC meter would show about 7\.[345] V/,
    );
    await keepPicture(page, 'check-bad-ground', { fullPage: true });

    await page.getByRole('button', { name: 'Save the finding' }).click();
    await page.getByRole('button', { name: 'It is put right: check again' }).waitFor();
    const conclusion = foldJob(await journalOf(page))?.conclusion;
    expect(conclusion?.finding).toBe('ground-fault');
    expect(conclusion?.sentence).toMatch(/worth [\d.]+ .C at 90 .C/);
    expect(conclusion?.evidence.some((line) => /300 mV \(meter\), worth/.test(line))).toBe(true);

    // The ground is cleaned; everything is asked anew, and what is found now stands.
    await page.getByRole('button', { name: 'It is put right: check again' }).click();
    await page.getByText(/^Question 1 of/).waitFor();
    await asFound(page, '90');
    await answer(page, /Are other gauges in this dash wrong/, 'No');
    await answer(page, /Switch the headlights on/, 'No');
    await typeMeasure(page, /Supply at the gauge/, '13,5');
    await keep(page, /13\.50 V/);
    await typeMeasure(page, /everything switched off/, '4');
    await keep(page, /4 mV/);
    await typeMeasure(page, /now with the lights on/, '9');
    await keep(page, /9 mV/);
    await skipTo(page, /Nothing found so far/);
    await page.getByText('ohms of the sender at its connector').waitFor();
    expect(await page.getByRole('option', { name: /^Sound/ }).count()).toBe(0);
    await page.getByRole('button', { name: 'Save the finding' }).click();
    await expect.poll(async () => foldJob(await journalOf(page))?.conclusion?.finding).toBe('nothing-found');
    await page
      .getByRole('button', { name: 'Start the sweep' })
      .or(page.getByText('How do you want to work?'))
      .first()
      .waitFor();
  });

  it('opens no question that parts a tank\u2019s wire before the tank is said to be closed', async () => {
    const page = await workshop.openScreen();
    await startJob(page, workshop, 'two-coil-fuel');
    await askTheList(page);
    await skipTo(page, /Are other gauges in this dash wrong/);
    await answer(page, /Are other gauges in this dash wrong/, 'No');
    await answer(page, /Switch the headlights on/, 'No');
    await answer(page, /Rock the vehicle/, 'No');
    await skipTo(page, /The tank stays closed/);
    expect(await page.getByText(/pull the sender wire off/).count()).toBe(0);
    await page.getByRole('button', { name: 'Yes', exact: true }).click();
    await answer(page, /pull the sender wire off at the dash end/, 'Low end');
    expect(foldJob(await journalOf(page))?.saidForSafety.map((each) => each.confirmation)).toEqual([
      'tank-closed',
    ]);
  });

  it('keeps each question in sight on a phone, and claims nothing that nobody said', async () => {
    const gauge = await workshop.simulated('thermal-temperature');
    const page = await workshop.openScreen({
      viewport: { width: 360, height: 740 },
      hasTouch: true,
      isMobile: true,
    });
    await startJob(page, workshop, gauge.name);
    await askTheList(page);
    // Neither the state nor the needle is assumed: each must be given before it can be confirmed.
    const confirm = page.getByRole('button', { name: /^It |^Put the needle|^Mend|^First say/ });
    expect(await confirm.isDisabled()).toBe(true);
    await page.getByRole('button', { name: 'engine cold' }).tap();
    expect(await confirm.textContent()).toBe('Put the needle where yours stands');
    expect(await confirm.isDisabled()).toBe(true);
    await page.getByLabel('or type it').fill('warm');
    expect(await confirm.isDisabled()).toBe(true);
    await page.getByRole('button', { name: 'Low stop' }).tap();
    await page.getByRole('button', { name: 'It is on the low stop' }).tap();

    const isInSight = async (asks: RegExp): Promise<boolean> => {
      await page.getByText(asks).first().waitFor();
      const box = await page.getByText(asks).first().boundingBox();
      const dash = await page.locator('.dash').boundingBox();
      return box !== null && dash !== null && box.y >= dash.y + dash.height && box.y + box.height <= 740;
    };
    for (const asks of [/Are other gauges in this dash wrong/, /Switch the headlights on/]) {
      expect([asks.source, await isInSight(asks)]).toEqual([asks.source, true]);
      await page.getByRole('button', { name: 'No', exact: true }).tap();
    }
    expect(await isInSight(/Supply at the gauge/)).toBe(true);
    expect(await page.evaluate(() => document.activeElement?.getAttribute('aria-label'))).toMatch(/^Supply/);
    await skipTo(page, /Nothing found so far/);
    expect(await isInSight(/The answers point to/)).toBe(true);
    await page.getByText('as found (engine cold): needle on the low stop').waitFor();
    expect(foldJob(await journalOf(page))?.asFound[0]).toMatchObject({ atStop: 'low' });
  }, 60_000);

  it('keeps what is true as found, and how well that is known', async () => {
    const gauge = await workshop.simulated('cross-coil-temperature');
    const page = await workshop.openScreen();
    await startJob(page, workshop, gauge.name);
    await askTheList(page);
    expect(await page.getByLabel(/of the true value/).count()).toBe(0);
    await page.getByLabel(/^True value/).fill('88');
    await page.getByLabel(/of the true value/).fill('3');
    await asFound(page, '90');
    await page.getByText(/Are other gauges in this dash wrong/).waitFor();
    expect(foldJob(await journalOf(page))?.asFound[0]).toMatchObject({
      ...{ indicated: 90, reference: 88, referenceUncertainty: 1.5 },
    });
  }, 60_000);

  it('lets the box be the known load: a sweep of one setting, with all that is said before one', async () => {
    const gauge = await workshop.simulated('cross-coil-temperature');
    const page = await workshop.openScreen();
    await startJob(page, workshop, gauge.name);
    await askTheList(page);
    await skipTo(page, /A resistor of about/);
    const asked = page.locator('#station-check .prompt').filter({ hasText: /A resistor of about/ });
    const ohm = Number(/about ([\d.]+)/.exec(await asked.innerText())?.[1]);
    const letBox = page.getByRole('button', { name: /^Let the box be the/ });
    expect(await letBox.count()).toBe(0);
    await page.getByText(/leads were connected with the ignition off/).waitFor();
    await page.getByRole('button', { name: 'Yes', exact: true }).click();
    await letBox.click();
    expect(await awaitQuestion(page)).toBe(true);
    const seen = await lookAtDash(page, gauge);
    await typeReading(page, seen);
    await page.getByRole('button', { name: 'On to the sender' }).waitFor();
    await openStation(page, 'Check');
    await skipTo(page, /A resistor of about/);
    const told = await page.getByText(/^The box made/).innerText();
    expect(Number(/made ([\d.]+)/.exec(told)?.[1]) / ohm).toBeCloseTo(1, 1);
    expect(Number(/stood at ([\d.]+)/.exec(told)?.[1])).toBeCloseTo(seen, 0);
    // A person says what that means; one reading is neither an answer nor a sweep.
    const state = foldJob(await journalOf(page));
    expect(state?.sweeps.map(({ steps }) => steps.length)).toEqual([1]);
    expect(Object.keys(state?.answers ?? {})).toEqual(['check-way']);
    expect(state?.saidForSafety.map((each) => each.confirmation)).toEqual(['connected-ignition-off']);
    await page.getByRole('button', { name: /^To about/ }).click();
    await expect
      .poll(async () => foldJob(await journalOf(page))?.answers['needle-on-known-load'])
      .toBe('there');
  }, 180_000);

  it.each([600, 50])(
    'takes two presses %i ms apart for one: no second question is answered, nothing is measured twice',
    async (apartMs) => {
      const page = await workshop.openScreen();
      await startJob(page, workshop, 'thermal-temperature');
      await askTheList(page);
      const pressTwice = async (name: string): Promise<void> => {
        const button = page.getByRole('button', { name, exact: true });
        // A press that scrolls first would not be one place.
        await button.evaluate((element) => element.scrollIntoView({ block: 'center' }));
        await expect.poll(() => button.isEnabled()).toBe(true);
        const box = await button.boundingBox();
        if (box === null) throw new Error(`no ${name}`);
        const [x, y] = [box.x + box.width / 2, box.y + box.height / 2];
        await page.mouse.click(x, y);
        await page.waitForTimeout(apartMs);
        await page.mouse.click(x, y);
      };
      const said = async (): Promise<string[]> =>
        (await journalOf(page)).flatMap((event) =>
          event.kind === 'check-answered'
            ? [event.question]
            : event.kind === 'check-measured'
              ? [`${event.what} ${event.loads ?? ''}`]
              : [],
        );
      await skipTo(page, /Are other gauges in this dash wrong/);
      await pressTwice('No');
      await page.getByText(/Switch the headlights on/).waitFor();
      expect(await said()).toEqual(['check-way', 'other-gauges-wrong']);
      await skipTo(page, /everything switched off/);
      await pressTwice('Let the box measure it');
      await page.getByRole('button', { name: 'Keep it', exact: true }).waitFor();
      expect(await said()).toEqual(['check-way', 'other-gauges-wrong', 'ground-offset-volt off']);
      await pressTwice('Keep it');
      await page.getByText(/now with the lights on/).waitFor();
      const kept = 'kept:ground-offset-volt:off';
      expect(await said()).toEqual(['check-way', 'other-gauges-wrong', 'ground-offset-volt off', kept]);

      // Pressed in earnest with the lights off, it is asked about and not kept.
      await page.getByRole('button', { name: 'Let the box measure it' }).click();
      await page
        .getByText(/Are the lights on\?/)
        .first()
        .waitFor();
      expect(await said()).toHaveLength(4);
      await page.getByRole('button', { name: 'Switch the lights on' }).click();
      await expect
        .poll(async () => {
          const again = page.getByRole('button', { name: 'Let the box measure it' });
          if ((await again.count()) > 0) await again.click();
          return (await said()).at(-1);
        })
        .toBe('ground-offset-volt lights');
      workshop.server.bay.tellWorld({ lights: false });
    },
  );

  it('says that 13.50 V cannot come from 12.20 V, and asks to measure again', async () => {
    const page = await workshop.openScreen();
    await startJob(page, workshop, 'thermal-temperature');
    await askTheList(page);
    await skipTo(page, /Supply at the gauge/);
    await typeMeasure(page, /Supply at the gauge/, '12.2');
    await keep(page, /12\.20 V/);
    await skipTo(page, /The engine is cold|nothing connected to it/);
    await typeMeasure(page, /nothing connected to it/, '13.5');
    await page.getByText(/more than the 12\.20 V that feed the gauge/).waitFor();
    // An answer that has just come up takes no press yet: a person presses again.
    await expect
      .poll(async () => {
        const again = page.getByRole('button', { name: /^Measure the other again/ });
        if ((await again.count()) > 0) await again.click();
        return page.getByText(/Supply at the gauge/).count();
      })
      .toBeGreaterThan(0);
    await typeMeasure(page, /Supply at the gauge/, '13.7');
    await keep(page, /13\.70 V/);
    await keep(page, /13\.50 V/);
    expect(await page.getByText(/This does not fit/).count()).toBe(0);
  });

  it('does not give way to a hand that presses twice, whatever comes to lie under it', async () => {
    const page = await workshop.openScreen(phoneOf(360, 740));
    await startJob(page, workshop, 'thermal-temperature');
    await askTheList(page);
    const pass = page.getByRole('button', { name: 'Skip', exact: true });
    await pass.waitFor();
    while ((await pass.count()) > 0) {
      await expect.poll(() => pass.isEnabled()).toBe(true);
      // Clear of what is pinned at the thumb, as a person scrolls it.
      await pass.evaluate((button) => button.scrollIntoView({ block: 'center' }));
      const asked = await page.locator('.check').getAttribute('aria-label');
      const spot = await pass.boundingBox();
      if (spot === null) break;
      const [x, y] = [spot.x + spot.width / 2, spot.y + spot.height / 2];
      await page.touchscreen.tap(x, y);
      await page.touchscreen.tap(x, y);
      expect([asked, await page.locator('#station-check').count()]).toEqual([asked, 1]);
      await expect.poll(() => page.locator('.check').getAttribute('aria-label')).not.toBe(asked);
    }
    await page.getByText('All questions answered or skipped.').waitFor();
  }, 60_000);

  it('leaves no trouble behind', () => expect(workshop.troubles).toEqual([]));
});
