import { existsSync } from 'node:fs';

/** Where the browser is looked for, the best first: the shell is the same engine without a window, at a third of the cost. */
const PLACES = ['/usr/bin/chromium-headless-shell', '/usr/bin/chromium'];
const named = process.env['CHROMIUM'];

export const BROWSER_PATH = named ?? PLACES.find((place) => existsSync(place)) ?? '/usr/bin/chromium';

/** Quiet, offline, no profile: only the page under test makes requests. */
export const BROWSER_ARGUMENTS = [
  '--headless=new',
  '--no-sandbox',
  '--disable-gpu',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
];

/** The program of the browser, where there is one. */
export const browserPath = (): string | undefined => (existsSync(BROWSER_PATH) ? BROWSER_PATH : undefined);
