import type { Page } from 'playwright-core';
import type { TestName } from '../../../host/core/diagnosis';
import type { Opening } from '../../../host/job/schema/gauge';
import type { FakeDesk } from '../../support/fake-bench';
import { concluded, foundAndMeasured, sampleDesk, sampleGauge } from '../sample-job';
import { BY, job, realJob, type View } from './view';

/** A gauge of 58 ohm whose ground lifts by 0.3 V with the lights, on a chopped feed. */
const badGround = (desk: FakeDesk): void => {
  desk.append({ kind: 'check-answered', question: 'check-way', answer: 'list' }, BY);
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
const known: Partial<Opening> = {
  gauge: { ...family, marks: [...family.marks], zones: [...(family.zones ?? [])] },
};
const found = (desk: FakeDesk): void =>
  void desk.append({ kind: 'as-found', state: 'thermostat open', indicated: 64, reference: 88 }, BY);
const asked =
  (...tests: readonly (readonly [TestName, number])[]) =>
  (desk: FakeDesk): void => {
    found(desk);
    desk.append({ kind: 'check-answered', question: 'check-way', answer: 'meter' }, BY);
    desk.append(
      { kind: 'safety-confirmed', confirmation: 'engine-cold', sentence: 'The engine is cold.' },
      BY,
    );
    for (const [test, value] of tests)
      desk.append({ kind: 'check-tested', test, value, source: 'person' }, BY);
  };
const corroded = [
  ['sender-plug', 76],
  ['middle-load', 0.3],
  ['wire-ohm', 49],
  ['wire-ohm', 49.4],
] as const;
const settled = (page: Page): Promise<void> => page.locator('.beliefs').waitFor();
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

export const frontAndCheckViews: readonly View[] = [
  { name: 'jobs', make: async (bench) => (await sampleDesk(bench), '#/') },
  {
    name: 'jobs-rack',
    make: async (bench) => {
      for (let more = 0; more < 6; more += 1) concluded(await sampleDesk(bench));
      return '#/';
    },
    act: (page) =>
      page
        .getByRole('button', { name: /^More:/ })
        .first()
        .click(),
  },
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
  {
    name: 'check-evidence',
    make: realJob(badGround, {
      gauge: { ...family, marks: [...family.marks], zones: [...(family.zones ?? [])] },
    }),
    open: 'Check',
    act: (page) =>
      page
        .getByText(/worth [\d.]+ (°C|degC) at/)
        .first()
        .waitFor(),
  },
  { name: 'diagnosis-way', make: realJob(found, known), open: 'Check' },
  { name: 'diagnosis-first', make: realJob(asked(), known), open: 'Check', act: settled },
  {
    name: 'diagnosis-needle',
    make: realJob(asked(['sender-plug', 76], ['battery', 12.4]), known),
    open: 'Check',
    act: settled,
  },
  {
    name: 'diagnosis-proving',
    make: realJob(asked(...corroded.slice(0, 2)), known),
    open: 'Check',
    act: settled,
  },
  { name: 'diagnosis-end', make: realJob(asked(...corroded), known), open: 'Check', act: settled },
  {
    name: 'diagnosis-found',
    make: realJob((desk) => {
      asked(...corroded)(desk);
      desk.append(
        {
          ...{ kind: 'check-concluded', finding: 'wire-fault', notAsked: [] },
          sentence: 'It is the sender wire: corroded.',
          evidence: [
            'Strong: ohms of the sender wire, end to end 49 \u03a9, read again; a good one gives 0.15 \u03a9.',
          ],
          diagnosed: { verdict: 'is', causes: ['wire-corroded'], way: 'meter', seed: 1, notMeasured: [] },
        },
        BY,
      );
    }, known),
    open: 'Check',
  },
  {
    name: 'check-fuel-wire',
    make: realJob((desk) => {
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
    }, fuel),
    open: 'Check',
  },
];
