import { contactBits } from '../../../firmware-ts/board/reference-design';
import { hasMeterFlag, states } from '../../../protocol';
import { Bench, LIMITER_ROW, RESIDUAL_ROW, TODAY } from '../bench';
import { equal, isTrue, near, rule } from '../check';

const armed = (): { bench: Bench; table: number[] } => {
  const bench = new Bench();
  bench.hello();
  const table = bench.table();
  equal(bench.arm().state, states.armed, 'arm');
  return { bench, table };
};

export const driving = [
  rule('makes what it was asked, measures it, and says how well it knows it', () => {
    const bench = Bench.driving(40);
    const beat = bench.live(1000);
    const madeOhm = (beat.madeMilliohm ?? 0) / 1000;
    near(madeOhm, bench.box.world.pathOhm, { by: 0.15 + 0.002 * madeOhm, what: 'made against true' });
    near((beat.measuredMilliohm ?? 0) / 1000, madeOhm, { by: 0.2, what: 'measured against made' });
    isTrue(hasMeterFlag(beat.meterFlags ?? 0, 'settled'), 'settled');
    isTrue(!hasMeterFlag(beat.meterFlags ?? 0, 'limiterInPath'), 'limiter out');
  }),
  rule('refuses a setting before it is armed', () => {
    const bench = new Bench();
    bench.hello();
    equal(bench.set(100, bench.table()).refused, 'STATE', 'refusal');
  }),
  rule('refuses a mask whose complement does not agree, and drives nothing', () => {
    const { bench, table } = armed();
    const good = bench.setting(100, table);
    equal(
      bench.ask('set', { ...good, complementMask: good.complementMask ^ 4 }).refused,
      'COMPLEMENT',
      'refusal',
    );
    isTrue(bench.isOutputOpen, 'open');
  }),
  rule('refuses a resistance that its own table does not make of those contacts', () => {
    const { bench, table } = armed();
    const good = bench.setting(100, table);
    const wrong = { ...good, resistanceMilliohm: good.resistanceMilliohm + 2 };
    const refused = bench.ask('set', wrong);
    equal([refused.refused, refused.detail], ['SUM_DISAGREES', good.resistanceMilliohm], 'refusal');
    isTrue(bench.isOutputOpen, 'open');
  }),
  rule('refuses a setting with the output bit clear, and one below what it can bear', () => {
    const { bench, table } = armed();
    const good = bench.setting(100, table);
    const open = good.contactMask & 0x7fff;
    const fields = { ...good, contactMask: open, complementMask: ~open & 0xffff };
    equal(bench.ask('set', fields).refused, 'OUTPUT_BIT', 'output bit');
    const shorted = {
      ...good,
      contactMask: contactBits.allMask,
      complementMask: ~contactBits.allMask & 0xffff,
      resistanceMilliohm: table[RESIDUAL_ROW]!,
    };
    equal(bench.ask('set', shorted).refused, 'FLOOR', 'everything shorted');
  }),
  rule('refuses limits looser than its own and tells them', () => {
    const bench = new Bench();
    bench.hello();
    const refused = bench.arm('electronic', { currentLimitMilliamp: 51 });
    equal([refused.refused, refused.detail], ['LIMIT_LOOSER', 50], 'current');
    equal(bench.arm('thermal', { floorMilliohm: 1000 }).refused, 'LIMIT_LOOSER', 'floor');
  }),
  rule('refuses a lease longer than the one armed with', () => {
    const bench = new Bench();
    bench.hello();
    const table = bench.table();
    bench.arm('thermal', { leaseMs: 1000 });
    equal(bench.ask('set', bench.setting(100, table, 1500)).refused, 'LEASE', 'refusal');
  }),
  rule('opens at once when told to, from any state', () => {
    const bench = Bench.driving(50);
    equal(bench.ask('open', { channel: 0 }).state, states.safe, 'state');
    bench.box.advance(10);
    isTrue(bench.isOutputOpen, 'open');
    equal(bench.set(50, bench.table()).refused, 'STATE', 'the job is gone');
  }),
  rule('goes down in halves only with an unknown gauge, starting high', () => {
    const bench = new Bench({ gauge: 'two-coil-fuel' });
    bench.hello();
    const table = bench.table();
    bench.arm('unknown');
    equal(bench.set(500, table).refused, 'RAMP', 'too low at first');
    equal(bench.set(2100, table).refused, undefined, 'high enough');
    bench.live(200);
    equal(bench.set(900, table).refused, 'RAMP', 'less than half');
    equal(bench.set(1100, table).refused, undefined, 'half');
  }),
  rule('takes no step down with an unknown gauge before the last one has come to rest', () => {
    const bench = new Bench({ gauge: 'two-coil-fuel' });
    const { settings } = bench.box.world.vehicle;
    settings.isIgnitionOn = false;
    bench.hello();
    const table = bench.table();
    bench.arm('unknown');
    bench.set(2100, table);
    settings.isIgnitionOn = true;
    const { milliohm: madeMilliohm } = bench.maskFor(2100, table);
    for (let ms = 0; ms < 1000 && (bench.box.world.commandedMask & 0x4000) === 0; ms += 1)
      bench.box.advance(1);
    const refused = bench.set(1500, table);
    equal([refused.refused, refused.detail], ['RAMP', madeMilliohm], 'still on its way');
    bench.live(300);
    equal(bench.set(1500, table).refused, undefined, 'at rest');
  }),
  rule(
    'keeps the limiter in while nothing is fed, says so, and takes it out when current proves the setting',
    () => {
      const bench = new Bench({ gauge: 'two-coil-fuel' });
      bench.box.world.vehicle.settings.isIgnitionOn = false;
      bench.hello();
      const table = bench.table();
      bench.arm('magnetic');
      const asked = bench.setting(60, table);
      const made = bench.ask('set', asked);
      equal((made.contactMask ?? 0) & 0x4000, 0, 'limiter in');
      near(made.madeMilliohm, asked.resistanceMilliohm + table[LIMITER_ROW]!, {
        by: 1,
        what: 'made includes the limiter',
      });
      isTrue(hasMeterFlag(bench.beat().meterFlags ?? 0, 'limiterInPath'), 'flag');
      bench.box.world.vehicle.settings.isIgnitionOn = true;
      const beat = bench.live(300);
      equal(beat.madeMilliohm, asked.resistanceMilliohm, 'limiter out after the proof');
    },
  ),
  rule('refuses a setting that would carry too much, before it is made', () => {
    const tight = new Bench({ gauge: 'two-coil-fuel' });
    tight.hello();
    const table = tight.table();
    tight.arm('magnetic', { currentLimitMilliamp: 100 });
    tight.box.advance(200);
    // 13.5 V over 90 ohm carries 140 mA into a short of the node; 12 ohm carries 118 mA, above the tightened limit.
    const refused = tight.set(12, table);
    equal(refused.refused, 'PREDICTED_CURRENT', 'refusal');
    near(refused.detail, 118, { by: 15, what: 'predicted milliamps' });
    tight.box.advance(20);
    isTrue(tight.isOutputOpen, 'open');
    equal(tight.state(), 'armed', 'the job is kept');
    equal(tight.set(60, table).refused, undefined, 'a higher one is made');
  }),
  rule('refuses to arm when the calibration has expired, and says by how many days', () => {
    const bench = new Bench();
    const hostDay = TODAY - 30 + 365 + 12;
    bench.ask('hello', { protocolMajorMin: 1, protocolMajorMax: 1, hostNonce: 1, hostDay });
    const refused = bench.arm();
    equal([refused.refused, refused.detail], ['CALIBRATION_EXPIRED', 12], 'refusal');
  }),
  rule('arms on the last day of its calibration, and not on the day after', () => {
    const lastDay = TODAY - 30 + 365;
    const greetedOn = (hostDay: number): Bench => {
      const bench = new Bench();
      bench.ask('hello', { protocolMajorMin: 1, protocolMajorMax: 1, hostNonce: 1, hostDay });
      return bench;
    };
    equal(greetedOn(lastDay).arm().state, states.armed, 'last day');
    const refused = greetedOn(lastDay + 1).arm();
    equal([refused.refused, refused.detail], ['CALIBRATION_EXPIRED', 1], 'the day after');
  }),
  rule('refuses to arm without a good element table', () => {
    const bench = new Bench({ isUncalibrated: true });
    bench.hello();
    equal([bench.arm().refused, bench.arm().detail], ['CALIBRATION_INVALID', 0], 'refusal');
  }),
];
