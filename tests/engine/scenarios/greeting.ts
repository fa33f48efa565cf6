import { elements } from '../../../firmware-ts/board/reference-design';
import { capabilities, jobKinds, states } from '../../../protocol';
import { Bench, TODAY } from '../bench';
import { equal, isTrue, rule } from '../check';

export const greeting = [
  rule('refuses everything before the greeting, and says so', () => {
    const bench = new Bench();
    for (const outcome of [
      bench.beat(),
      bench.ask('open', { channel: 0 }),
      bench.ask('element', { index: 0 }),
    ]) {
      equal(outcome.refused, 'GREETING_FIRST', 'refusal');
    }
  }),
  rule('answers the greeting with nonce, limits, calibration, and that it is simulated', () => {
    const bench = new Bench();
    const hello = bench.hello(12345);
    equal(hello.hostNonce, 12345, 'host nonce');
    equal(hello.state, states.safe, 'state');
    equal(hello.elementCount, elements.length, 'elements');
    equal(hello.calibrationDay, TODAY - 30, 'calibration day');
    isTrue(((hello.capabilities ?? 0) & capabilities.simulated) !== 0, 'the simulated bit');
  }),
  rule('arms nothing for a host of another protocol major, and says which it speaks', () => {
    const bench = new Bench();
    const fields = { protocolMajorMin: 2, protocolMajorMax: 3, hostNonce: 1, hostDay: TODAY };
    equal(bench.ask('hello', fields).protocolMajor, 1, 'its own major');
    const refused = bench.ask('jobLimits', { channel: 0, jobKind: jobKinds.thermal });
    equal([refused.refused, refused.detail], ['PROTOCOL_VERSION', 1], 'refusal');
  }),
  rule('changes its boot nonce at every restart, and wants to be greeted again', () => {
    const bench = new Bench();
    const before = bench.hello().bootNonce;
    bench.box.restart('power');
    equal(bench.beat().refused, 'GREETING_FIRST', 'after the restart');
    isTrue(bench.hello().bootNonce !== before, 'a new nonce');
  }),
  rule('opens the output when a host greets anew', () => {
    const bench = Bench.driving(50);
    isTrue(!bench.isOutputOpen, 'driving');
    equal(bench.hello(2).state, states.safe, 'state in the greeting');
    bench.box.advance(20);
    isTrue(bench.isOutputOpen, 'output open');
  }),
  rule('keeps driving when the same host repeats its greeting', () => {
    const bench = Bench.driving(50);
    equal(bench.hello(1).state, states.driving, 'state in the greeting');
  }),
  rule('refuses a channel and a row it does not have', () => {
    const bench = new Bench();
    bench.hello();
    equal(bench.ask('heartbeat', { channel: 1 }).refused, 'CHANNEL', 'channel');
    equal(bench.ask('element', { index: 16 }).refused, 'INDEX', 'row');
  }),
  rule('boots and names the trouble when a converter never answers', () => {
    for (const which of [0, 1] as const) {
      const bench = new Bench({ isPoweredOff: true });
      bench.box.world.converters[which].isHung = true;
      bench.box.powerOn();
      equal(bench.hello().refused, undefined, 'greets');
      equal(bench.state(), 'safe', 'state');
      const { refused, detail } = bench.arm();
      equal([refused, detail], ['SELF_TEST', 3], 'the step that reads the meter');
    }
  }),
];
