import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Opening } from '../../host/job/gauge';
import type { LiveFrame } from '../../host/job/wire';
import type { FakeBench, FakeDesk } from '../support/fake-bench';
import { hasBrowser } from './browser';
import { openFakeHost, type FakeHost } from './fake-host';
import { NTC_POINTS, proved, sampleDesk, sampleGauge, senderGiven, sweepDone } from './sample-job';
import { openStation, screenshotFolder } from './workshop';

const axeSource = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

type View = {
  readonly name: string;
  readonly fill: (desk: FakeDesk) => void;
  readonly open: string;
  readonly opening?: Partial<Opening>;
  readonly act?: (page: Page) => Promise<void>;
};

const BY = 'laptop 1';
const cold = (desk: FakeDesk): number =>
  desk.append({ kind: 'safety-confirmed', confirmation: 'engine-cold', sentence: 'The engine is cold.' }, BY);

const watching = (watch: NonNullable<LiveFrame['watch']>) => (desk: FakeDesk) => {
  sweepDone(desk);
  cold(desk);
  senderGiven(desk, NTC_POINTS.slice(3));
  desk.show({ link: { state: 'live', simulated: false }, watch });
};
const choose =
  (words: string) =>
  (page: Page): Promise<void> =>
    page.getByText(words, { exact: true }).click();

const WATCH = {
  senderId: 'sender-1',
  status: 'measuring',
  measureId: 41,
  resistanceOhm: 63.42,
  uncertaintyOhm: 0.05,
  driftOhmPerMinute: 2.31,
} as const;

const tolerant = (desk: FakeDesk): void => {
  sweepDone(desk);
  senderGiven(desk, NTC_POINTS);
  const about = { title: 'new sender', model: 'unknown', unit: 'degC', tolerancePercent: 10 } as const;
  desk.append({ kind: 'sender-described', senderId: 'sender-1', ...about }, BY);
};

/** A gauge of 58 ohm whose ground lifts by 0.3 V with the lights, on a chopped feed. */
const badGround = (desk: FakeDesk): void => {
  desk.append({ kind: 'as-found', state: 'thermostat open', indicated: 97, reference: 88 }, BY);
  for (const question of ['other-gauges-wrong', 'needle-steps-with-lights'])
    desk.append(
      { kind: 'check-answered', question, answer: question.startsWith('needle') ? 'yes' : 'no' },
      BY,
    );
  desk.append({ kind: 'check-answered', question: 'needle-with-sender-off', answer: 'low-end' }, BY);
  const off = { loads: 'off', source: 'box' } as const;
  for (const [what, value] of [
    ['supply-volt', 13.4],
    ['ground-offset-volt', 0.004],
    ['open-circuit-volt', 7.6],
    ['effective-volt', 10.05],
    ['gauge-ohm', 58],
    ['sender-stud-volt', 5.2],
  ] as const)
    desk.append({ kind: 'check-measured', what, value, ...off }, BY);
  desk.append(
    { kind: 'check-measured', what: 'ground-offset-volt', value: 0.31, loads: 'lights', source: 'box' },
    BY,
  );
};

const family = { ...sampleGauge, terminals: 2, family: { lowEndOhm: 455, highEndOhm: 45 } } as const;
const fuel: Partial<Opening> = {
  title: 'Fuel gauge',
  vehicle: 'Tern 1100 van (1971)',
  gauge: {
    quantity: 'fuel',
    mechanism: 'two-coil',
    unit: 'L',
    marks: [
      { label: 'E', reading: 0, angleFraction: 0 },
      { label: '1/2', reading: 25, angleFraction: 0.5 },
      { label: 'F', reading: 50, angleFraction: 1 },
    ],
  },
};

const views: readonly View[] = [
  {
    name: 'check-evidence',
    fill: badGround,
    open: 'Check',
    opening: { gauge: { ...family, marks: [...family.marks], zones: [...(family.zones ?? [])] } },
    act: (page) =>
      page
        .getByText(/worth [\d.]+ K at/)
        .first()
        .waitFor(),
  },
  {
    name: 'check-fuel-wire',
    fill: (desk) => {
      desk.append({ kind: 'as-found', state: 'tank half', indicated: 20, reference: 25 }, BY);
      for (const question of ['other-gauges-wrong', 'needle-steps-with-lights'])
        desk.append({ kind: 'check-answered', question, answer: 'no' }, BY);
      const off = { loads: 'off', source: 'person' } as const;
      desk.append({ kind: 'check-measured', what: 'supply-volt', value: 13.4, ...off }, BY);
      desk.append({ kind: 'check-measured', what: 'ground-offset-volt', value: 0.01, ...off }, BY);
      desk.append(
        { kind: 'check-measured', what: 'ground-offset-volt', value: 0.01, ...off, loads: 'lights' },
        BY,
      );
    },
    open: 'Check',
    opening: fuel,
  },
  {
    name: 'sender-confirm',
    fill: (desk) => {
      sweepDone(desk);
      senderGiven(desk, []);
    },
    open: 'Sender',
  },
  {
    name: 'sender-start',
    fill: (desk) => {
      sweepDone(desk);
      cold(desk);
      senderGiven(desk, []);
    },
    open: 'Sender',
    act: choose('Let the box measure'),
  },
  { name: 'sender-wait', fill: watching(WATCH), open: 'Sender', act: choose('Let the box measure') },
  {
    name: 'sender-read-now',
    fill: watching({ ...WATCH, propose: 'moved' }),
    open: 'Sender',
    act: async (page) => {
      await choose('Let the box measure')(page);
      await page.getByLabel('The thermometer shows').fill('93,5');
    },
  },
  {
    name: 'sender-unplugged',
    fill: watching({
      senderId: 'sender-1',
      status: 'measuring',
      trouble: 'no current flows: nothing is connected, or its lead is broken',
    }),
    open: 'Sender',
    act: choose('Let the box measure'),
  },
  {
    name: 'sender-heating-check',
    fill: watching({ ...WATCH, status: 'heating', heatingFraction: 0.4 }),
    open: 'Sender',
    act: async (page) => {
      await choose('Let the box measure')(page);
      await page.getByText('Does its own current warm this sender?').click();
    },
  },
  {
    name: 'sender-table',
    fill: (desk) => {
      sweepDone(desk);
      senderGiven(desk, []);
    },
    open: 'Sender',
    act: async (page) => {
      await choose('A table or a file')(page);
      await page.getByLabel(/or paste/).fill('degC;ohm\n40;410\nsixty;192\n80;97,3\n100');
    },
  },
  {
    name: 'sender-tolerance',
    fill: tolerant,
    open: 'Sender',
    act: (page) => page.getByText(/Dash-dotted/).waitFor(),
  },
  {
    name: 'trim-tolerance',
    fill: (desk) => {
      tolerant(desk);
      desk.append(
        { kind: 'trim-requested', options: { senderId: 'sender-1', series: 'E24', maxParts: 2 } },
        BY,
      );
    },
    open: 'Trim',
    act: (page) => page.getByText(/Dash-dotted pair/).waitFor(),
  },
  { name: 'proof-confirm', fill: sweepDone, open: 'Proof' },
  {
    name: 'proof-limit',
    fill: (desk) => {
      sweepDone(desk);
      cold(desk);
      proved(desk);
      desk.append({ kind: 'proof-limit', limit: { kind: 'size', size: 3.4 } }, BY);
    },
    open: 'Proof',
    act: (page) =>
      page
        .locator('#station-proof summary')
        .filter({ hasText: /^Limit/ })
        .click(),
  },
  {
    name: 'record-fahrenheit',
    fill: (desk) => {
      tolerant(desk);
      cold(desk);
      proved(desk);
      desk.append({ kind: 'job-changed', shownUnit: 'degF' }, BY);
    },
    open: 'Record',
    act: (page) => page.getByText(/shown here in/).waitFor(),
  },
];

const SIZES = [
  { width: 360, height: 740 },
  { width: 1280, height: 800 },
] as const;

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
    (each) => `${each.id}: ${each.nodes.map((node) => `${node.html} ${node.failureSummary ?? ''}`)[0]}`,
  );
}

const makeDesk = async (bench: FakeBench, view: View): Promise<FakeDesk> => {
  const plain = await sampleDesk(bench);
  const [opened] = plain.events;
  if (view.opening === undefined || opened?.kind !== 'job-opened') return plain;
  const { n, at, by, kind, schema, jobId, ...opening } = opened;
  return (await bench.createJob({ ...opening, ...view.opening })).desk;
};

describe.skipIf(!hasBrowser())('what a tired person sees', () => {
  let host: FakeHost;
  const addresses = new Map<string, string>();
  beforeAll(async () => {
    host = await openFakeHost();
    for (const view of views) {
      const desk = await makeDesk(host.bench, view);
      desk.show({ link: { state: 'live', simulated: false }, box: { state: 'safe' } });
      view.fill(desk);
      addresses.set(view.name, `#/job/${desk.jobId}`);
    }
  }, 60_000);
  afterAll(() => host.close(), 60_000);

  const cases = views.flatMap((view) =>
    SIZES.flatMap((size) => (['light', 'dark'] as const).map((scheme) => ({ view, size, scheme }))),
  );

  it.each(cases)(
    'can be read, reached and does not scroll sideways: $view.name at $size.width, $scheme',
    async ({ view, size, scheme }) => {
      const context = await host.browser.newContext({
        viewport: size,
        colorScheme: scheme,
        hasTouch: size.width < 700,
      });
      const page = await context.newPage();
      const errors: string[] = [];
      page.on('pageerror', (error) => errors.push(error.message));
      await page.goto(`${host.url}/${addresses.get(view.name) ?? ''}`);
      await page.locator('.station').first().waitFor();
      await openStation(page, view.open);
      await view.act?.(page);
      await page.evaluate(() => document.fonts.ready);
      const path = `${screenshotFolder}/${view.name}-${size.width}-${scheme}.png`;
      await page.screenshot({ path, fullPage: true });
      expect(
        await page.evaluate(() => document.documentElement.scrollWidth - innerWidth),
      ).toBeLessThanOrEqual(0);
      expect(await violations(page)).toEqual([]);
      expect(errors).toEqual([]);
      await context.close();
    },
    30_000,
  );
});
