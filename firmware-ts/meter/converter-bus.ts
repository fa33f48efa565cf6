import { pins } from '../board/reference-design';
import type { Device } from '../device';
import type { I2C } from '../ecma419';

const SIGN_BIT = 0x80_0000;
const CODE_SPAN = 0x100_0000;
export const RESULT_BYTES = 3;
const BUS_HZ = 400_000;
/**
 * A transfer takes a sixth of a millisecond. The first board's runtime waits 200 ms for a bus that hangs unless it is told
 * otherwise, and whatever waits meanwhile is neither guarded nor pulsed.
 */
const BUS_TIMEOUT_MS = 2;

/** The bus to the converter of an address. */
export const openBus = ({ io }: Device, address: number): I2C =>
  new io.I2C({
    data: pins.meterData,
    clock: pins.meterClock,
    hz: BUS_HZ,
    address,
    timeout: BUS_TIMEOUT_MS,
  });

/** Two's complement of 24 bits: 0x800000 is the lowest code. */
export const signed24 = (raw: number): number => (raw >= SIGN_BIT ? raw - CODE_SPAN : raw);
