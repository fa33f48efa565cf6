import { describe, expect, it } from 'vitest';
import { next } from '../../../firmware-ts/box/state';
import type { BoxEvent, BoxState, Latched } from '../../../firmware-ts/box/state';
import { jobLimits, tightened } from '../../../firmware-ts/guard/job-limits';
import { jobKinds } from '../../../protocol';

const job = { kind: 'thermal', limits: jobLimits.thermal } as const;
const latched: Latched = { fault: 'CURRENT_HIGH', measured: 400, limit: 300, boxMs: 1 };
const welded: Latched = { fault: 'OUTPUT_WELDED', measured: 900, limit: 500, boxMs: 2 };

const states: readonly BoxState[] = [
  { name: 'safe' },
  { name: 'armed', job },
  { name: 'driving', job },
  { name: 'tripped', latched },
];
const events: readonly BoxEvent[] = [
  { name: 'armed', job },
  { name: 'driven' },
  { name: 'opened' },
  { name: 'fault', latched },
  { name: 'cleared' },
];

/** Every pair, written down by hand: what the wire specification says. */
const wanted: Readonly<Record<BoxState['name'], Readonly<Record<BoxEvent['name'], BoxState['name']>>>> = {
  safe: { armed: 'armed', driven: 'safe', opened: 'safe', fault: 'tripped', cleared: 'safe' },
  armed: { armed: 'armed', driven: 'driving', opened: 'safe', fault: 'tripped', cleared: 'armed' },
  driving: { armed: 'driving', driven: 'driving', opened: 'safe', fault: 'tripped', cleared: 'driving' },
  tripped: { armed: 'tripped', driven: 'tripped', opened: 'tripped', fault: 'tripped', cleared: 'safe' },
};

describe('the state machine', () => {
  it('does for every state and event what the specification says', () => {
    let pairs = 0;
    for (const state of states) {
      for (const event of events) {
        expect(next(state, event).name, `${state.name} + ${event.name}`).toBe(wanted[state.name][event.name]);
        pairs += 1;
      }
    }
    expect(pairs).toBe(20);
  });

  it('keeps the first fault, but lets a welded output take its place', () => {
    const tripped = next({ name: 'safe' }, { name: 'fault', latched });
    const later = next(tripped, { name: 'fault', latched: { ...latched, fault: 'DEAD_MAN' } });
    expect(later).toEqual(tripped);
    expect(next(tripped, { name: 'fault', latched: welded })).toEqual({ name: 'tripped', latched: welded });
    expect(next({ name: 'tripped', latched: welded }, { name: 'fault', latched })).toEqual({
      name: 'tripped',
      latched: welded,
    });
  });
});

describe('limits at arming', () => {
  const own = jobLimits.thermal;
  const { rampPermille: _rampPermille, ...same } = { ...own, channel: 0, jobKind: jobKinds.thermal };

  it("take the box's own and anything tighter", () => {
    expect(tightened(own, same).kind).toBe('limits');
    expect(tightened(own, { ...same, currentLimitMilliamp: 100, floorMilliohm: 20_000 }).kind).toBe('limits');
  });

  it('refuse anything looser, and NaN', () => {
    const looser = [
      { currentLimitMilliamp: own.currentLimitMilliamp + 1 },
      { elementPowerLimitMilliwatt: own.elementPowerLimitMilliwatt + 1 },
      { totalPowerLimitMilliwatt: own.totalPowerLimitMilliwatt + 1 },
      { supplyLimitMillivolt: own.supplyLimitMillivolt + 1 },
      { floorTimeMs: own.floorTimeMs + 1 },
      { leaseMs: own.leaseMs + 1 },
      { floorMilliohm: own.floorMilliohm - 1 },
      { currentLimitMilliamp: NaN },
      { floorMilliohm: NaN },
    ];
    for (const change of looser)
      expect(tightened(own, { ...same, ...change }).kind, JSON.stringify(change)).toBe('too-loose');
  });

  it("hear of the own sender in a fuel job only, and loosen nothing but one sample's peak by it", () => {
    const said = { ...same, originalLeastMilliohm: 10_000 };
    for (const kind of ['thermal', 'magnetic', 'electronic', 'unknown', 'fuel'] as const) {
      const limited = tightened(jobLimits[kind], {
        ...said,
        ...jobLimits[kind],
        originalLeastMilliohm: 10_000,
      });
      const isFuel = kind === 'fuel';
      const expected = isFuel
        ? { peakLimitMilliamp: 800, originalLeastMilliohm: 10_000 }
        : { originalLeastMilliohm: 0 };
      expect(limited, kind).toMatchObject({ kind: 'limits', limits: expected });
      if (!isFuel && kind !== 'thermal')
        expect(limited).toMatchObject({
          limits: { peakLimitMilliamp: jobLimits[kind].currentLimitMilliamp },
        });
    }
  });

  it('keep a fuel job at its quarter of an ampere for a word that is none', () => {
    for (const originalLeastMilliohm of [0, NaN, -1]) {
      const limited = tightened(jobLimits.fuel, { ...same, ...jobLimits.fuel, originalLeastMilliohm });
      if (limited.kind === 'limits') expect(limited.limits.peakLimitMilliamp).toBe(250);
    }
    for (const short of [1, 7_499])
      expect(tightened(jobLimits.fuel, { ...same, ...jobLimits.fuel, originalLeastMilliohm: short })).toEqual(
        { kind: 'too-loose', allowed: 7_500 },
      );
  });

  it('allow an unknown gauge no more than half the current, and steps of half', () => {
    expect(jobLimits.unknown).toMatchObject({ currentLimitMilliamp: 150, rampPermille: 500 });
    expect(jobLimits.fuel.currentLimitMilliamp).toBeLessThanOrEqual(250);
  });
});
