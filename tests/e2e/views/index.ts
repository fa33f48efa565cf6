import { byHandViews } from './by-hand';
import { catalogueViews } from './catalogue';
import { clusterViews } from './cluster';
import { frontAndCheckViews } from './front-and-check';
import { proofAndRecordViews } from './proof-and-record';
import { senderAndTrimViews } from './sender-and-trim';
import { sweepViews } from './sweep';
import type { View } from './view';

export type { View } from './view';

/** Every moment of a job that a person may be looking at. */
export const views: readonly View[] = [
  ...frontAndCheckViews,
  ...sweepViews,
  ...byHandViews,
  ...senderAndTrimViews,
  ...proofAndRecordViews,
  ...catalogueViews,
  ...clusterViews,
];
