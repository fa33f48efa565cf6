import { contactBits, elements } from '../../../firmware-ts/board/reference-design';
import { faults } from '../../../protocol';
import { Bench, RESIDUAL_ROW, TODAY } from '../bench';
import { equal, isTrue, near, rule } from '../check';

/** The procedure a host follows: residual first, then every other row, then store. */
export function calibrated(seed = 7, gauge = 'thermal-fuel-steady'): Bench {
  const bench = new Bench({ isUncalibrated: true, seed, gauge });
  bench.hello();
  bench.box.world.calPost = { kind: 'chain' };
  // The residual four times: contacts close a little differently each time, and the box takes the mean.
  const residuals = [RESIDUAL_ROW, RESIDUAL_ROW, RESIDUAL_ROW, RESIDUAL_ROW];
  for (const index of [...residuals, ...Array.from({ length: RESIDUAL_ROW }, (_, row) => row)]) {
    const row = bench.ask('calibrateElement', { channel: 0, index });
    if (row.refused !== undefined) throw new Error(`row ${index}: ${row.refused} ${row.detail}`);
  }
  const stored = bench.ask('calibrateStore', { channel: 0, calibrationId: 42, validDayCount: 365 });
  equal([stored.goodCopyCount, stored.calibrationEndDay], [2, TODAY + 365], 'stored');
  bench.box.world.calPost = { kind: 'open' };
  return bench;
}

const spoil = (bench: Bench, copy: 0 | 1): void => bench.box.flash.spoil(copy, 65);

/** An erasure and one page for each of the two copies. */
const STORING_OPERATIONS = 4;

/** Stores anew, loses its power in the operation after so many; answers which calibration it wakes up with. */
function idAfterPowerCut(operations: number): number | undefined {
  const bench = calibrated();
  const before = bench.table();
  const { flash, world } = bench.box;
  world.calPost = { kind: 'chain' };
  bench.box.advance(100);
  // Another mean of the residual, so that the new table differs.
  const again = bench.ask('calibrateElement', { channel: 0, index: RESIDUAL_ROW });
  equal(again.refused, undefined, 'residual once more');
  world.calPost = { kind: 'open' };
  flash.cutAfter(operations);
  bench.ask('calibrateStore', { channel: 0, calibrationId: 43, validDayCount: 365 });
  bench.box.restart('power');
  const { calibrationId } = bench.hello(3);
  const isOld = JSON.stringify(bench.table()) === JSON.stringify(before);
  equal(isOld, calibrationId === 42, `table of calibration ${calibrationId} after ${operations} operations`);
  equal(bench.arm().refused, undefined, `arms after ${operations} operations`);
  return calibrationId;
}

export const calibration = [
  rule('measures its own elements and states the truth within its uncertainty', () => {
    const bench = calibrated();
    const { world } = bench.box;
    for (let index = 0; index < elements.length; index += 1) {
      const row = bench.ask('element', { index });
      const mask = contactBits.allMask & ~(1 << index);
      const trueOhm = world.settledOhm(mask) - world.settledOhm(contactBits.allMask);
      const madeOhm = (row.milliohm ?? 0) / 1000;
      near(madeOhm, trueOhm, { by: 0.05 + 0.002 * trueOhm, what: `element ${index}` });
      near(madeOhm, trueOhm, {
        by: (3 * (row.uncertaintyMilliohm ?? 0)) / 1000 + 0.03,
        what: `covered, element ${index}`,
      });
    }
    equal(bench.arm().refused, undefined, 'arms with it');
  }),
  rule('keeps its table over a restart', () => {
    const bench = calibrated();
    const before = bench.table();
    bench.box.restart('power');
    equal(bench.hello(3).calibrationId, 42, 'id');
    equal(bench.table(), before, 'table');
  }),
  rule('goes on with one good copy, and refuses to arm with none', () => {
    const bench = calibrated();
    const before = bench.table();
    spoil(bench, 0);
    bench.box.restart('power');
    bench.hello(3);
    equal(bench.table(), before, 'the other copy');
    equal(bench.arm().refused, undefined, 'arms');
    spoil(bench, 1);
    bench.box.restart('power');
    bench.hello(4);
    equal(bench.arm().refused, 'CALIBRATION_INVALID', 'no copy');
  }),
  rule('has the old table or the new one, whole, wherever the power goes while it stores', () => {
    const kept = Array.from({ length: STORING_OPERATIONS + 1 }, (_, count) => idAfterPowerCut(count));
    // The first copy is whole after its erasure and its page: from then on it is the newer one.
    equal(kept, [42, 42, 43, 43, 43], 'which table');
  }),
  rule('wants the residual first, and every row before it stores', () => {
    const bench = new Bench({ isUncalibrated: true });
    bench.hello();
    bench.box.world.calPost = { kind: 'chain' };
    const early = bench.ask('calibrateElement', { channel: 0, index: 3 });
    equal([early.refused, early.detail], ['UNMEASURED', RESIDUAL_ROW], 'residual first');
    bench.ask('calibrateElement', { channel: 0, index: RESIDUAL_ROW });
    const store = bench.ask('calibrateStore', { channel: 0, calibrationId: 1, validDayCount: 10 });
    equal([store.refused, store.detail], ['UNMEASURED', 0], 'rows missing');
  }),
  rule('refuses to calibrate with the vehicle connected, and without the test link', () => {
    const bench = new Bench({ isUncalibrated: true });
    bench.hello();
    equal(
      bench.ask('calibrateElement', { channel: 0, index: RESIDUAL_ROW }).refused,
      'SUPPLY_PRESENT',
      'vehicle',
    );
    bench.box.world.vehicle.settings.isConnected = false;
    const open = bench.ask('calibrateElement', { channel: 0, index: RESIDUAL_ROW });
    equal(open.refused, 'OPEN_LEAD', 'no link');
    bench.box.advance(20);
    isTrue(bench.isOutputOpen, 'open afterwards');
  }),
  rule('wants the GROUND and BATTERY - clips on their post, because it takes their zeros from it', () => {
    const bench = new Bench({ isUncalibrated: true });
    bench.hello();
    bench.box.world.calPost = { kind: 'chain' };
    bench.box.world.isBatteryClipOnPost = false;
    const hanging = bench.ask('calibrateElement', { channel: 0, index: RESIDUAL_ROW });
    equal(hanging.refused, 'GROUND_CLIPS', 'hanging free');
    near(hanging.detail ?? 0, 2500, { by: 60, what: 'millivolt of a free lead' });
    bench.box.world.isBatteryClipOnPost = true;
    equal(
      bench.ask('calibrateElement', { channel: 0, index: RESIDUAL_ROW }).refused,
      undefined,
      'on the post',
    );
  }),
  rule('trips instead of waiting for ever when the coil rail does not come up', () => {
    const bench = new Bench({ isUncalibrated: true });
    bench.hello();
    bench.box.world.calPost = { kind: 'chain' };
    bench.box.world.rail.supplyMillivolt = 0;
    equal(bench.ask('calibrateElement', { channel: 0, index: RESIDUAL_ROW }).refused, 'TRIPPED', 'refused');
    bench.box.advance(50);
    equal(bench.events[0]?.faultCode, faults.COIL_SUPPLY.number, 'why');
  }),
  rule('reads the ground offset of the vehicle within a millivolt, whatever its own dividers are', () => {
    for (const seed of [7, 8, 9]) {
      const bench = calibrated(seed);
      bench.box.advance(800);
      near((bench.ask('measure', { channel: 0 }).groundOffsetMicrovolt ?? 0) / 1000, 4, {
        by: 1,
        what: `box ${seed}, 4 mV`,
      });
    }
  }),
  rule('does not take the zero of a new meter for a welded contact', () => {
    for (let seed = 1; seed <= 12; seed += 1) {
      const bench = new Bench({ isUncalibrated: true, seed });
      bench.hello();
      bench.live(500);
      equal(bench.state(), 'safe', `box ${seed}, zero ${bench.box.world.frontEnd.currentZeroMicroamp} uA`);
    }
  }),
  rule('notices a wrong part or a stuck contact while calibrating', () => {
    const bench = new Bench({ isUncalibrated: true });
    bench.hello();
    bench.box.world.calPost = { kind: 'chain' };
    bench.ask('calibrateElement', { channel: 0, index: RESIDUAL_ROW });
    bench.box.world.chain.contact(4)!.weld = 'closed';
    equal(bench.ask('calibrateElement', { channel: 0, index: 4 }).refused, 'REFERENCE', 'stuck contact');
  }),
  rule('opens when the table in memory is no longer what was loaded', () => {
    const bench = Bench.driving(50);
    bench.box.spoilTable();
    bench.live(1500);
    equal(bench.events[0]?.faultCode, faults.CALIBRATION_INVALID.number, 'event');
    isTrue(bench.isOutputOpen, 'open');
  }),
];
