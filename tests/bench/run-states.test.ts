import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  nextRun,
  RESTING,
  waitingIn,
  type Deed,
  type RunEvent,
  type RunState,
  type StepShown,
} from '../../host/bench/sweep/run-states';

const moving = { kind: 'moving', stepId: 's1' } as const;
const settling = { kind: 'settling', stepId: 's1', sinceMs: 5, settleMs: 60_000, why: 'thermal' } as const;
const answer = { kind: 'answer', stepId: 's1', wants: 'reading', sinceMs: 9, restingSinceMs: 7 } as const;

const states = {
  resting: RESTING,
  advancing: { name: 'advancing', key: 'a' },
  moving: { name: 'moving', key: 'a', shows: moving },
  settling: { name: 'settling', key: 'a', shows: settling },
  asking: { name: 'asking', key: 'a', shows: answer },
} as const satisfies Record<string, RunState>;

const events = {
  'allowed, nothing due': { kind: 'allowed', due: { kind: 'nothing' } },
  'allowed, the same due': { kind: 'allowed', due: { kind: 'step', key: 'a', stepId: 's1' } },
  'allowed, another step due': { kind: 'allowed', due: { kind: 'step', key: 'b', stepId: 's2' } },
  'allowed, all steps read': { kind: 'allowed', due: { kind: 'what-follows', key: 'w' } },
  'journal, nothing due': { kind: 'journal', due: { kind: 'nothing' } },
  'journal, the same due': { kind: 'journal', due: { kind: 'step', key: 'a', stepId: 's1' } },
  'journal, another step due': { kind: 'journal', due: { kind: 'step', key: 'b', stepId: 's2' } },
  'journal, all steps read': { kind: 'journal', due: { kind: 'what-follows', key: 'w' } },
  'shown: moving': { kind: 'shown', key: 'a', shows: moving },
  'shown: settling': { kind: 'shown', key: 'a', shows: settling },
  'shown: answer': { kind: 'shown', key: 'a', shows: answer },
  'shown by a step called off': { kind: 'shown', key: 'old', shows: answer },
  stopped: { kind: 'stopped' },
  'box opened': { kind: 'box-opened' },
} as const satisfies Record<string, RunEvent>;

const STOPPED = 'resting: end-watch call-off open';
const ENDED = 'resting: end-watch call-off open-if-used';
const BY_BOX = 'resting: end-watch call-off forget-output';

/** Every pair of state and event, written by hand: the state after it, and what is done on the way, in order. */
const table: Readonly<Record<keyof typeof states, Readonly<Record<keyof typeof events, string>>>> = {
  resting: {
    'allowed, nothing due': ENDED,
    'allowed, the same due': 'moving: watch-for-stalls begin-a',
    'allowed, another step due': 'moving: watch-for-stalls begin-b',
    'allowed, all steps read': 'advancing: watch-for-stalls ask-what-follows',
    'journal, nothing due': ENDED,
    'journal, the same due': ENDED,
    'journal, another step due': ENDED,
    'journal, all steps read': ENDED,
    'shown: moving': 'resting:',
    'shown: settling': 'resting:',
    'shown: answer': 'resting:',
    'shown by a step called off': 'resting:',
    stopped: STOPPED,
    'box opened': BY_BOX,
  },
  advancing: {
    'allowed, nothing due': ENDED,
    'allowed, the same due': 'advancing:',
    'allowed, another step due': 'moving: call-off begin-b',
    'allowed, all steps read': 'advancing: call-off ask-what-follows',
    'journal, nothing due': ENDED,
    'journal, the same due': 'advancing:',
    'journal, another step due': 'moving: call-off begin-b',
    'journal, all steps read': 'advancing: call-off ask-what-follows',
    'shown: moving': 'advancing:',
    'shown: settling': 'advancing:',
    'shown: answer': 'advancing:',
    'shown by a step called off': 'advancing:',
    stopped: STOPPED,
    'box opened': BY_BOX,
  },
  moving: {
    'allowed, nothing due': ENDED,
    'allowed, the same due': 'moving:',
    'allowed, another step due': 'moving: call-off begin-b',
    'allowed, all steps read': 'advancing: call-off ask-what-follows',
    'journal, nothing due': ENDED,
    'journal, the same due': 'moving:',
    'journal, another step due': 'moving: call-off begin-b',
    'journal, all steps read': 'advancing: call-off ask-what-follows',
    'shown: moving': 'moving:',
    'shown: settling': 'settling:',
    'shown: answer': 'asking:',
    'shown by a step called off': 'moving:',
    stopped: STOPPED,
    'box opened': BY_BOX,
  },
  settling: {
    'allowed, nothing due': ENDED,
    'allowed, the same due': 'settling:',
    'allowed, another step due': 'moving: call-off begin-b',
    'allowed, all steps read': 'advancing: call-off ask-what-follows',
    'journal, nothing due': ENDED,
    'journal, the same due': 'settling:',
    'journal, another step due': 'moving: call-off begin-b',
    'journal, all steps read': 'advancing: call-off ask-what-follows',
    'shown: moving': 'moving:',
    'shown: settling': 'settling:',
    'shown: answer': 'asking:',
    'shown by a step called off': 'settling:',
    stopped: STOPPED,
    'box opened': BY_BOX,
  },
  asking: {
    'allowed, nothing due': ENDED,
    'allowed, the same due': 'asking:',
    'allowed, another step due': 'moving: call-off begin-b',
    'allowed, all steps read': 'advancing: call-off ask-what-follows',
    'journal, nothing due': ENDED,
    'journal, the same due': 'asking:',
    'journal, another step due': 'moving: call-off begin-b',
    'journal, all steps read': 'advancing: call-off ask-what-follows',
    'shown: moving': 'asking:',
    'shown: settling': 'asking:',
    'shown: answer': 'asking:',
    'shown by a step called off': 'asking:',
    stopped: STOPPED,
    'box opened': BY_BOX,
  },
};

const words = (deed: Deed): string => (typeof deed === 'string' ? deed : `begin-${deed.begin}`);

const pairs = Object.entries(table).flatMap(([state, row]) =>
  Object.entries(row).map(([event, expected]) => ({ state, event, expected })),
);

const named = <Value>(all: Readonly<Record<string, Value>>, name: string): Value => {
  const value = all[name];
  if (value === undefined) throw new Error(`no ${name}`);
  return value;
};

describe('the states of a sweep', () => {
  it('are checked in every pair of state and event', () => {
    expect(pairs.length).toBe(Object.keys(states).length * Object.keys(events).length);
  });

  it.each(pairs)('$state + $event -> $expected', ({ state, event, expected }) => {
    const turn = nextRun(named<RunState>(states, state), named<RunEvent>(events, event));
    expect(`${turn.state.name}: ${turn.deeds.map(words).join(' ')}`.trim()).toBe(expected);
  });

  it('shows a reason that the journal cannot keep until the journal can be written again', () => {
    const stopped = nextRun(states.asking, { kind: 'stopped', reason: 'the disk is full' }).state;
    expect(waitingIn(stopped)).toEqual({ kind: 'person', reason: 'the disk is full' });
    const later = nextRun(stopped, { kind: 'journal', due: { kind: 'nothing' } }).state;
    expect(waitingIn(later)).toEqual({ kind: 'nothing' });
  });

  it('shows a person what the step itself shows', () => {
    const shows: StepShown[] = [moving, settling, answer];
    expect([states.moving, states.settling, states.asking].map(waitingIn)).toEqual(shows);
    expect(waitingIn(states.advancing)).toEqual({ kind: 'nothing' });
  });
});

/** What hangs on the deeds, kept by a bookkeeper who knows nothing of the states: steps that drive, and who allowed it. */
class Bookkeeper {
  underWay = 0;
  mayDrive = false;
  isUsed = false;
  faults: string[] = [];

  book(event: RunEvent, deeds: readonly Deed[]): void {
    if (event.kind === 'allowed') this.mayDrive = true;
    for (const deed of deeds) this.#take(deed);
    const mustBeOpen = event.kind === 'stopped' || event.kind === 'box-opened';
    if (mustBeOpen) this.mayDrive = false;
    if (mustBeOpen && this.isUsed) this.faults.push(`${event.kind} leaves the output made`);
    if (mustBeOpen && this.underWay > 0) this.faults.push(`${event.kind} leaves a step under way`);
    const isOver = event.kind === 'journal' && event.due.kind === 'nothing';
    if (isOver && (this.isUsed || this.underWay > 0)) this.faults.push('no sweep runs, and something drives');
  }

  #take(deed: Deed): void {
    if (deed === 'call-off') this.underWay = 0;
    if (deed === 'open' || deed === 'open-if-used' || deed === 'forget-output') this.isUsed = false;
    if (typeof deed !== 'object') return;
    if (!this.mayDrive) this.faults.push('driven without a person');
    if (this.underWay > 0) this.faults.push('two steps at once');
    this.underWay += 1;
    this.isUsed = true;
  }
}

describe('whatever happens in whatever order', () => {
  it('drives one step at a time, only after a start, and nothing after a stop, a trip or the end', () => {
    const anyEvents = fc.array(fc.constantFrom(...Object.values<RunEvent>(events)), { maxLength: 40 });
    fc.assert(
      fc.property(anyEvents, (told) => {
        const keeper = new Bookkeeper();
        let state: RunState = RESTING;
        for (const event of told) {
          const turn = nextRun(state, event);
          state = turn.state;
          keeper.book(event, turn.deeds);
          if (state.name === 'resting') keeper.mayDrive = false;
        }
        expect(keeper.faults).toEqual([]);
      }),
    );
  });
});
