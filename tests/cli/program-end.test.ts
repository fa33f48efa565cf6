import { describe, expect, it } from 'vitest';
import { ProgramEnd, type WatchedOutput } from '../../host/cli/program-end';
import type { OpenedForGood } from '../../host/link';
import { ManualClock, settled } from '../support/manual-clock';

type Bench = {
  readonly end: ProgramEnd;
  readonly clock: ManualClock;
  readonly err: string[];
  readonly exits: number[];
  isInterrupted: boolean;
};

function bench(...outputs: readonly WatchedOutput[]): Bench {
  const clock = new ManualClock();
  const err: string[] = [];
  const exits: number[] = [];
  const end = new ProgramEnd({ err: (line) => err.push(line), exit: (code) => exits.push(code), clock });
  for (const output of outputs) end.outputs.add(output);
  const made = { end, clock, err, exits, isInterrupted: false };
  void end.interrupted.then(() => (made.isInterrupted = true));
  return made;
}

const box = (title: string, outcome: OpenedForGood): WatchedOutput => ({
  title,
  openForGood: () => Promise.resolve(outcome),
});
const hung: WatchedOutput = { title: 'the hung box', openForGood: () => new Promise(() => undefined) };
const broken: WatchedOutput = { title: 'the broken box', openForGood: () => Promise.reject(new Error('no')) };

describe('the end of the program', () => {
  it('tells what each box answered, one that fails keeping no other from being opened, and then ends the work', async () => {
    const t = bench(broken, box('the first box', 'box-confirmed-open'), box('the second box', 'box-silent'));
    t.end.told(130);
    expect(t.isInterrupted).toBe(false);
    await settled();
    expect(t.isInterrupted).toBe(true);
    expect(t.exits).toEqual([]);
    expect(t.err.join('\n')).toContain('output open: the first box confirmed it');
    expect(t.err.join('\n')).toContain('NOT CONFIRMED: the second box did not answer');
    expect(t.err.join('\n')).toContain('NOT CONFIRMED: the broken box did not answer');
  });

  it('comes within five seconds though an output, or the work, never comes back', async () => {
    for (const output of [hung, box('the box', 'box-confirmed-open')]) {
      const t = bench(output);
      t.end.told(130);
      await t.clock.advance(4_400);
      expect(t.exits).toEqual([]);
      await t.clock.advance(600);
      expect(t.exits).toEqual([1]);
    }
  });

  it('is not hurried past the opening by being told again, and is hurried past all that follows', async () => {
    let opens = 0;
    let answer: (outcome: OpenedForGood) => void = () => undefined;
    const slow: WatchedOutput = {
      title: 'the box',
      openForGood: () => {
        opens += 1;
        return new Promise((resolve) => (answer = resolve));
      },
    };
    const t = bench(slow);
    t.end.told(130);
    t.end.told(130);
    t.end.told(143);
    expect(opens).toBe(1);
    expect(t.exits).toEqual([]);
    answer('box-confirmed-open');
    await settled();
    t.end.told(130);
    expect(t.exits).toEqual([130]);
  });

  it('is at once where no box can be driving', () => {
    const told = bench();
    told.end.told(130);
    expect(told.exits).toEqual([130]);
    const fault = bench();
    fault.end.fault(new Error('planted'));
    expect(fault.exits).toEqual([1]);
    expect(fault.err.join('\n')).toContain('planted');
  });

  it('after a fault is told as one, however well the rest ends', async () => {
    const t = bench(box('the box', 'box-confirmed-open'));
    t.end.fault('planted');
    await settled();
    expect(t.isInterrupted).toBe(true);
    expect(t.end.workEnded(0)).toBe(1);
    expect(t.exits).toEqual([1]);
  });

  it('is at once when the work had ended before nobody heard the program any more', async () => {
    const t = bench(box('the box', 'box-confirmed-open'));
    expect(t.end.workEnded(3)).toBe(3);
    expect(t.exits).toEqual([]);
    t.end.unheard();
    await settled();
    expect(t.exits).toEqual([3]);
  });

  it('in good order says of a box only what is no confirmation', async () => {
    const t = bench(box('the first box', 'box-confirmed-open'), box('the second box', 'box-silent'));
    await t.end.outputs.openAll('troubles');
    expect(t.err).toHaveLength(1);
    expect(t.err[0]).toContain('the second box did not answer');
  });
});
