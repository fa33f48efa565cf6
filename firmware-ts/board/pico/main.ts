// The one file that knows the runtime of the microcontroller: it collects what the runtime offers into a Device and
// starts the bundle that the tests run. Built with manifest.json beside it; see firmware-ts/README.md.
import Analog from 'embedded:io/analog';
import Digital from 'embedded:io/digital';
import DigitalBank from 'embedded:io/digitalbank';
import I2C from 'embedded:io/i2c';
import Serial from 'embedded:io/serial';
import config from 'mc/config';
import { Box } from 'needlewright-box';
import Preference from 'preference';
import Time from 'time';
import Timer from 'timer';

const DOMAIN = 'needlewright';
const BOOT_COUNT = 'boots';

/** Spreads neighbouring boot counts over all 32 bits. Source: Knuth's multiplicative hash, 2^32 / golden ratio. */
const SPREAD = 2_654_435_761;

function countBoot(): number {
  const before = Preference.get(DOMAIN, BOOT_COUNT);
  const count = typeof before === 'number' ? before + 1 : 1;
  Preference.set(DOMAIN, BOOT_COUNT, count);
  return count;
}

new Box({
  io: { Analog, Digital, DigitalBank, I2C, Serial },
  system: {
    now: () => Time.ticks,
    set: (callback, delayMs) => Timer.set(callback, delayMs),
    clear: (timer) => Timer.clear(timer),
  },
  storage: {
    read: (key) => {
      const value = Preference.get(DOMAIN, key);
      return value instanceof ArrayBuffer ? value : undefined;
    },
    write: (key, value) => Preference.set(DOMAIN, key, value),
  },
  boxSerial: config.boxSerial,
  // The runtime does not tell why the chip was reset; the boot nonce changes, and that is what the host goes by.
  boot: { nonce: Math.imul(countBoot(), SPREAD) >>> 0, cause: 'power', restartCount: 0 },
  isSimulated: false,
});
