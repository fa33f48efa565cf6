import { fileURLToPath } from 'node:url';
import type { Browser } from 'playwright-core';
import { createServerApp } from '../../host/server/app';
import type { AppParts } from '../../host/server/route-parts';
import { createBoxBay } from '../../host/server/box-bay';
import { knownCallers } from '../../host/server/callers';
import { createComputer } from '../../host/server/findings/computer';
import { compute } from '../../host/server/findings/findings';
import { FakeBench } from '../support/fake-bench';
import { drawnRecords } from '../support/drawn-records';
import { noCatalogue } from '../support/no-catalogue';
import { openBrowser } from './browser';

const webFolder = fileURLToPath(new URL('../../.build/web', import.meta.url));

export type FakeHost = {
  readonly bench: FakeBench;
  readonly url: string;
  readonly browser: Browser;
  close(): Promise<void>;
};

/** The real server and the real page on a bench in memory: every moment of a job can be put before the eye. */
export async function openFakeHost(parts: Partial<AppParts> = {}, open = openBrowser): Promise<FakeHost> {
  const bench = new FakeBench();
  const bay = createBoxBay();
  const computer = createComputer({
    reckon: (task) => Promise.resolve(compute(task)),
    close: () => Promise.resolve(),
  });
  const callers = knownCallers(false);
  const app = await createServerApp({
    bench,
    clusters: bench.clusters,
    bay,
    computer,
    catalogue: noCatalogue,
    records: drawnRecords,
    callers,
    webFolder,
    version: '0',
    ...parts,
  });
  const url = await app.listen({ host: '127.0.0.1', port: 0 });
  const browser = await open();
  return {
    bench,
    url,
    browser,
    async close() {
      await browser.close();
      await app.close();
      await bay.close();
    },
  };
}
