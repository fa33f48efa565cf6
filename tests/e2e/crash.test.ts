import { spawn, type ChildProcess } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { createServer } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { fileURLToPath } from 'node:url';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { hasBrowser, openBrowser } from './browser';
import { awaitQuestion, countReadings, startSweep, typeReading } from './workshop';

const program = fileURLToPath(new URL('../../.build/cli/main.js', import.meta.url));

const freePort = (): Promise<number> =>
  new Promise((resolve) => {
    const server = createServer().listen(0, '127.0.0.1', () => {
      const address = server.address();
      const port = address !== null && typeof address === 'object' ? address.port : 0;
      server.close(() => resolve(port));
    });
  });

/** The host as people run it, as a program of its own. */
async function startHost(port: number, jobsFolder: string): Promise<ChildProcess> {
  const options = [
    '--listen',
    `127.0.0.1:${port}`,
    '--jobs',
    jobsFolder,
    '--simulate',
    'two-coil-fuel',
    '--speed',
    '30',
  ];
  const child = spawn(process.execPath, [program, 'serve', ...options], {
    stdio: ['pipe', 'pipe', 'inherit'],
  });
  for await (const line of createInterface({ input: child.stdout })) if (line.includes('http')) return child;
  throw new Error('the host ended before it said where the page is');
}

describe.skipIf(!hasBrowser())('a host that crashes in the middle of a sweep', () => {
  const jobsFolder = mkdtempSync(join(tmpdir(), 'needlewright-crash-'));
  let browser: Browser;
  let host: ChildProcess | undefined;
  beforeAll(async () => void (browser = await openBrowser()));
  afterAll(async () => {
    await browser.close();
    host?.kill('SIGKILL');
    rmSync(jobsFolder, { recursive: true, force: true });
  });

  it('loses no confirmed reading; the page says so, comes back by itself, and the sweep is resumed', async () => {
    const port = await freePort();
    host = await startHost(port, jobsFolder);
    const page = await (await browser.newContext({ viewport: { width: 1280, height: 800 } })).newPage();
    page.setDefaultTimeout(60_000);
    await page.goto(`http://127.0.0.1:${port}/#/new`);
    await page.getByLabel('Which simulated vehicle?').selectOption('two-coil-fuel');
    await page.getByRole('button', { name: 'Open the job sheet' }).click();
    await page.getByText('Box connected').waitFor();
    await startSweep(page);
    for (const reading of [5, 20]) {
      expect(await awaitQuestion(page)).toBe(true);
      await typeReading(page, reading);
    }
    await awaitQuestion(page);
    host.kill('SIGKILL');
    await page.getByText('Host lost', { exact: true }).waitFor();
    const alert = page.locator('.unreachable');
    expect(await alert.innerText()).toMatch(/opens its output by itself within 1\.5 s/);
    expect(await alert.innerText()).toContain('ignition off, then pull the fused clip');
    expect(await countReadings(page)).toBe(2);
    host = await startHost(port, jobsFolder);
    await page.getByText('Box connected').waitFor();
    await page.getByRole('button', { name: 'Go on with the sweep' }).click();
    expect(await awaitQuestion(page)).toBe(true);
    expect(await countReadings(page)).toBe(2);
    await typeReading(page, 35);
    await page.getByRole('button', { name: /^STOP:/ }).click();
    await page.getByText('output open (safe)').waitFor();
  });
});
