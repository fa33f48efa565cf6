import { HostLink } from '../../firmware-ts/box/link';
import type { RequestHandler } from '../../firmware-ts/box/link';
import { refuse } from '../../firmware-ts/box/wire';
import type { Serial, SerialOptions } from '../../firmware-ts/ecma419';
import { Bench } from './bench';

let bench: Bench | undefined;
let table: readonly number[] = [];

const told = (box: Bench): string => (box.state() === 'driving' ? 'it drives' : 'it drives no more');

/** World, board and test host, all but the firmware: what a snapshot holds before the firmware boots. */
export function prepare(): string {
  bench = new Bench({ isPoweredOff: true });
  return 'prepared';
}

/** Boots the firmware and takes it to work, so that what follows is its steady life. */
export function boot(): string {
  if (bench === undefined) prepare();
  if (bench === undefined) return 'not prepared';
  bench.box.powerOn();
  bench.hello();
  table = bench.table();
  bench.arm();
  bench.box.advance(200);
  bench.set(50, table);
  return told(bench);
}

/** So many commands: a setting, a measurement and two heartbeats in turn. The box lives on between calls. */
export function soak(commandCount: number): string {
  if (bench === undefined) return 'not booted';
  for (let done = 0; done < commandCount; done += 1) {
    if (done % 4 === 0) bench.set(30 + ((done * 7) % 400), table);
    else if (done % 4 === 1) bench.ask('measure', { channel: 0 });
    else bench.beat();
    // What the test's own host has heard is not the firmware's memory.
    bench.heard.length = 0;
  }
  return told(bench);
}

const noise = Uint8Array.from({ length: 1000 }, (_, index) => ((index * 73) % 255) + 1);
/** Eight bytes are taken in a turn. */
const TURNS_A_THOUSAND = noise.length / 8;
const nobody: RequestHandler = {
  do: () => undefined,
  repeated: () => undefined,
  failed: () => refuse('TRIPPED'),
};
let readable: ((byteCount: number) => void) | undefined;
let noisyLink: HostLink | undefined;

/** A port that hands out noise and allocates nothing itself, so that what is counted is the firmware's. */
class NoisySerial implements Serial {
  #filled: ArrayBuffer | undefined;
  #view = new Uint8Array(0);
  #at = 0;

  constructor({ onReadable }: SerialOptions) {
    readable = onReadable;
  }

  read(buffer: ArrayBuffer): void {
    if (buffer !== this.#filled) this.#view = new Uint8Array(buffer);
    this.#filled = buffer;
    for (let index = 0; index < this.#view.length; index += 1) {
      this.#view[index] = noise[this.#at]!;
      this.#at = (this.#at + 1) % noise.length;
    }
  }

  write(): void {
    // Nothing is answered to noise.
  }

  close(): void {
    // Never closed.
  }
}

/** Thousands of bytes through the serial port into the firmware's link: none of them may cost memory. */
export function readNoise(thousandBytes: number): string {
  if (readable === undefined) {
    const { device } = new Bench({ isPoweredOff: true }).box.board('power');
    noisyLink = new HostLink({ ...device, io: { ...device.io, Serial: NoisySerial } }, nobody);
  }
  for (let turn = 0; turn < thousandBytes * TURNS_A_THOUSAND; turn += 1) {
    readable?.(noise.length);
    noisyLink?.tick(0);
  }
  return 'read';
}
