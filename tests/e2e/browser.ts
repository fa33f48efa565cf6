import { existsSync } from 'node:fs';
import { chromium, type Browser } from 'playwright-core';

const path = process.env['CHROMIUM'] ?? '/usr/bin/chromium';

/** Quiet, offline, no profile: only the page under test makes requests. */
const ARGUMENTS = [
  '--headless=new',
  '--no-sandbox',
  '--disable-gpu',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
];

/** True when there is a browser. Its absence skips the browser tests in plain words, and fails them under CI. */
export function hasBrowser(): boolean {
  if (existsSync(path)) return true;
  if (process.env['CI'] === 'true') throw new Error(`no Chromium at ${path}; set CHROMIUM to its path`);
  console.log(`browser tests skipped: no Chromium at ${path} (set CHROMIUM to its path)`);
  return false;
}

export const openBrowser = (): Promise<Browser> =>
  chromium.launch({ executablePath: path, args: ARGUMENTS, chromiumSandbox: false });
