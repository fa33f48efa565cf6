import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import { hasBrowser } from './browser';
import { phoneOf } from './touch';
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
  typeReading,
  type Workshop,
} from './workshop';

const PHONE = phoneOf(360, 740);

describe.skipIf(!hasBrowser())('several screens on one job', () => {
  let workshop: Workshop;
  beforeAll(async () => void (workshop = await openWorkshop()));
  afterAll(() => workshop.close());

  it('shows on every screen what any of them confirmed, and lets a phone answer by touch', async () => {
    const gauge = await workshop.simulated('two-coil-fuel');
    const laptop = await workshop.openScreen();
    const address = await startJob(laptop, workshop, gauge.name);
    const phone = await workshop.openScreen(PHONE);
    await phone.goto(address);
    await startSweep(laptop);
    expect(await awaitQuestion(laptop)).toBe(true);
    await phone.getByRole('button', { name: 'Take over here' }).tap();
    expect(await awaitQuestion(phone)).toBe(true);
    await keepPicture(phone, 'live-phone-360');
    const face = await phone.locator('.dial-turns .dial-face').boundingBox();
    if (face === null) throw new Error('the dial is not on the phone');
    await phone.touchscreen.tap(face.x + 0.3 * face.width, face.y + 0.4 * face.height);
    const shown = (await phone.getByRole('button', { name: CONFIRM }).textContent()) ?? '';
    await phone.getByRole('button', { name: CONFIRM }).tap();
    await laptop
      .getByText('Last read')
      .filter({ hasText: shown.replace('It reads ', '') })
      .waitFor();
    await keepPicture(laptop, 'live-laptop-1280');
    await laptop.getByRole('button', { name: 'Pause' }).click();
    await phone.getByText('Paused', { exact: true }).waitFor();
    await Promise.all([laptop.context().close(), phone.context().close()]);
  });

  it('keeps the first of two answers to one step, and shows both people that there were two', async () => {
    const gauge = await workshop.simulated('moving-coil-pressure');
    const one = await workshop.openScreen();
    const address = await startJob(one, workshop, gauge.name);
    const other = await workshop.openScreen();
    await other.goto(address);
    await startSweep(one);
    await awaitQuestion(one);
    await other.getByRole('button', { name: 'Take over here' }).waitFor();
    const stepId = /stepId":"(w1s1)"/.exec(JSON.stringify(await journalOf(one)))?.[1];
    const jobId = new URL(address).hash.replace('#/job/', '');
    const asks = (reading: number) => ({
      path: `/api/jobs/${jobId}/commands`,
      init: {
        method: 'POST',
        headers: { 'content-type': 'application/json' },
        body: JSON.stringify({ command: { kind: 'give-reading', stepId, reading } }),
      },
    });
    // One from a page, one from a program: the host tells them apart by where they come from.
    const { path, init } = asks(160);
    await Promise.all([
      one.evaluate(async (asked) => void (await fetch(asked.path, asked.init)), asks(150)),
      fetch(new URL(path, workshop.server.url), init),
    ]);
    const twice = 'Two answers to one step';
    await one.getByText(twice).waitFor();
    await other.getByText(twice).waitFor();
    const events = await journalOf(one);
    const [reading] = events.filter((event) => event.kind === 'reading');
    const superseded = events.filter((event) => event.kind === 'answer-superseded');
    expect(superseded).toHaveLength(1);
    expect(superseded[0]?.stepId).toBe(reading?.stepId);
    expect(superseded[0]?.by).not.toBe(reading?.by);
    await one.getByRole('button', { name: 'Pause' }).click();
    await one.getByText('Paused', { exact: true }).waitFor();
    await Promise.all([one.context().close(), other.context().close()]);
  });

  it('opens the output on Escape and says that the box confirmed it', async () => {
    const gauge = await workshop.simulated('two-coil-fuel');
    const page = await workshop.openScreen();
    await startJob(page, workshop, gauge.name);
    await startSweep(page);
    await awaitQuestion(page);
    await page.keyboard.press('Escape');
    await page.getByText('output open (safe)').waitFor();
    await page.getByRole('button', { name: /^STOP/ }).waitFor({ state: 'hidden' });
    const events = await journalOf(page);
    expect(events.filter((event) => event.kind === 'stopped')).toMatchObject([
      { outcome: 'box-confirmed-open' },
    ]);
    await page.context().close();
  });

  it('tells a trip while driving, with the remedy, and goes on after it was cleared', async () => {
    const gauge = await workshop.simulated('two-coil-fuel');
    const page = await workshop.openScreen();
    await startJob(page, workshop, gauge.name);
    await startSweep(page);
    await awaitQuestion(page);
    workshop.server.bay.tellWorld({ supplyVolt: 30 });
    await page.getByText('STOPPED: the box opened its output').waitFor();
    await keepPicture(page, 'live-tripped-1280', { fullPage: true });
    // The trip is news of its own; STOP goes when the box's next frame shows its output open.
    await page.getByRole('button', { name: /^STOP:/ }).waitFor({ state: 'detached' });
    workshop.server.bay.tellWorld({ supplyVolt: 13.5 });
    const clear = page.getByRole('button', { name: 'I have looked: clear the trip' });
    // The box refuses to clear while its meter still shows the old voltage; a person would press again.
    const press = { timeout: 1000 };
    await vi.waitUntil(
      async () =>
        (await clear.count()) === 0 ||
        clear.click(press).then(
          () => false,
          () => false,
        ),
      { timeout: 90_000, interval: 200 },
    );
    await page.getByRole('button', { name: 'Go on with the sweep' }).click();
    await awaitQuestion(page);
    await typeReading(page, await lookAtDash(page, gauge));
    expect(await countReadings(page)).toBe(1);
    await page.getByRole('button', { name: /^STOP:/ }).click();
    await page.getByText('output open (safe)').waitFor();
    await page.context().close();
  });
});
