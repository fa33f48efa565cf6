import type { Scenario } from '../check';
import { calibration } from './calibration';
import { driving } from './driving';
import { greeting } from './greeting';
import { guarding } from './guarding';
import { link } from './link';
import { meter } from './meter';
import { refusing } from './refusing';
import { trips } from './trips';

/** Every behaviour of the firmware, by part: the same list runs in Node and inside the XS engine. */
export const scenarios: readonly (readonly [part: string, rules: readonly Scenario[]])[] = [
  ['greeting', greeting],
  ['driving', driving],
  ['guarding', guarding],
  ['every guard at its limit', trips],
  ['refusing', refusing],
  ['link', link],
  ['meter', meter],
  ['calibration', calibration],
];
