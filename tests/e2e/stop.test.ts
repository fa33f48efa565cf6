import type { Page, WebSocketRoute } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { FakeDesk } from '../support/fake-bench';
import { violations } from './axe';
import { hasBrowser } from './browser';
import { openFakeHost, type FakeHost } from './fake-host';
import { drive, sampleDesk, sweepBegun } from './sample-job';
import { phoneOf } from './touch';
import { keepPicture } from './screenshots';

const asked = { kind: 'answer', stepId: 'w1up1', wants: 'reading', unattendedInMs: 170_000 } as const;
const PHONE = phoneOf(360, 640);

type Wire = { isCut: boolean };

/** A line between page and host that can fall silent without a goodbye, as Wi-Fi does behind a car. */
async function cuttable(page: Page): Promise<Wire> {
  const wire: Wire = { isCut: false };
  await page.route(/\/api\//, (route) => (wire.isCut ? route.abort() : route.continue()));
  await page.routeWebSocket(/\/live$/, (route: WebSocketRoute) => {
    // Nobody is reached anew while the line is silent: a handshake is lost like everything else.
    if (wire.isCut) return void route.close();
    const host = route.connectToServer();
    route.onMessage((message) => (wire.isCut ? undefined : host.send(message)));
    host.onMessage((message) => (wire.isCut ? undefined : route.send(message)));
  });
  return wire;
}

describe.skipIf(!hasBrowser())('a stop that cannot reach the box', () => {
  let host: FakeHost;
  beforeAll(async () => void (host = await openFakeHost()));
  afterAll(() => host.close());

  const driving = async (page: Page): Promise<FakeDesk> => {
    const desk = await sampleDesk(host.bench);
    sweepBegun(desk);
    await page.goto(`${host.url}/#/job/${desk.jobId}`);
    await page.getByRole('heading', { name: 'Coolant temperature gauge' }).waitFor();
    const screen = [...desk.screens].at(-1) ?? '';
    drive(desk, asked, 1);
    desk.show({ box: { state: 'driving', deadManMs: 1500 }, attending: screen });
    await page.getByRole('button', { name: /^STOP: open the output/ }).waitFor();
    return desk;
  };

  it('says at once that the box opens by itself, in how many seconds, and what hands can do, when the host loses the box', async () => {
    const page = await host.browser.newPage(PHONE);
    const desk = await driving(page);
    desk.show({ link: { state: 'silent', simulated: true, reason: 'no answer' }, box: { state: 'unknown' } });
    const alert = page.locator('.unreachable');
    await alert.waitFor();
    expect(await alert.innerText()).toMatch(/opens its output by itself within 1\.5 s/);
    expect(await alert.innerText()).toContain('ignition off, then pull the fused clip');
    await keepPicture(page, 'stop-box-lost-360');
    expect(await violations(page)).toEqual([]);
    await alert.getByText('1.5 s after which the box opens').waitFor();
    await page.getByRole('button', { name: /^STOP: the box does not answer/ }).click();
    await page.getByText('STOP was not confirmed').waitFor();
    await page.getByRole('button', { name: 'I have looked: it is off' }).click();
    await alert.waitFor({ state: 'detached' });
    await page.close();
  });

  it('goes away by itself when the box is seen again with its output open', async () => {
    const page = await host.browser.newPage();
    const desk = await driving(page);
    desk.show({ link: { state: 'silent', simulated: true }, box: { state: 'unknown' } });
    await page.locator('.unreachable').waitFor();
    desk.show({ link: { state: 'live', simulated: true }, box: { state: 'unknown' } });
    expect(await page.locator('.unreachable').count()).toBe(1);
    desk.show({ box: { state: 'safe', deadManMs: 1500 } });
    await page.locator('.unreachable').waitFor({ state: 'detached' });
    await page.close();
  });

  it('is told apart from a stop that was sent, and is sent as soon as the host answers, when the line falls silent', async () => {
    const page = await host.browser.newPage(PHONE);
    const wire = await cuttable(page);
    const desk = await driving(page);
    wire.isCut = true;
    await page.getByRole('button', { name: /^STOP: open/ }).tap();
    await page.getByRole('button', { name: /^STOP sent: waiting/ }).waitFor();
    const alert = page.locator('.unreachable');
    await alert.waitFor();
    expect(await alert.innerText()).toMatch(/If the host has stopped, the box opens .* within 1\.5 s/);
    expect(await alert.innerText()).toMatch(/If it still runs, it opens the output 6 s after/);
    expect(await alert.innerText()).toContain('pull the fused clip');
    await page.getByRole('button', { name: /^STOP not sent/ }).waitFor();
    await keepPicture(page, 'stop-host-lost-360');
    expect(await violations(page)).toEqual([]);
    expect(desk.events.some((event) => event.kind === 'stopped')).toBe(false);
    // What the real host does meanwhile: nobody has been at this screen for 6 s.
    desk.show({ box: { state: 'safe', deadManMs: 1500 } });
    wire.isCut = false;
    await page.getByText('STOP was not confirmed').or(page.getByText('The box confirmed it')).waitFor();
    expect(desk.events.filter((event) => event.kind === 'stopped')).toHaveLength(1);
    await page.close();
  });

  it('points to the other screen when that one reads and this one only lost its line', async () => {
    const page = await host.browser.newPage();
    const wire = await cuttable(page);
    const desk = await driving(page);
    desk.show({ attending: 'phone 7' });
    await page.getByText('This screen only watches.').waitFor();
    wire.isCut = true;
    const alert = page.locator('.unreachable');
    await alert.waitFor();
    expect(await alert.innerText()).toContain('the sweep goes on for phone 7: stop it there');
    await page.close();
  });
});
