import { outputRelay } from '../../../firmware-ts/board/reference-design';
import { METER_SILENT_MS } from '../../../firmware-ts/guard/meter-silent';
import { faults, stateName } from '../../../protocol';
import type { FaultName } from '../../../protocol';
import { Bench } from '../bench';
import { equal, isTrue, rule } from '../check';

/** The longest turn, in which the bus has to run out of time as well. */
const TURN_MS = 14;

/** Lives on without a word from the host until the box has tripped, and answers how long that took, ms. */
function untilOpen(bench: Bench, atMostMs: number): number {
  const fromMs = bench.box.nowMs;
  while (bench.box.nowMs - fromMs < atMostMs && !bench.isOutputOpen) bench.box.advance(1);
  return bench.box.nowMs - fromMs;
}

function tripped(bench: Bench, fault: FaultName): void {
  bench.box.advance(600);
  isTrue(bench.isOutputOpen, `output open after ${fault}`);
  equal(bench.events[0]?.faultCode, faults[fault].number, `event ${fault}`);
  equal(bench.beat().faultCode, faults[fault].number, 'fault in the heartbeat');
  equal(bench.state(), 'tripped', 'state');
}

/** Beats while living on, so that the dead-man has nothing to say. */
function beatFor(bench: Bench, forMs: number): void {
  const untilMs = bench.box.nowMs + forMs;
  while (bench.box.nowMs < untilMs && stateName(bench.beat().state ?? -1) !== 'tripped')
    bench.box.advance(50);
}

export const guarding = [
  rule('opens when the host has been silent for the lease, not earlier', () => {
    const bench = Bench.driving(50);
    bench.beat();
    bench.box.advance(1400);
    isTrue(!bench.isOutputOpen, 'still driving before the lease is over');
    const moreMs = untilOpen(bench, 400);
    isTrue(moreMs < 150, `open within the lease and the relay's time, took ${1400 + moreMs} ms`);
    tripped(bench, 'DEAD_MAN');
    equal(bench.events[0]?.limit, 1500, 'limit told');
  }),
  rule('is not kept driving by a host whose requests it has to refuse', () => {
    const bench = Bench.driving(50);
    const fields = bench.setting(80, bench.table());
    const garbled = { ...fields, complementMask: fields.complementMask ^ 1 };
    bench.beat();
    for (let request = 0; request < 3; request += 1) {
      bench.box.advance(430);
      equal(bench.ask('set', garbled).refused, 'COMPLEMENT', 'refusal');
    }
    bench.box.advance(300);
    tripped(bench, 'DEAD_MAN');
  }),
  rule('opens while the bus hangs: its patience with the meter, a turn, and the contact', () => {
    const bench = Bench.driving(50);
    bench.live(300);
    bench.box.world.busHangMs = 5_000;
    const tookMs = untilOpen(bench, 400);
    const { releaseMaxMs } = outputRelay;
    isTrue(tookMs <= METER_SILENT_MS + releaseMaxMs + TURN_MS, `open in time, took ${tookMs} ms`);
    bench.box.advance(300);
    bench.box.world.busHangMs = 0;
    tripped(bench, 'METER_SILENT');
  }),
  rule('keeps driving as long as heartbeats come', () => {
    const bench = Bench.driving(50);
    bench.live(20_000);
    isTrue(!bench.isOutputOpen, 'driving');
    equal(bench.events.length, 0, 'no event');
  }),
  rule('opens when the clips are swapped while driving, and refuses to arm with them swapped', () => {
    const bench = Bench.driving(500);
    bench.live(200);
    bench.box.world.vehicle.settings.isReversed = true;
    isTrue(untilOpen(bench, 60) <= 50, 'open in time');
    tripped(bench, 'SUPPLY_REVERSED');
    bench.ask('clear', { channel: 0, faultCode: faults.SUPPLY_REVERSED.number });
    const refused = bench.arm();
    equal([refused.refused, refused.detail], ['FAULT_PRESENT', faults.SUPPLY_REVERSED.number], 'arming');
  }),
  rule('opens after five seconds below the resistance floor, and counts short visits together', () => {
    const bench = Bench.driving(6, { gauge: 'thermal-fuel-steady' });
    beatFor(bench, 3_000);
    equal(bench.state(), 'driving', 'not at once');
    bench.set(40, bench.table());
    beatFor(bench, 1_000);
    bench.set(6, bench.table());
    beatFor(bench, 4_000);
    tripped(bench, 'LOW_RESISTANCE_TIME');
  }),
  rule('opens when a contact is welded shut and the resistance is not what it should be', () => {
    const bench = Bench.driving(30, { gauge: 'two-coil-fuel', jobKind: 'magnetic' });
    bench.box.world.chain.contact(7)!.weld = 'closed';
    bench.set(80, bench.table());
    beatFor(bench, 500);
    tripped(bench, 'CONTACT_STUCK');
  }),
  rule('opens when a contact does not close', () => {
    const bench = Bench.driving(80, { gauge: 'two-coil-fuel', jobKind: 'magnetic' });
    bench.box.world.chain.contact(6)!.weld = 'open';
    bench.set(30, bench.table());
    beatFor(bench, 500);
    tripped(bench, 'CONTACT_STUCK');
  }),
  rule('notices that the output does not close although it should', () => {
    const bench = new Bench({ gauge: 'two-coil-fuel' });
    bench.box.world.chain.contact('output')!.weld = 'open';
    bench.hello();
    const table = bench.table();
    bench.arm('magnetic');
    bench.set(80, table);
    beatFor(bench, 500);
    tripped(bench, 'OUTPUT_OPEN');
  }),
  rule('reports a welded output contact whatever it was doing, and does not let it be cleared', () => {
    const bench = Bench.driving(50);
    bench.box.world.chain.contact('output')!.weld = 'closed';
    bench.ask('open', { channel: 0 });
    bench.box.advance(800);
    equal(bench.events[0]?.faultCode, faults.OUTPUT_WELDED.number, 'event');
    isTrue(bench.box.world.pathOhm > 6000, 'everything else is in the path');
    const refused = bench.ask('clear', { channel: 0, faultCode: faults.OUTPUT_WELDED.number });
    equal(refused.refused, 'FAULT_PRESENT', 'clear');
    equal(bench.arm().refused, 'TRIPPED', 'arm');
  }),
  rule('opens by its hardware when the program hangs, within the one-shot', () => {
    const bench = Bench.driving(50);
    bench.box.hang();
    isTrue(untilOpen(bench, 500) <= 300, 'open by the one-shot');
  }),
  rule('opens by its hardware when the program hangs with the pulse pin high', () => {
    const bench = Bench.driving(50);
    bench.box.world.rail.drive(1);
    bench.box.hang();
    isTrue(untilOpen(bench, 500) <= 300, 'open by the one-shot');
  }),
  rule('tells of a watchdog restart and wants it cleared', () => {
    const bench = Bench.driving(50);
    bench.box.restart('watchdog');
    bench.box.advance(10);
    isTrue(bench.isOutputOpen, 'open at once');
    bench.hello();
    tripped(bench, 'WATCHDOG_RESET');
    equal(bench.arm().refused, 'TRIPPED', 'arm');
    bench.ask('clear', { channel: 0, faultCode: faults.WATCHDOG_RESET.number });
    equal(bench.arm().refused, undefined, 'arm after clearing');
  }),
  rule('opens when the coil rail is weak, and tells a brown-out from a cut rail', () => {
    const weak = Bench.driving(50);
    weak.box.world.rail.supplyMillivolt = 4200;
    weak.box.advance(200);
    tripped(weak, 'BROWN_OUT');
    const cut = Bench.driving(50);
    cut.box.world.rail.supplyMillivolt = 0;
    cut.box.advance(200);
    tripped(cut, 'COIL_SUPPLY');
  }),
  rule('latches a trip: nothing but clear lifts it, and clear must name the fault', () => {
    const bench = Bench.driving(50);
    bench.box.advance(2000);
    equal(bench.state(), 'tripped', 'state');
    equal(bench.arm().refused, 'TRIPPED', 'arm');
    equal(bench.set(50, bench.table()).refused, 'TRIPPED', 'set');
    equal(stateName(bench.ask('open', { channel: 0 }).state ?? -1), 'tripped', 'open');
    equal(bench.hello(9).state, 3, 'a new greeting');
    const wrong = bench.ask('clear', { channel: 0, faultCode: faults.CURRENT_HIGH.number });
    equal([wrong.refused, wrong.detail], ['WRONG_FAULT', faults.DEAD_MAN.number], 'wrong fault');
    equal(bench.ask('clear', { channel: 0, faultCode: faults.DEAD_MAN.number }).state, 0, 'cleared');
  }),
  rule('repeats the event until it is acknowledged', () => {
    const bench = Bench.driving(50);
    bench.box.advance(1600);
    const count = (): number => bench.heard.filter((bytes) => bytes.includes(0xc0)).length;
    bench.box.advance(2600);
    isTrue(count() >= 4, `repeated, ${count()} times`);
    bench.ask('acknowledge', { eventSequence: (bench.lastEventSequence + 1) & 0xff });
    const repeated = count();
    bench.box.advance(1200);
    isTrue(count() > repeated, 'an acknowledgement of another event silences nothing');
    bench.ask('acknowledge', { eventSequence: bench.lastEventSequence });
    const before = count();
    bench.box.advance(2000);
    equal(count(), before, 'silent after the acknowledgement');
  }),
];
