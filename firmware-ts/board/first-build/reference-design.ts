/** The bundle of the first build takes this file in place of the reference design (host/firmware-bundle.mjs). */
import * as full from '../reference-design';
import { eightElements } from './eight';

export * from '../reference-design';

export const { elements, contactBits, limits, gpioFromContacts, relayGpioMask, ladderMilliohm } =
  eightElements(full);
