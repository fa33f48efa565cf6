import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { hasBrowser } from './browser';
import { openFakeHost, type FakeHost } from './fake-host';
import { sampleDesk } from './sample-job';
import { openStation } from './workshop';

describe.skipIf(!hasBrowser())('a typed point that the host refuses', () => {
  let host: FakeHost;
  beforeAll(async () => void (host = await openFakeHost()));
  afterAll(() => host.close());

  it('keeps what was typed and says why', async () => {
    const desk = await sampleDesk(host.bench, { place: 'bench' });
    const about = { senderId: 'sender-1', title: 'new sender', model: 'unknown', unit: 'degC' } as const;
    desk.append({ kind: 'sender-described', ...about }, 'laptop 1');
    const page = await host.browser.newPage();
    await page.goto(`${host.url}/#/job/${desk.jobId}`);
    await openStation(page, 'Sender');
    await page.getByText('Type points', { exact: true }).click();
    const [value, ohm] = [
      page.getByLabel(/^The (?:thermometer shows|true value)/),
      page.getByLabel(/^Resistance/),
    ];
    await value.fill('80');
    await ohm.fill('112');
    await page.getByRole('button', { name: 'Add the point' }).click();
    // The bench in memory takes notes and nothing else.
    await page.getByText('The fake bench takes notes').waitFor();
    expect([await value.inputValue(), await ohm.inputValue()]).toEqual(['80', '112']);
    await page.close();
  });
});
