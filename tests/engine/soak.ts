import { Bench } from './bench';

let bench: Bench | undefined;
let table: readonly number[] = [];

/** The firmware at work: so many commands, settings and heartbeats in turn. The box lives on between calls. */
export function soak(commandCount: number): { readonly doneCount: number; readonly state: string } {
  if (bench === undefined) {
    bench = Bench.driving(50);
    table = bench.table();
  }
  for (let done = 0; done < commandCount; done += 1) {
    if (done % 4 === 0) bench.set(30 + ((done * 7) % 400), table);
    else if (done % 4 === 1) bench.ask('measure', { channel: 0 });
    else bench.beat();
    // What the test's own host has heard is not the firmware's memory.
    bench.heard.length = 0;
  }
  return { doneCount: commandCount, state: bench.state() };
}
