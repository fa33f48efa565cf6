import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { fileURLToPath } from 'node:url';
import type { FastifyInstance } from 'fastify';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { createBoxBay } from '../../host/server/box-bay';
import { createServerApp } from '../../host/server/app';
import { knownCallers } from '../../host/server/callers';
import { createComputer } from '../../host/server/computer';
import { compute } from '../../host/server/findings';
import { FakeBench } from '../support/fake-bench';
import { hasBrowser, openBrowser } from './browser';
import {
  concluded,
  drive,
  foundAndMeasured,
  NTC_POINTS,
  proved,
  PTC_POINTS,
  readingsGiven,
  sampleDesk,
  senderGiven,
  sweepBegun,
  sweepDone,
  trip,
} from './sample-job';
import { openStation, screenshotFolder } from './workshop';

const axeSource = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');
const webFolder = fileURLToPath(new URL('../../.build/web', import.meta.url));

type View = {
  readonly name: string;
  /** Makes the job and shows it; returns the job's address after the hash, or none for the front pages. */
  readonly make: (bench: FakeBench) => Promise<string>;
  readonly open?: string;
  readonly act?: (page: Page) => Promise<void>;
};

const job = (fill: (desk: Awaited<ReturnType<typeof sampleDesk>>) => void) => async (bench: FakeBench) => {
  const desk = await sampleDesk(bench);
  desk.show({ link: { state: 'live', simulated: true }, box: { state: 'safe' } });
  fill(desk);
  return `#/job/${desk.jobId}`;
};

const answer = { kind: 'answer', stepId: 'w1up3', wants: 'reading', unattendedInMs: 170_000 } as const;

const views: readonly View[] = [
  { name: 'jobs', make: async (bench) => (await sampleDesk(bench), '#/') },
  { name: 'new', make: () => Promise.resolve('#/new') },
  {
    name: 'new-dial-editor',
    make: () => Promise.resolve('#/new'),
    act: async (page) => {
      await page.getByText('A real box').click();
      await page.getByText('Make it look like mine').click();
    },
  },
  { name: 'check-as-found', make: job(() => undefined) },
  {
    name: 'check-question',
    make: job((desk) => desk.append({ kind: 'as-found', state: 'cold', indicated: 40 }, 'phone 2')),
  },
  { name: 'check-measure', make: job(foundAndMeasured) },
  { name: 'check-found', make: job(concluded), open: 'Check' },
  { name: 'no-box', make: async (bench) => `#/job/${(await sampleDesk(bench)).jobId}` },
  { name: 'sweep-start', make: job(concluded), open: 'Sweep' },
  {
    name: 'sweep-wait',
    make: job((desk) => {
      concluded(desk);
      sweepBegun(desk);
      readingsGiven(desk, 3);
      drive(
        desk,
        {
          kind: 'settling',
          stepId: 'w1up3',
          settleMs: 60_000,
          passedMs: 22_000,
          currentSettled: true,
          why: 'thermal needle',
        },
        3,
      );
    }),
  },
  {
    name: 'sweep-read',
    make: job((desk) => {
      concluded(desk);
      sweepBegun(desk);
      readingsGiven(desk, 3);
      drive(desk, answer, 3);
    }),
  },
  {
    name: 'sweep-seek',
    make: job((desk) => {
      concluded(desk);
      sweepBegun(desk, 'seek');
      drive(desk, { ...answer, stepId: 'w1up1', wants: 'needle', mark: 60 }, 1);
      desk.show({ step: { stepId: 'w1up1', leg: 'up', aim: { kind: 'mark', reading: 60 }, why: 'plan' } });
    }),
  },
  {
    name: 'sweep-tripped',
    make: job((desk) => {
      concluded(desk);
      sweepBegun(desk);
      readingsGiven(desk, 3);
      drive(desk, answer, 3);
      trip(desk);
    }),
  },
  { name: 'sweep-done', make: job(sweepDone), open: 'Sweep' },
  { name: 'sender-new', make: job(sweepDone), open: 'Sender' },
  {
    name: 'sender',
    make: job((desk) => {
      sweepDone(desk);
      senderGiven(desk, NTC_POINTS);
    }),
    open: 'Sender',
  },
  {
    name: 'trim',
    make: job((desk) => {
      sweepDone(desk);
      senderGiven(desk, NTC_POINTS);
      desk.append(
        { kind: 'trim-requested', options: { senderId: 'sender-1', series: 'E24', maxParts: 2 } },
        'laptop 1',
      );
    }),
    open: 'Trim',
    act: (page) => page.getByText('Networks, best first').waitFor(),
  },
  {
    name: 'trim-refused',
    make: job((desk) => {
      sweepDone(desk);
      senderGiven(desk, PTC_POINTS);
      desk.append(
        { kind: 'trim-requested', options: { senderId: 'sender-1', series: 'E24', maxParts: 2 } },
        'laptop 1',
      );
    }),
    open: 'Trim',
    act: (page) => page.getByText('No resistors can do this').waitFor(),
  },
  {
    name: 'proof',
    make: job((desk) => {
      sweepDone(desk);
      senderGiven(desk, NTC_POINTS);
      proved(desk);
    }),
    open: 'Proof',
  },
  {
    name: 'record',
    make: job((desk) => {
      sweepDone(desk);
      senderGiven(desk, NTC_POINTS);
      proved(desk);
      desk.append({ kind: 'note', text: 'Sender body cleaned before the proof.' }, 'laptop 1');
    }),
    open: 'Record',
  },
];

const SIZES = [
  { width: 360, height: 740 },
  { width: 1280, height: 800 },
] as const;
const SCHEMES = ['light', 'dark'] as const;

type Violation = {
  readonly id: string;
  readonly nodes: readonly { readonly html: string; readonly failureSummary?: string }[];
};

async function violations(page: Page): Promise<string[]> {
  await page.evaluate(axeSource);
  const found = await page.evaluate<Violation[]>(
    'axe.run(document, { resultTypes: ["violations"] }).then((result) => result.violations)',
  );
  return found.map(
    (each) =>
      `${each.id}: ${each.nodes
        .map((node) => `${node.html} ${node.failureSummary ?? ''}`)
        .slice(0, 2)
        .join(' | ')}`,
  );
}

describe.skipIf(!hasBrowser())('every station', () => {
  const bench = new FakeBench();
  const bay = createBoxBay();
  let app: FastifyInstance;
  let url: string;
  let browser: Browser;
  const addresses = new Map<string, string>();

  beforeAll(async () => {
    const computer = createComputer({
      reckon: (task) => Promise.resolve(compute(task)),
      close: () => Promise.resolve(),
    });
    app = await createServerApp({
      bench,
      bay,
      computer,
      callers: knownCallers(false),
      webFolder,
      version: '0',
    });
    url = await app.listen({ host: '127.0.0.1', port: 0 });
    browser = await openBrowser();
    for (const view of views) addresses.set(view.name, await view.make(bench));
  }, 60_000);
  afterAll(async () => {
    await browser.close();
    await app.close();
    await bay.close();
  }, 60_000);

  const cases = views.flatMap((view) =>
    SIZES.flatMap((size) => SCHEMES.map((scheme) => ({ view, size, scheme }))),
  );

  it.each(cases)(
    'has no accessibility violation and no sideways scroll: $view.name at $size.width, $scheme',
    async ({ view, size, scheme }) => {
      const context = await browser.newContext({
        viewport: size,
        colorScheme: scheme,
        hasTouch: size.width < 700,
      });
      const page = await context.newPage();
      const errors: string[] = [];
      page.on('pageerror', (error) => errors.push(error.message));
      await page.goto(`${url}/${addresses.get(view.name) ?? ''}`);
      await page.locator('h1').waitFor();
      await page.locator('.station, .rack, form').first().waitFor();
      if (view.open !== undefined) await openStation(page, view.open);
      await view.act?.(page);
      await page.evaluate(() => document.fonts.ready);
      await page.screenshot({
        path: `${screenshotFolder}/${view.name}-${size.width}-${scheme}.png`,
        fullPage: true,
      });
      const sideways = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
      expect(sideways).toBeLessThanOrEqual(0);
      expect(await violations(page)).toEqual([]);
      expect(errors).toEqual([]);
      await context.close();
    },
    30_000,
  );

  it('leaves no station out', () => {
    expect(views.length).toBe(20);
  });
});
