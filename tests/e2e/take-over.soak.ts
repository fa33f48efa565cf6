import { afterAll, beforeAll, describe, expect, it } from 'vitest';
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

const PHONE = phoneOf(390, 844);
const TAKE_OVER = { name: 'Take over here' } as const;

describe.skipIf(!hasBrowser())('who reads the needle', () => {
  let workshop: Workshop;
  beforeAll(async () => void (workshop = await openWorkshop()));
  afterAll(() => workshop.close());

  it('is told on every screen, changes hands with one button, and can be taken back', async () => {
    const gauge = await workshop.simulated('two-coil-fuel');
    const laptop = await workshop.openScreen();
    const address = await startJob(laptop, workshop, gauge.name);
    await startSweep(laptop);
    expect(await awaitQuestion(laptop)).toBe(true);
    const phone = await workshop.openScreen(PHONE);
    await phone.goto(address);
    await phone.getByText('This screen only watches.').waitFor();
    await phone.getByText(/^Read by: laptop \d+/).waitFor();
    expect(await phone.getByRole('button', { name: CONFIRM }).count()).toBe(0);
    await keepPicture(phone, 'take-over-watching-390');
    await laptop.getByText(/^Read by: this screen \(laptop \d+\)/).waitFor();
    await laptop.getByText(/Watching: phone \d+/).waitFor();

    await phone.getByRole('button', TAKE_OVER).tap();
    await phone.getByText(/^Read by: this screen \(phone \d+\)/).waitFor();
    await laptop.getByText('It took over; this screen only watches now and can take back.').waitFor();
    expect(await laptop.getByRole('button', { name: CONFIRM }).count()).toBe(0);
    await keepPicture(laptop, 'take-over-lost-1280');
    await laptop.locator('h1').click();
    await laptop.keyboard.press('Enter');
    expect(await awaitQuestion(phone)).toBe(true);
    await typeReading(phone, await lookAtDash(phone, gauge));
    await expect.poll(() => countReadings(laptop)).toBe(1);

    await laptop.getByRole('button', TAKE_OVER).click();
    await phone.getByText('It took over; this screen only watches now and can take back.').waitFor();
    expect(await awaitQuestion(laptop)).toBe(true);
    await typeReading(laptop, await lookAtDash(laptop, gauge));
    const events = await journalOf(laptop);
    const readers = events.filter((event) => event.kind === 'reading').map((event) => event.by);
    expect(readers.map((by) => by.split(' ')[0])).toEqual(['phone', 'laptop']);
    expect(events.filter((event) => event.kind === 'taken-over')).toHaveLength(2);
    await laptop.keyboard.press('Escape');
    await laptop.getByText('output open (safe)').waitFor();
    expect(workshop.troubles).toEqual([]);
  });

  it('goes on for the screen that took over when the other one leaves', async () => {
    const gauge = await workshop.simulated('two-coil-fuel');
    const laptop = await workshop.openScreen();
    const address = await startJob(laptop, workshop, gauge.name);
    await startSweep(laptop);
    const phone = await workshop.openScreen(PHONE);
    await phone.goto(address);
    await phone.getByRole('button', TAKE_OVER).tap();
    await phone.getByText(/^Read by: this screen/).waitFor();
    await laptop.context().close();
    expect(await awaitQuestion(phone)).toBe(true);
    await typeReading(phone, await lookAtDash(phone, gauge));
    expect((await journalOf(phone)).some((event) => event.kind === 'sweep-paused')).toBe(false);
    await phone.getByRole('button', { name: /^STOP:/ }).tap();
    await phone.getByText('output open (safe)').waitFor();
  });
});
