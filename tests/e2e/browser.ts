import { chromium, type Browser } from 'playwright-core';
import { inject } from 'vitest';
import { BROWSER_ARGUMENTS, BROWSER_PATH, browserPath } from './browser-program';

/** True when there is a browser. Its absence skips the browser tests in plain words, and fails them under CI. */
export function hasBrowser(): boolean {
  if (browserPath() !== undefined) return true;
  if (process.env['CI'] === 'true')
    throw new Error(`no Chromium at ${BROWSER_PATH}; set CHROMIUM to its path`);
  console.log(`browser tests skipped: no Chromium at ${BROWSER_PATH} (set CHROMIUM to its path)`);
  return false;
}

/** A browser of its own, for a test that may lose it. */
export const launchBrowser = (): Promise<Browser> =>
  chromium.launch({ executablePath: BROWSER_PATH, args: BROWSER_ARGUMENTS, chromiumSandbox: false });

/** A connection to the one browser of this run; closing it closes only what was opened through it. */
export async function openBrowser(): Promise<Browser> {
  const address = inject('browserAddress');
  return address === undefined ? launchBrowser() : chromium.connect(address);
}
