import { faults, stateName } from '../../../protocol';
import type { FaultName } from '../../../protocol';
import { Bench } from '../bench';
import { equal, isTrue } from '../check';

/** One guard at its limit: what trips it, what is just inside, and how its cause is taken away. */
export type TripCase = {
  readonly fault: FaultName;
  /** Ends the sentence "opens ...". */
  readonly when: string;
  /** Ends the sentence "stays as it is ...". */
  readonly unless: string;
  readonly start: () => Bench;
  /** Goes over the limit and lives on until the box has had time to act. */
  readonly exceed: (bench: Bench) => void;
  /** Goes as near to the limit as may be, for as long as would trip it if it were over. */
  readonly approach: (bench: Bench) => void;
  /** What the event may say was measured, unit of the fault catalogue. */
  readonly measured: readonly [from: number, to: number];
  readonly limit: number | ((bench: Bench) => number);
  readonly mend: (bench: Bench) => void;
  /** State in which a box just inside the limit is left. */
  readonly spared: 'driving' | 'armed' | 'safe';
};

export const nothingToMend = (): void => undefined;

/** Beats while living on, so that the dead-man has nothing to say, until the time is over or the box has tripped. */
export function beatFor(bench: Bench, forMs: number): number {
  const fromMs = bench.box.nowMs;
  while (bench.box.nowMs - fromMs < forMs && stateName(bench.beat().state ?? -1) !== 'tripped')
    bench.box.advance(50);
  return bench.box.nowMs - fromMs;
}

/** A two-coil gauge, whose currents go with the supply voltage, armed and driven to so many ohms. */
export const magnetic = (ohm: number, tighter: Parameters<Bench['arm']>[1] = {}): Bench => {
  const bench = new Bench({ gauge: 'two-coil-fuel' });
  bench.hello();
  const table = bench.table();
  equal(bench.arm('magnetic', tighter).refused, undefined, 'arm');
  bench.box.advance(200);
  equal(bench.set(ohm, table).refused, undefined, 'set');
  bench.live(300);
  return bench;
};

/** Turns the supply so that a quantity in proportion to it, now at `present`, comes to `wanted`. */
export function feed(bench: Bench, present: number | undefined, wanted: number): void {
  bench.box.world.vehicle.settings.supplyVolt *= wanted / (present ?? NaN);
}

const otherFault = (fault: FaultName): number =>
  fault === 'DEAD_MAN' ? faults.CURRENT_HIGH.number : faults.DEAD_MAN.number;

/** The event tells code, measured value and limit; the output is open in the world, whatever the box says. */
function toldAndOpen(bench: Bench, { fault, measured, limit }: TripCase): void {
  bench.box.advance(600);
  const event = bench.events[bench.events.length - 1];
  equal(event?.faultCode, faults[fault].number, `event ${fault}`);
  equal(event?.limit, typeof limit === 'number' ? limit : limit(bench), `limit of ${fault}`);
  const told = event?.measured ?? NaN;
  isTrue(told >= measured[0] && told <= measured[1], `${measured.join(' to ')} measured, got ${told}`);
  isTrue(fault === 'OUTPUT_WELDED' || bench.isOutputOpen, 'output open in the world');
  equal(bench.box.world.commandedMask, 0, 'no coil energised');
  equal(bench.beat().faultCode, faults[fault].number, 'fault in the heartbeat');
}

/** Nothing but `clear`, naming the fault, lifts it: no request, no new greeting, not the end of its cause. */
function latchedUntilCleared(bench: Bench, { fault, mend }: TripCase): void {
  const { number: faultCode } = faults[fault];
  mend(bench);
  bench.box.advance(1000);
  for (const refused of [bench.arm(), bench.set(1000, bench.table())])
    equal([refused.refused, refused.detail], ['TRIPPED', faultCode], 'still tripped');
  equal(stateName(bench.ask('open', { channel: 0 }).state ?? -1), 'tripped', 'open lifts nothing');
  equal(stateName(bench.hello(77).state ?? -1), 'tripped', 'a new greeting lifts nothing');
  const wrong = bench.ask('clear', { channel: 0, faultCode: otherFault(fault) });
  equal([wrong.refused, wrong.detail], ['WRONG_FAULT', faultCode], 'clear of another fault');
  isTrue(bench.isOutputOpen, 'open all the while');
  equal(stateName(bench.ask('clear', { channel: 0, faultCode }).state ?? -1), 'safe', 'cleared');
  equal(bench.arm().refused, undefined, 'arms again');
  bench.live(300);
  equal(bench.state(), 'armed', 'stays armed');
}

export function trips(one: TripCase): void {
  const bench = one.start();
  one.exceed(bench);
  toldAndOpen(bench, one);
  latchedUntilCleared(bench, one);
}

export function spares(one: TripCase): void {
  const bench = one.start();
  one.approach(bench);
  equal(bench.state(), one.spared, 'state');
  equal(bench.events.length, 0, 'no event');
  if (one.spared === 'driving') isTrue(bench.box.world.commandedMask >= 0x8000, 'output coil energised');
}
