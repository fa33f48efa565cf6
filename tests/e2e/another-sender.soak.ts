import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { FakeDesk } from '../support/fake-bench';
import { hasBrowser } from './browser';
import { openFakeHost, type FakeHost } from './fake-host';
import { NTC_POINTS, PTC_POINTS, sampleDesk, senderGiven, sweepDone } from './sample-job';
import { openStation } from './workshop';

/** A job whose sender no resistors can help: it rises where the dial wants it to fall. */
async function failedTrim(host: FakeHost): Promise<{ desk: FakeDesk; page: Page }> {
  const desk = await sampleDesk(host.bench);
  sweepDone(desk);
  senderGiven(desk, PTC_POINTS);
  desk.append({ kind: 'trim-requested', options: { senderId: 'sender-1', maxParts: 2 } }, 'laptop 1');
  const page = await host.browser.newPage();
  await page.goto(`${host.url}/#/job/${desk.jobId}`);
  await openStation(page, 'Trim');
  await page.getByText('No resistors can do this').waitFor();
  return { desk, page };
}

describe.skipIf(!hasBrowser())('another sender', () => {
  let host: FakeHost;
  beforeAll(async () => void (host = await openFakeHost()));
  afterAll(() => host.close());

  it('opens empty, and can be left again', async () => {
    const { page } = await failedTrim(host);
    await page.getByRole('button', { name: 'Try another sender' }).click();
    const station = page.locator('#station-sender');
    await station.getByLabel('Call it').waitFor();
    expect(await station.getByText(/^Points of/).count()).toBe(0);
    expect(await station.getByRole('button', { name: /^Strike/ }).count()).toBe(0);
    // What it is looked for by stands beside its name.
    await station.getByText(/What a sender must have/).waitFor();
    await station.getByRole('button', { name: /^Stay with/ }).click();
    await station.getByRole('button', { name: 'More points' }).waitFor();
    await page.close();
  });

  it('is the one the trim is about, once it was added for it, and the old answer is gone', async () => {
    const { desk, page } = await failedTrim(host);
    const about = { title: 'the other one', model: 'unknown', unit: 'degC', forTrim: true } as const;
    desk.append({ kind: 'sender-described', senderId: 'sender-2', ...about }, 'laptop 1');
    for (const [index, [value, resistanceOhm]] of NTC_POINTS.entries())
      desk.append(
        {
          kind: 'sender-point',
          pointId: `q${index}`,
          senderId: 'sender-2',
          value,
          resistanceOhm,
          source: 'person',
        },
        'laptop 1',
      );
    await page.getByRole('radio', { name: 'the other one', checked: true }).waitFor({ state: 'attached' });
    expect(await page.getByText('No resistors can do this').count()).toBe(0);
    await page.close();
  });
});
