import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { knownCallers } from '../../host/server/callers';
import { Pairing } from '../../host/server/pairing';
import { violations } from './axe';
import { hasBrowser } from './browser';
import { openFakeHost, type FakeHost } from './fake-host';
import { clipped, sidewaysPx } from './layout';
import { drive, sampleDesk, sweepBegun } from './sample-job';
import { keepPicture } from './screenshots';
import { START } from './workshop';

/** Browsers take any name under "localhost" for this machine; to the host it is a name of an invented network. */
const LAN_NAME = 'garage.localhost';
const asked = { kind: 'answer', stepId: 'w1up1', wants: 'reading', unattendedInMs: 170_000 } as const;

describe.skipIf(!hasBrowser())('devices of the local network', () => {
  let host: FakeHost;
  const pairing = new Pairing();
  beforeAll(async () => {
    const callers = knownCallers(true, () => ({
      names: [LAN_NAME],
      addresses: ['192.168.7.20', '10.42.0.1'],
    }));
    host = await openFakeHost({ callers, pairing });
  });
  afterAll(() => host.close());

  const lanUrl = (): string => host.url.replace('127.0.0.1', LAN_NAME);
  const sound = async (page: Page, name: string): Promise<void> => {
    for (const width of [360, 390, 1280]) {
      await page.setViewportSize({ width, height: 844 });
      expect(await sidewaysPx(page)).toBeLessThanOrEqual(0);
      expect(await clipped(page)).toEqual([]);
      await keepPicture(page, `${name}-${width}`, { fullPage: true });
    }
    expect(await violations(page)).toEqual([]);
  };
  const openDoor = async (atHost: Page, right: 'Operate' | 'Watch'): Promise<string> => {
    await atHost.goto(`${host.url}/#/devices`);
    await atHost.getByText(new RegExp(`^${right}`)).click();
    await atHost.getByRole('button', { name: 'Let a device in' }).click();
    return (await atHost.locator('.pair-code').innerText()).replace(/\D/g, '');
  };

  it('is let in by a code, watches, is let operate at the host, and is removed there', async () => {
    const desk = await sampleDesk(host.bench);
    const atHost = await host.browser.newPage();
    const code = await openDoor(atHost, 'Watch');
    await sound(atHost, 'devices-open');
    const phone = await host.browser.newPage();
    await phone.goto(`${lanUrl()}/#/job/${desk.jobId}`);
    await phone.getByLabel(/^Code on the host/).fill('12 34');
    expect(await phone.getByRole('button', { name: 'Pair this device' }).isDisabled()).toBe(true);
    await phone.getByLabel(/^Code on the host/).fill(code === '000000' ? '000001' : '000000');
    await phone.getByRole('button', { name: 'Pair this device' }).click();
    await phone.getByText('This is not the code').waitFor();
    await sound(phone, 'pair');
    await phone.getByLabel(/^Code on the host/).fill(code);
    await phone.getByLabel('What is this device called?').fill('Blue phone');
    await phone.getByRole('button', { name: 'Pair this device' }).click();
    await phone.getByText('This device watches').waitFor();
    expect([...desk.screens]).toEqual([]);
    await atHost.getByText('watches, until').waitFor();
    await sound(atHost, 'devices-list');
    await atHost.getByRole('button', { name: /^Let it operate.*Blue phone/ }).click();
    await phone.getByText('This device watches').waitFor({ state: 'detached' });
    await expect.poll(() => [...desk.screens], { timeout: 20_000 }).toEqual(['Blue phone']);
    await atHost.getByRole('button', { name: /^Remove.*Blue phone/ }).click();
    await phone.getByRole('heading', { name: 'Pair this device' }).waitFor();
    await phone.getByRole('button', { name: /^STOP: open every output/ }).click();
    await phone.getByText('No box is connected to the host.').waitFor();
    expect(host.bench.stops).toBe(1);
    await phone.close();
    await atHost.close();
  });

  it('is let in by the square alone', async () => {
    const atHost = await host.browser.newPage();
    await openDoor(atHost, 'Operate');
    await atHost.getByRole('img', { name: /^QR code of http:\/\/192\.168\.7\.20/ }).waitFor();
    const { state } = pairing;
    const phone = await host.browser.newPage();
    await phone.goto(`${lanUrl()}/#/pair/${state.kind === 'open' ? state.token : ''}`);
    await phone.getByLabel('What is this device called?').fill('Green tablet');
    await phone.getByRole('button', { name: 'Pair this device' }).click();
    await phone.getByRole('link', { name: START }).first().waitFor();
    expect(await phone.getByRole('link', { name: 'Devices' }).count()).toBe(0);
    await atHost.getByText('Green tablet', { exact: true }).waitFor();
    await phone.close();
    await atHost.close();
  });
});

describe.skipIf(!hasBrowser())('an older page at a newer host', () => {
  let host: FakeHost;
  beforeAll(async () => void (host = await openFakeHost()));
  afterAll(() => host.close());

  it('says reload, shows what it knows, and stops', async () => {
    const desk = await sampleDesk(host.bench);
    sweepBegun(desk);
    const page = await host.browser.newPage();
    // What this page has never heard of, in a message, an event and a frame.
    await page.routeWebSocket(/\/live$/, (route) => {
      const server = route.connectToServer();
      route.onMessage((message) => server.send(message));
      server.onMessage((message) => {
        route.send('{"kind":"weather","text":"rain"}');
        route.send('null');
        const newer = String(message).replace(/"build":"\w+"/, '"build":"newer"');
        route.send(newer.replaceAll('"kind":"note"', '"kind":"sketch"'));
      });
    });
    await page.goto(`${host.url}/#/job/${desk.jobId}`);
    await page.getByText('This page does not belong to its host').waitFor();
    await page.getByRole('heading', { name: 'Coolant temperature gauge' }).waitFor();
    desk.append({ kind: 'note', text: 'told by a newer host' }, 'other');
    drive(desk, asked, 1);
    desk.show({ box: { state: 'driving', deadManMs: 1500 } });
    await page.getByRole('button', { name: /^STOP: open the output/ }).click();
    await expect.poll(() => desk.events.some((event) => event.kind === 'stopped')).toBe(true);
    expect(await page.getByRole('heading', { name: 'Coolant temperature gauge' }).count()).toBe(1);
    expect(await violations(page)).toEqual([]);
    await page.close();
  });

  it('keeps STOP when a part of the sheet cannot be drawn', async () => {
    const desk = await sampleDesk(host.bench);
    sweepBegun(desk);
    drive(desk, asked, 1);
    desk.show({ box: { state: 'driving', deadManMs: 1500 } });
    const page = await host.browser.newPage();
    await page.routeWebSocket(/\/live$/, (route) => {
      const server = route.connectToServer();
      route.onMessage((message) => server.send(message));
      server.onMessage((message) => route.send(String(message).replaceAll('"present":[', '"presence":[')));
    });
    await page.goto(`${host.url}/#/job/${desk.jobId}`);
    await page.getByText('This page cannot show the sheet').waitFor();
    await page.getByRole('button', { name: /^STOP: open the output/ }).click();
    await expect.poll(() => host.bench.stops).toBeGreaterThan(0);
    expect(desk.events.filter((event) => event.kind === 'stopped')).toHaveLength(1);
    await page.close();
  });
});
