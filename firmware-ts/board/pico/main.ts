// The one file that knows the runtime of the microcontroller: it collects what the runtime offers into a Device and
// starts the bundle that the tests run. Built with manifest.json beside it; see firmware-ts/README.md.
import Analog from 'embedded:io/analog';
import Digital from 'embedded:io/digital';
import DigitalBank from 'embedded:io/digitalbank';
import I2C from 'embedded:io/i2c';
import Serial from 'embedded:io/serial';
import ChipFunctions from 'mc/ffi';
import { Box } from 'needlewright-box';
import Time from 'time';
import Timer from 'timer';

const chip = new ChipFunctions();

/**
 * The two sectors that the runtime keeps free for settings, behind image and mods, bytes from the start of the flash. The
 * runtime's own settings would share both; this image uses none.
 */
const FIRST_SECTOR = 0x1f_8000;
const SECTOR_BYTES = 4096;

/** One sector. Erasing holds everything up for 45 ms, 400 ms at most (data sheet of the flash): only with the output open. */
const sector = (offset: number) => ({
  read: (byteLength: number): ArrayBuffer => {
    const bytes = new ArrayBuffer(byteLength);
    chip.modSPIRead(offset, byteLength, bytes);
    return bytes;
  },
  write: (bytes: ArrayBuffer): void => {
    const isDone =
      chip.modSPIErase(offset, SECTOR_BYTES) && chip.modSPIWrite(offset, bytes.byteLength, bytes);
    if (!isDone) throw new Error('flash');
  },
});

const UNIQUE_ID_BYTES = 8;

/** The number that the maker gave the chip, folded to 32 bits; 0 would mean no number. */
function serialNumber(): number {
  const id = new ArrayBuffer(UNIQUE_ID_BYTES);
  chip.pico_get_unique_board_id(id);
  const view = new DataView(id);
  return (view.getUint32(0) ^ view.getUint32(4)) >>> 0 || 1;
}

new Box({
  io: { Analog, Digital, DigitalBank, I2C, Serial },
  system: {
    now: () => Time.ticks,
    set: (callback, delayMs) => Timer.set(callback, delayMs),
    clear: (timer) => Timer.clear(timer),
  },
  calibrationSectors: [sector(FIRST_SECTOR), sector(FIRST_SECTOR + SECTOR_BYTES)],
  boxSerial: serialNumber(),
  // Random from the chip's ring oscillator: nothing wears by it. The runtime does not tell why the chip was reset; the
  // nonce changes, and that is what the host goes by.
  boot: { nonce: chip.get_rand_32() >>> 0, cause: 'power', restartCount: 0 },
  isSimulated: false,
});
