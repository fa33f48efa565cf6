import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  leastRunMs,
  neighbourCell,
  neighbourVerdict,
  readingOrder,
  readInstead,
  suspectOf,
  type NeighbourCell,
  type Waiter,
  type Watched,
} from '../../../host/core/cluster';
import vectors from '../../vectors/cluster-circuit-ngspice.json';

const exact = (value: number) => ({ value, u: 1e-9 });

/** Case 1 to case 2 of ngspice: the neighbour goes from 500 to 40 ohm, 0.5 ohm in the feed; 2 to 3: the same in the ground. */
const seenIn = (rest: number, moved: number): Watched => {
  const [before, during] = [vectors.cases[rest]!, vectors.cases[moved]!];
  return {
    movedId: 'a',
    watchedId: 'b',
    before: exact(before.current_A[1]!),
    during: exact(during.current_A[1]!),
    after: exact(before.current_A[1]!),
    drawnAmp: exact(during.current_A[0]! - before.current_A[0]!),
    openVolt: 10,
    groundVolt: exact(during.ground_V - before.ground_V),
  };
};

describe('what one gauge does to another', () => {
  it('is found in percent of the deflection and in ohms, from currents of ngspice', () => {
    const cell = neighbourCell(seenIn(0, 1), { law: 'square', driveOverSpan: 1 });
    // Twice 0.42 % of volts, and 0.5 ohm.
    expect(cell.percentOfArc).toBeCloseTo(-0.83, 2);
    expect(cell.commonOhm.value).toBeGreaterThan(0.49);
    expect(cell.commonOhm.value).toBeLessThan(0.51);
    expect(suspectOf([cell])?.where).toBe('feed');
  });

  it('goes in proportion in a moving coil, and not at all where a ratio is shown', () => {
    const square = neighbourCell(seenIn(0, 1), { law: 'square', driveOverSpan: 0.5 });
    const coil = neighbourCell(seenIn(0, 1), { law: 'proportional', driveOverSpan: 0.5 });
    expect(coil.percentOfArc).toBeCloseTo(square.percentOfArc / 2, 10);
    expect(neighbourCell(seenIn(0, 1), { law: 'ratio', driveOverSpan: 0.5 }).percentOfArc).toBeCloseTo(0, 12);
  });

  it('is the ground where the ground moves with it, and cannot be placed where nobody sees the ground', () => {
    const before = vectors.cases[0]!;
    const inGround = {
      ...seenIn(0, 2),
      groundVolt: exact(vectors.cases[2]!.ground_V - 0.5 * (before.current_A[0]! + before.current_A[1]!)),
    };
    const cell = neighbourCell(inGround, { law: 'square', driveOverSpan: 1 });
    expect(suspectOf([cell])?.where).toBe('ground');
    const { groundOhm: _, ...unseen } = cell;
    expect(suspectOf([unseen])?.where).toBe('cannot-tell');
  });

  it('has drift taken out: a feed that sags all the while is no neighbour', () => {
    const still = {
      ...seenIn(0, 0),
      before: exact(0.0856),
      during: exact(0.0855),
      after: exact(0.0854),
      drawnAmp: exact(0.08),
    };
    expect(neighbourCell(still, { law: 'square', driveOverSpan: 1 }).percentOfArc).toBeCloseTo(0, 9);
  });

  const cellOf = (percentOfArc: number, uPercent: number): NeighbourCell => ({
    movedId: 'a',
    watchedId: 'b',
    percentOfArc,
    uPercent,
    commonOhm: { value: 0.1, u: 0.2 },
  });
  it.each([
    [0.1, 0.02, 'none-seen'],
    [-0.3, 0.02, 'small'],
    [0.1, 0.1, 'small'],
    [0.1, 0.4, 'cannot-tell'],
    [-0.8, 0.02, 'too-large'],
  ])('of %s %% with a standard uncertainty of %s %% is %s', (percent, u, verdict) => {
    expect(neighbourVerdict([cellOf(0, 0), cellOf(percent, u)])).toBe(verdict);
  });

  it('suspects nothing where nothing is seen', () => {
    expect(suspectOf([cellOf(0.1, 0.1)])).toBeUndefined();
    expect(suspectOf([])).toBeUndefined();
  });
});

describe('the queue of ready needles', () => {
  const ready = (id: string, sinceMs: number): Waiter => ({ id, wants: 'reading', sinceMs });

  it('puts what must end first, then a short step that wants to begin, then whoever waits longest', () => {
    const waiters: Waiter[] = [
      ready('late', 30),
      { id: 'short', wants: 'short-step', sinceMs: 40 },
      ready('early', 10),
      { id: 'ending', wants: 'reading', sinceMs: 50, mustEndMs: 90 },
    ];
    expect(readingOrder(waiters).map(({ id }) => id)).toEqual(['ending', 'short', 'early', 'late']);
  });

  it('loses nobody and never depends on the order of asking', () => {
    const waiter = fc.record({
      id: fc.uuid(),
      wants: fc.constantFrom('reading' as const, 'short-step' as const),
      sinceMs: fc.nat(1000),
    });
    fc.assert(
      fc.property(fc.uniqueArray(waiter, { selector: ({ id }) => id }), (waiters) => {
        const ordered = readingOrder(waiters).map(({ id }) => id);
        expect(readingOrder([...waiters].reverse()).map(({ id }) => id)).toEqual(ordered);
        expect([...ordered].sort()).toEqual(waiters.map(({ id }) => id).sort());
      }),
    );
  });

  it('cannot be worked off quicker than the longest gauge or the one person', () => {
    const readings = ['a', 'a', 'b'].map((id) => ({ id, waitMs: 60_000, readMs: 6_000 }));
    expect(leastRunMs(readings, 4_000)).toBe(2 * 66_000);
    expect(
      leastRunMs(
        readings.map((each) => ({ ...each, waitMs: 0 })),
        4_000,
      ),
    ).toBe(3 * 6_000 + 4_000);
  });
});

describe('a reading that fits another gauge better', () => {
  const own = { middle: 0.3, half: 0.03 };
  const others = [
    { id: 'oil', band: { middle: 0.7, half: 0.05 } },
    { id: 'fuel', band: { middle: 0.72, half: 0.02 } },
  ];
  it('is doubted, and the nearest other gauge is named', () => {
    expect(readInstead(0.71, own, others)).toBe('oil');
    expect(readInstead(0.725, own, others)).toBe('fuel');
  });
  it('is not doubted where it fits its own, fits nobody, or nothing is known yet', () => {
    expect(readInstead(0.31, own, [{ id: 'oil', band: { middle: 0.31, half: 0.05 } }])).toBeUndefined();
    expect(readInstead(0.5, own, others)).toBeUndefined();
    expect(readInstead(0.7, undefined, others)).toBeUndefined();
  });
});
