import type { TestProject } from 'vitest/node';
import { chromium } from 'playwright-core';
import { BROWSER_ARGUMENTS, browserPath } from './browser-program';

declare module 'vitest' {
  interface ProvidedContext {
    /** Where the browser of this run is reached; absent where there is none. */
    readonly browserAddress: string | undefined;
  }
}

/** Vitest global set-up: one browser for every file of the run. Each file has a connection and contexts of its own. */
export async function setup(project: TestProject): Promise<(() => Promise<void>) | undefined> {
  const executablePath = browserPath();
  project.provide('browserAddress', undefined);
  if (executablePath === undefined) return undefined;
  const server = await chromium.launchServer({
    executablePath,
    args: BROWSER_ARGUMENTS,
    chromiumSandbox: false,
  });
  project.provide('browserAddress', server.wsEndpoint());
  return () => server.close();
}
