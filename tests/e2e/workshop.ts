import { expect, onTestFinished } from 'vitest';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser, BrowserContextOptions, Page } from 'playwright-core';
import { z } from 'zod';
import { jobEvent, type JobEvent } from '../../host/job/schema/events';
import type { SimulatedGauge } from '../../host/job/wire/host-messages';
import { startServer, type RunningServer } from '../../host/server';
import { openBrowser } from './browser';
import { lentTime } from './lent-time';

/** Simulated needle seconds per second: what a thermal needle does in a minute takes two seconds here. */
const NEEDLE_SPEED = 30;

export type Workshop = {
  readonly server: RunningServer;
  readonly browser: Browser;
  /** A screen of its own for one test: no other screen's storage. Errors in the page fail the test that closes it. */
  openScreen(options?: BrowserContextOptions): Promise<Page>;
  simulated(name: string): Promise<SimulatedGauge>;
  /** Ends the host as a crash would: nobody says goodbye to it; and starts another on the same jobs and port. */
  restartHost(): Promise<void>;
  close(): Promise<void>;
  readonly troubles: string[];
};

/** Seconds of bench and box in a second of the screens. */
const BENCH_PACE = 5;

/**
 * A host on its own jobs folder with the simulated bench, and a browser to look at it. Its bench and box live faster than
 * its screens; `inRealTime` is the program as it is sold, with its box as a process of its own.
 */
export async function openWorkshop({ inRealTime = false } = {}): Promise<Workshop> {
  const lent = inRealTime ? undefined : lentTime(BENCH_PACE);
  const jobsFolder = mkdtempSync(join(tmpdir(), 'needlewright-e2e-'));
  const start = async (listenPort: number): Promise<RunningServer> => {
    const started = await startServer({
      jobsFolder,
      listenPort,
      simulation: { seed: 7, speed: NEEDLE_SPEED },
      ...(lent && { lent }),
    });
    if (started.kind === 'refused') throw new Error(started.message);
    return started;
  };
  let server = await start(0);
  const browser = await openBrowser();
  const troubles: string[] = [];
  return {
    get server() {
      return server;
    },
    browser,
    troubles,
    async openScreen(options = {}) {
      const context = await browser.newContext({ viewport: { width: 1280, height: 800 }, ...options });
      // A screen that is left open goes on drawing beside the tests after it.
      onTestFinished(() => context.close());
      const page = await context.newPage();
      page.on('pageerror', (error) => troubles.push(error.message));
      page.on('request', (request) => {
        if (!request.url().startsWith(server.url) && !request.url().startsWith('data:'))
          troubles.push(`request to ${request.url()}`);
      });
      page.on('console', (message) => {
        // A host that is being restarted on purpose refuses connections for a moment.
        if (message.type() === 'error' && !/ERR_CONNECTION|WebSocket/.test(message.text()))
          troubles.push(message.text());
      });
      page.setDefaultTimeout(60_000);
      return page;
    },
    async simulated(name) {
      const found = (await server.bay.simulatedGauges()).find((gauge) => gauge.name === name);
      if (found === undefined) throw new Error(`no simulated gauge ${name}`);
      return found;
    },
    async restartHost() {
      const port = Number(new URL(server.url).port);
      await server.close();
      server = await start(port);
    },
    async close() {
      await browser.close();
      await server.close();
      lent?.stop();
      rmSync(jobsFolder, { recursive: true, force: true });
    },
  };
}

/** The way to a new job: by what one has in hand, or, where there are many jobs already, one plate. */
export const START = /^(Simulated bench|Start a job$)/;

/** Starts a job on a simulated vehicle through the page, as a person would. Returns the job's address. */
export async function startJob(page: Page, workshop: Workshop, gaugeName: string): Promise<string> {
  await page.goto(workshop.server.url);
  await page.getByRole('link', { name: START }).first().click();
  await page.getByLabel('Which simulated vehicle?').selectOption(gaugeName);
  await page.getByLabel('What is wrong?').fill('Reads high');
  await page.getByRole('button', { name: 'Open the job sheet' }).click();
  await page.getByText('Box connected').waitFor();
  return page.url();
}

/** Has the check ask its fixed list, in a job whose circuit it knows. */
export async function askTheList(page: Page): Promise<void> {
  await page.getByRole('button', { name: 'Ask me the whole list instead' }).click();
  await page.getByText(/^Question \d+ of/).waitFor();
}

/**
 * Opens a station on the scale. One that opens by itself meanwhile is open all the same; a running sweep has the steps in
 * place of the stations.
 */
export const openStation = async (page: Page, name: string): Promise<void> => {
  const mark = page
    .getByRole('navigation', { name: 'Stations' })
    .getByRole('button', { name: new RegExp(`^${name}\\b`) });
  const isShown = async (): Promise<boolean> =>
    (await page.locator(`#station-${name.toLowerCase()}`).count()) > 0;
  await expect
    .poll(async () => {
      if (!(await isShown())) await mark.click({ timeout: 5_000 }).catch(() => undefined);
      return isShown();
    })
    .toBe(true);
};

/** Opens the sweep with short waits and starts it, ticking whatever must be said first. */
export async function startSweep(
  page: Page,
  choice: { readonly mode?: 'Seek the marks'; readonly waitSecond?: number } = {},
): Promise<void> {
  await openStation(page, 'Sweep');
  if (choice.mode !== undefined) await page.getByText(choice.mode).click();
  await page.getByText('Range, number of points, up and down').click();
  await page.getByLabel('Wait at each point').fill(String(choice.waitSecond ?? 60));
  for (const box of await page.locator('#station-sweep').getByRole('checkbox').all()) await box.check();
  await page.getByRole('button', { name: 'Start the sweep' }).click();
}

/** So many frames at one place are rest: a third of a second, in which a thermal needle of the bench lives most of a minute. */
const REST_FRAMES = 20;
/** What an eye does not see move. */
const REST_DEGREES = 0.15;

/** Where the drawn needle of the simulated dash stands once it rests: read off the drawing, as an eye would. */
export async function lookAtDash(page: Page, gauge: SimulatedGauge): Promise<number> {
  const degrees = await page.locator('.dash .needle').evaluate(
    (needle, [frames, least]) =>
      new Promise<number>((resolve) => {
        const now = (): number =>
          Number(/rotate\((-?[\d.]+)\)/.exec(needle.getAttribute('transform') ?? '')?.[1]);
        let [from, rested, looks] = [now(), 0, 0];
        const look = (): void => {
          const at = now();
          looks += 1;
          rested = Math.abs(at - from) < least! ? rested + 1 : 0;
          if (rested === 0) from = at;
          // One that trembles is read as it trembles.
          if (rested >= frames! || looks > 10 * frames!) resolve(at);
          else requestAnimationFrame(look);
        };
        requestAnimationFrame(look);
      }),
    [REST_FRAMES, REST_DEGREES],
  );
  const fraction = degrees / DASH_ARC_DEGREES + 0.5;
  return readingAt(gauge, Math.min(1, Math.max(0, fraction)));
}

const DASH_ARC_DEGREES = 110;

function readingAt({ marks }: SimulatedGauge, fraction: number): number {
  const index = Math.max(
    1,
    marks.findIndex((mark) => mark.angleFraction >= fraction),
  );
  const [low, high] = [marks[index - 1]!, marks[index]!];
  const share = (fraction - low.angleFraction) / (high.angleFraction - low.angleFraction);
  return low.reading + share * (high.reading - low.reading);
}

/** The plate under a reading, whether it can be pressed yet or not. */
export const CONFIRM = /^(It reads|It is on the|Put the needle)/;

/** Waits until the page asks for a reading; false when the sweep has come to its end instead. */
export async function awaitQuestion(page: Page): Promise<boolean> {
  const asked = page.getByRole('button', { name: CONFIRM });
  const ended = page.getByRole('button', { name: 'On to the sender' });
  await asked.or(ended).first().waitFor({ timeout: 90_000 });
  return !(await ended.isVisible());
}

/** Types the reading and confirms it; returns when the page has moved on. */
export async function typeReading(page: Page, reading: number): Promise<void> {
  const before = await countReadings(page);
  await page.getByLabel(/or type it/).fill(reading.toFixed(2));
  await page.getByRole('button', { name: CONFIRM }).click();
  await expect.poll(() => countReadings(page)).toBeGreaterThan(before);
}

/** How many readings the page holds: a running sweep shows none of them while it asks for the next. */
export const countReadings = (page: Page): Promise<number> =>
  page.evaluate(() =>
    Number(
      document.querySelector('[data-given]')?.getAttribute('data-given') ??
        document.querySelectorAll('[data-reading]').length,
    ),
  );

/** Drags the drawn needle of the entry dial to a place on the arc, with the mouse. */
export async function dragNeedle(page: Page, fraction: number): Promise<void> {
  const face = page.locator('.dial-turns .dial-face');
  await face.scrollIntoViewIfNeeded();
  const place = (at: number): Promise<{ x: number; y: number }> =>
    face.evaluate(
      (svg, [wanted, arc]) => {
        const radians = ((wanted! - 0.5) * arc! * Math.PI) / 180;
        const matrix = svg instanceof SVGSVGElement ? svg.getScreenCTM() : null;
        const point = new DOMPoint(80 * Math.sin(radians), -80 * Math.cos(radians)).matrixTransform(
          matrix ?? undefined,
        );
        return { x: point.x, y: point.y };
      },
      [at, DASH_ARC_DEGREES],
    );
  const from = await place(0.5);
  const to = await place(fraction);
  await page.mouse.move(from.x, from.y);
  await page.mouse.down();
  await page.mouse.move((from.x + to.x) / 2, (from.y + to.y) / 2, { steps: 4 });
  await page.mouse.move(to.x, to.y, { steps: 4 });
  await page.mouse.up();
}

/** Reads and types until the sweep is over. Returns how many readings were given. */
export async function finishSweep(page: Page, gauge: SimulatedGauge): Promise<number> {
  let given = 0;
  while (await awaitQuestion(page)) {
    await typeReading(page, await lookAtDash(page, gauge));
    given += 1;
  }
  return given;
}

/** The journal of the job on the page, read through the host and checked against its own schema. */
export async function journalOf(page: Page): Promise<JobEvent[]> {
  const text = await page.evaluate(async () => {
    const response = await fetch(`/api/jobs/${location.hash.replace('#/job/', '')}`);
    return response.text();
  });
  return z.object({ events: z.array(jobEvent) }).parse(JSON.parse(text)).events;
}

/** What stands on the drawn sheets of the record, a line after the other. */
export const sheetsText = async (page: Page): Promise<string> =>
  (await page.locator('.drawn-sheet text').allTextContents()).join(' ').replace(/\s+/g, ' ');
