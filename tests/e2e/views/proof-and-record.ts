import { lookedAgain, NTC_POINTS, proved, reestimated, senderGiven, sweepDone } from '../sample-job';
import { BY, cold, job, realJob, tolerant, type View } from './view';

export const proofAndRecordViews: readonly View[] = [
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
  {
    name: 'proof-confirm',
    make: realJob((desk) => {
      sweepDone(desk);
      desk.append({ kind: 'network-fitted', fitted: 'nothing' }, BY);
      desk.append({ kind: 'proof-limit', limit: { kind: 'usual' } }, BY);
      desk.append({ kind: 'proof-rule', rule: 'guard' }, BY);
    }),
    open: 'Proof',
  },
  {
    name: 'proof-limit',
    make: realJob((desk) => {
      sweepDone(desk);
      cold(desk);
      proved(desk);
      desk.append({ kind: 'proof-limit', limit: { kind: 'size', size: 3.4 } }, BY);
    }),
    open: 'Proof',
    act: (page) =>
      page
        .locator('#station-proof summary')
        .filter({ hasText: /^Limit/ })
        .click(),
  },
  {
    name: 'proof-other-resistors',
    make: realJob((desk) => {
      sweepDone(desk);
      senderGiven(desk, NTC_POINTS);
      cold(desk);
      proved(desk);
      reestimated(desk);
    }),
    open: 'Proof',
  },
  {
    name: 'proof-season',
    make: job((desk) => {
      sweepDone(desk);
      senderGiven(desk, NTC_POINTS);
      desk.append({ kind: 'proof-limit', limit: { kind: 'size', size: 9 } }, BY);
      proved(desk);
      lookedAgain(desk);
      desk.append({ kind: 'safety-confirmed', confirmation: 'engine-runs', sentence: 'Hands out.' }, BY);
    }),
    open: 'Proof',
    act: (page) => page.getByRole('button', { name: 'A season later: still as left?' }).click(),
  },
  {
    name: 'record-fahrenheit',
    make: realJob((desk) => {
      tolerant(desk);
      cold(desk);
      proved(desk);
      desk.append({ kind: 'job-changed', shownUnit: 'degF' }, BY);
    }),
    open: 'Record',
    act: (page) =>
      page
        .locator('.record')
        .getByText(/shown here in/)
        .waitFor(),
  },
];
