import { FrameReader } from '../../protocol';
import { Bench } from './bench';

let bench: Bench | undefined;
let table: readonly number[] = [];

/** Words of the firmware are shortened in its bundle: what goes out of the engine is said in a sentence. */
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
let damages = 0;
const reader = new FrameReader({ frame: () => undefined, damage: () => (damages += 1) });

/** Thousands of bytes through the frame reader: none of them may cost memory. */
export function readNoise(thousandBytes: number): string {
  for (let round = 0; round < thousandBytes; round += 1) reader.push(noise);
  return 'read';
}
