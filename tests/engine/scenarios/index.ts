import type { Scenario } from '../check';
import { calibration } from './calibration';
import { driving } from './driving';
import { greeting } from './greeting';
import { guarding } from './guarding';
import { link } from './link';
import { meter } from './meter';

/** Every behaviour of the firmware, by part: the same list runs in Node and inside the XS engine. */
export const scenarios: Readonly<Record<string, readonly Scenario[]>> = {
  greeting,
  driving,
  guarding,
  link,
  meter,
  calibration,
};
