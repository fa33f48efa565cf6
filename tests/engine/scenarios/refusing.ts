import { faults, jobKinds, messages } from '../../../protocol';
import type { Fields } from '../../../protocol';
import { Bench, RESIDUAL_ROW } from '../bench';
import type { Outcome } from '../bench';
import { equal, isTrue, near, rule } from '../check';
import { magnetic } from '../trips/case';

const UNUSED_TYPE = 0x3e;

const greeted = (): Bench => {
  const bench = new Bench({ gauge: 'two-coil-fuel' });
  bench.hello();
  return bench;
};

const refusedWith = ({ refused, detail }: Outcome): readonly [string | undefined, number | undefined] => [
  refused,
  detail,
];

/** A box whose gauge is not fed, driven with the limiter in: nothing has proved the setting. */
function unproven(tighter: Partial<Fields<'arm'>>): Bench {
  const bench = new Bench({ gauge: 'two-coil-fuel' });
  bench.box.world.vehicle.settings.isIgnitionOn = false;
  bench.hello();
  const table = bench.table();
  bench.arm('magnetic', tighter);
  equal(bench.set(60, table).refused, undefined, 'made with the limiter in');
  bench.box.world.vehicle.settings.isIgnitionOn = true;
  bench.live(500);
  return bench;
}

const ohmmeterFields = { channel: 0, jobKind: jobKinds.thermal, currentMicroamp: 500 } as const;

export const refusing = [
  rule('refuses a message of a type it does not know, and names the type', () => {
    const bench = greeted();
    equal(
      refusedWith(bench.deliver(bench.anyFrame(UNUSED_TYPE, [0]))),
      ['UNKNOWN_TYPE', UNUSED_TYPE],
      'refusal',
    );
  }),
  rule('refuses a message that ends before its last field, and tells how much came', () => {
    const bench = greeted();
    const short = bench.anyFrame(messages.set.number, [0, 0xff, 0xff]);
    equal(refusedWith(bench.deliver(short)), ['FIELDS_SHORT', 3], 'refusal');
  }),
  rule('takes a message with more fields than it knows, as a newer host sends them', () => {
    const bench = greeted();
    const longer = bench.anyFrame(messages.jobLimits.number, [0, jobKinds.thermal, 1, 2, 3]);
    equal(bench.deliver(longer).currentLimitMilliamp, 300, 'answered');
  }),
  rule('refuses a field outside its range, and tells which', () => {
    const bench = greeted();
    const refused = bench.deliver(bench.anyFrame(messages.jobLimits.number, [0, 5]));
    equal(refusedWith(refused), ['FIELD_RANGE', 2], 'job kind');
  }),
  rule('is busy for another request while it makes a setting, and finishes what it has begun', () => {
    const bench = magnetic(60);
    const table = bench.table();
    const asked = bench.setting(200, table);
    bench.box.receive(bench.frame('set', asked));
    bench.box.advance(10);
    equal(refusedWith(bench.set(80, table)), ['BUSY', 0], 'another setting');
    bench.live(500);
    equal(bench.beat().madeMilliohm, asked.resistanceMilliohm, 'the first one is made');
  }),
  rule('is busy for arming, storing and measuring while it measures a sender', () => {
    const bench = greeted();
    bench.box.world.calPost = { kind: 'sender', ohm: 100 };
    bench.box.advance(200);
    const store = { channel: 0, calibrationId: 1, validDayCount: 10 };
    bench.box.receive(bench.frame('ohmmeter', ohmmeterFields));
    bench.box.advance(20);
    equal(bench.ask('ohmmeter', ohmmeterFields).refused, 'BUSY', 'measuring');
    equal(bench.arm().refused, 'BUSY', 'arming');
    equal(bench.ask('calibrateElement', { channel: 0, index: RESIDUAL_ROW }).refused, 'BUSY', 'calibrating');
    equal(bench.ask('calibrateStore', store).refused, 'BUSY', 'storing');
  }),
  rule(
    'says that its meter is silent when asked to measure a sender, and measures when it reads again',
    () => {
      const bench = greeted();
      const { converters } = bench.box.world;
      bench.box.world.calPost = { kind: 'sender', ohm: 100 };
      bench.box.advance(200);
      for (const chip of converters) chip.isHung = true;
      const refused = bench.ask('ohmmeter', ohmmeterFields);
      equal(refused.refused, 'METER_SILENT', 'refusal');
      near(refused.detail, 64, { by: 4, what: 'milliseconds without a reading' });
      for (const chip of converters) chip.isHung = false;
      bench.box.advance(200);
      near(bench.ask('ohmmeter', ohmmeterFields).milliohm, 100_000, { by: 400, what: 'measured again' });
    },
  ),
  rule('names the meter, not a weld, when a trip is to be cleared before anything was ever measured', () => {
    const bench = new Bench({ gauge: 'two-coil-fuel' });
    const { converters } = bench.box.world;
    for (const chip of converters) chip.isHung = true;
    bench.hello();
    equal(refusedWith(bench.arm()), ['SELF_TEST', 3], 'arming');
    const clear = { channel: 0, faultCode: faults.SELF_TEST.number };
    equal(bench.ask('clear', clear).refused, 'METER_SILENT', 'refusal');
    for (const chip of converters) chip.isHung = false;
    bench.box.advance(200);
    equal(bench.ask('clear', clear).refused, undefined, 'cleared once it reads');
  }),
  rule('refuses a setting that would heat one resistor too much, before it is made', () => {
    const bench = magnetic(500, { elementPowerLimitMilliwatt: 100 });
    const refused = bench.set(60, bench.table());
    equal(refused.refused, 'PREDICTED_POWER', 'refusal');
    // 6.75 V over 45 and 60 ohm: 64 mA, 166 mW in the 40.2 ohm part.
    near(refused.detail, 172, { by: 10, what: 'milliwatts predicted' });
    equal(bench.state(), 'driving', 'the setting before stays');
    isTrue(bench.box.world.pathOhm > 490, 'and is not left');
  }),
  rule('opens when current comes later and proves that the setting would carry too much', () => {
    const bench = unproven({ currentLimitMilliamp: 60 });
    equal(bench.events[0]?.faultCode, faults.CURRENT_HIGH.number, 'event');
    // Nothing is known of the source, so all of the 4.75 V at the limiter count: 79 mA.
    near(bench.events[0]?.measured, 79, { by: 2, what: 'milliamps predicted' });
    equal(bench.events[0]?.limit, 60, 'limit in milliamps');
    isTrue(bench.isOutputOpen, 'open');
  }),
  rule('opens when current comes later and proves that one resistor would be too hot', () => {
    const bench = unproven({ elementPowerLimitMilliwatt: 100 });
    equal(bench.events[0]?.faultCode, faults.ELEMENT_POWER.number, 'event');
    near(bench.events[0]?.measured, 253, { by: 12, what: 'milliwatts predicted' });
    equal(bench.events[0]?.limit, 100, 'limit in milliwatts');
    isTrue(bench.isOutputOpen, 'open');
  }),
];
