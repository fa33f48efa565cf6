import type { Page } from 'playwright-core';
import type { LiveFrame } from '../../../host/job/wire/job-messages';
import type { FakeDesk } from '../../support/fake-bench';
import { NTC_POINTS, PTC_POINTS, senderGiven, sweepDone } from '../sample-job';
import { BY, cold, job, realJob, tolerant, type View } from './view';

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

export const senderAndTrimViews: readonly View[] = [
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
    act: async (page) => {
      await page.getByText(/with the sender cold the worst error falls/).waitFor();
      await page.getByText('Before you solder').waitFor();
      await page.getByText('Other networks').waitFor();
    },
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
    name: 'sender-another',
    make: job((desk) => {
      sweepDone(desk);
      senderGiven(desk, PTC_POINTS);
      desk.append(
        { kind: 'trim-requested', options: { senderId: 'sender-1', series: 'E24', maxParts: 2 } },
        'laptop 1',
      );
    }),
    open: 'Trim',
    act: (page) => page.getByRole('button', { name: 'Try another sender' }).click(),
  },
  {
    name: 'trim-without-sender',
    make: job(sweepDone),
    open: 'Trim',
    act: (page) => page.getByText(/What a sender must have/).waitFor(),
  },
  {
    name: 'sender-confirm',
    make: realJob((desk) => {
      sweepDone(desk);
      senderGiven(desk, []);
    }),
    open: 'Sender',
  },
  {
    name: 'sender-start',
    make: realJob((desk) => {
      sweepDone(desk);
      cold(desk);
      senderGiven(desk, []);
    }),
    open: 'Sender',
    act: choose('Let the box measure'),
  },
  { name: 'sender-wait', make: realJob(watching(WATCH)), open: 'Sender', act: choose('Let the box measure') },
  {
    name: 'sender-read-now',
    make: realJob(watching({ ...WATCH, propose: 'moved' })),
    open: 'Sender',
    act: async (page) => {
      await choose('Let the box measure')(page);
      await page.getByLabel('The thermometer shows').fill('93,5');
    },
  },
  {
    name: 'sender-unplugged',
    make: realJob(
      watching({
        senderId: 'sender-1',
        status: 'measuring',
        trouble: 'no current flows: nothing is connected, or its lead is broken',
      }),
    ),
    open: 'Sender',
    act: choose('Let the box measure'),
  },
  {
    name: 'sender-heating-check',
    waits: 'the box measures at two currents',
    make: realJob(watching({ ...WATCH, status: 'heating', heatingFraction: 0.4 })),
    open: 'Sender',
    act: async (page) => {
      await choose('Let the box measure')(page);
      await page.getByText('Does its own current warm this sender?').click();
    },
  },
  {
    name: 'sender-table',
    make: realJob((desk) => {
      sweepDone(desk);
      senderGiven(desk, []);
    }),
    open: 'Sender',
    act: async (page) => {
      await choose('A table or a file')(page);
      await page.getByLabel(/or paste/).fill('degC;ohm\n40;410\nsixty;192\n80;97,3\n100');
    },
  },
  {
    name: 'sender-tolerance',
    make: realJob(tolerant),
    open: 'Sender',
    act: (page) => page.getByText(/Dash-dotted/).waitFor(),
  },
  {
    name: 'trim-tolerance',
    make: realJob((desk) => {
      tolerant(desk);
      desk.append(
        { kind: 'trim-requested', options: { senderId: 'sender-1', series: 'E24', maxParts: 2 } },
        BY,
      );
    }),
    open: 'Trim',
    act: (page) => page.getByText(/Dash-dotted pair/).waitFor(),
  },
];
