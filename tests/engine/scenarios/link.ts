import { Bench } from '../bench';
import { equal, isTrue, rule } from '../check';

export const link = [
  rule('answers a repeated frame with the same bytes and acts once', () => {
    const bench = Bench.driving(50);
    const table = bench.table();
    const frame = bench.frame('set', bench.setting(70, table));
    const made = bench.deliver(frame);
    const heardBefore = bench.heard.length;
    const maskBefore = bench.box.world.commandedMask;
    bench.set(90, table);
    equal(bench.deliver(frame).refused, 'silent', 'an overtaken set is not acted on again');
    isTrue(bench.box.world.commandedMask !== maskBefore, 'the later set stands');
    isTrue(heardBefore > 0 && made.refused === undefined, 'it was made once');
  }),
  rule('does not act on a frame from before, however far back, and acts on one from ahead', () => {
    const bench = Bench.driving(50);
    const limits = { channel: 0, jobKind: 1 };
    const last = bench.frame('jobLimits', limits);
    bench.deliver(last);
    const sent = (ahead: number): number => {
      const before = bench.heard.length;
      bench.box.receive(bench.frame('open', { channel: 0 }, (bench.sequence + ahead) & 0xff));
      bench.box.advance(100);
      return bench.heard.length - before;
    };
    for (const behind of [1, 40, 100, 127, 128]) equal(sent(-behind), 0, `${behind} behind`);
    isTrue(!bench.isOutputOpen, 'still driven');
    equal(sent(127), 1, 'ahead');
    isTrue(bench.isOutputOpen, 'opened');
  }),
  rule('repeats its last answer to a retry, byte for byte', () => {
    const bench = new Bench();
    bench.hello();
    const frame = bench.frame('element', { index: 3 });
    bench.deliver(frame);
    const first = [...bench.heard[bench.heard.length - 1]!];
    bench.deliver(frame);
    equal([...bench.heard[bench.heard.length - 1]!], first, 'same bytes');
  }),
  rule('answers a greeting of a new host that happens to use the same sequence', () => {
    const bench = new Bench();
    const hello = (hostNonce: number) =>
      bench.frame('hello', { protocolMajorMin: 1, protocolMajorMax: 1, hostNonce, hostDay: 20_000 }, 0);
    bench.box.receive(hello(1));
    bench.box.advance(100);
    bench.box.receive(hello(2));
    bench.box.advance(100);
    const [first, second] = bench.heard.map((bytes) => [...bytes].join());
    isTrue(bench.heard.length === 2 && first !== second, 'two different answers');
  }),
  rule('ignores garbage and goes on', () => {
    const bench = new Bench();
    bench.hello();
    bench.box.receive(Uint8Array.from({ length: 300 }, (_, index) => (index * 37) & 0xff));
    bench.box.advance(50);
    bench.box.receive(Uint8Array.of(0));
    equal(bench.beat().refused, undefined, 'still answers');
  }),
  rule('refuses a message with a field out of range and names its place', () => {
    const bench = new Bench();
    bench.hello();
    equal(bench.ask('jobLimits', { channel: 0, jobKind: 4 }).refused, undefined, 'in range');
    // jobKind 5 cannot be encoded by an honest host, so the frame is made from another message of the same shape.
    const refused = bench.deliver(bench.frame('calibrateElement', { channel: 0, index: 200 }));
    equal(refused.refused, 'INDEX', 'row');
  }),
  rule('answers before the relays of another request have come to rest only with open, which wins', () => {
    const bench = Bench.driving(50);
    const table = bench.table();
    bench.box.receive(bench.frame('set', bench.setting(200, table)));
    bench.box.advance(10);
    equal(bench.ask('open', { channel: 0 }).state, 0, 'safe');
    bench.box.advance(30);
    isTrue(bench.isOutputOpen, 'open');
    bench.box.advance(500);
    isTrue(bench.isOutputOpen, 'stays open');
  }),
];
