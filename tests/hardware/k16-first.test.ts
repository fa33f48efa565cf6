import { describe, expect, it } from 'vitest';
import { COMMON, pathParts } from '../../firmware-ts/board/netlist';
import { chainHold, limits, outputRelay, relay } from '../../firmware-ts/board/reference-design';
import { Network } from '../../firmware-ts/board/simulated/network';
import { holdMs, holdVolt, reservoirHoldMs } from '../../hardware-notes/calculations/chain-hold';
import { runSupplies, type SupplyStory } from '../../hardware-notes/calculations/coil-supplies';
import frozen from '../vectors/coil-supplies-ngspice.json';

const ALIVE_ENDS_MS = 2;
const UNTIL_MS = 30;
const steady: SupplyStory = {
  supplyVolt: 5,
  supplyGoneMs: Infinity,
  aliveEndsMs: ALIVE_ENDS_MS,
  holdMs: holdMs(0, 0, 0),
  capacitorError: 0,
};
const shortest = holdMs(-0.1, -0.01, -0.05);
const longest = holdMs(0.1, 0.01, 0.05);
const sunkVolt = (chainHold.undervoltMillivolt / 1000) * (1 - chainHold.undervoltTolerancePercent / 100);

/** Every way in which ALIVE ends: edges stop or a trip (the supply stays), a supply that goes at once or after sinking. */
const stories: readonly (readonly [string, SupplyStory])[] = [
  ['a trip, or edges that stop', steady],
  ['the same, shortest one-shot', { ...steady, holdMs: shortest }],
  ['the same, longest one-shot', { ...steady, holdMs: longest }],
  ['a supply cable that is pulled', { ...steady, supplyGoneMs: 1.6 }],
  [
    'the same, longest one-shot, small reservoir',
    { ...steady, supplyGoneMs: 1.6, holdMs: longest, capacitorError: -0.2 },
  ],
  [
    'a supply that sinks slowly to the supervisor and then goes',
    { ...steady, supplyVolt: sunkVolt + 0.08, supplyGoneMs: 1.9, holdMs: longest, capacitorError: -0.2 },
  ],
  [
    'the same, large reservoir, shortest one-shot',
    { ...steady, supplyVolt: sunkVolt + 0.08, supplyGoneMs: 1.9, holdMs: shortest, capacitorError: 0.2 },
  ],
];

/** When the chain's supply falls below what holds its coils, ms after ALIVE ended. */
function chainFallsMs(story: SupplyStory): number {
  const below = runSupplies(story, UNTIL_MS).find(({ ms, chainVolt }) => ms > 1 && chainVolt < holdVolt);
  return (below?.ms ?? Infinity) - story.aliveEndsMs;
}

describe.each(stories)('after %s', (_, story) => {
  it('the chain’s coil supply falls 8 to 20 ms after K16’s', () => {
    const fallsMs = chainFallsMs(story);
    expect(fallsMs).toBeGreaterThanOrEqual(chainHold.minMs);
    expect(fallsMs).toBeLessThanOrEqual(chainHold.maxMs);
    expect(fallsMs).toBeLessThan(chainHold.latestMs);
  });

  it('the slowest K16 is open before the fastest relay of the chain', () => {
    expect(chainFallsMs(story) + relay.releaseMinMs).toBeGreaterThan(outputRelay.releaseMaxMs);
  });

  it('K16’s coil current is gone long before its contact must be open', () => {
    const atMs = story.aliveEndsMs + 2;
    const sample = runSupplies(story, atMs + 1).find(({ ms }) => ms >= atMs);
    expect(sample?.outputAmp ?? NaN).toBeLessThan(0.001);
  });
});

/** Current from a stiff feed through the path, A, with contacts closed or open. */
function pathAmp(isOutputClosed: boolean, isBypassed: (name: string) => boolean): number {
  const network = new Network().source('SENDER', COMMON, {
    volt: limits.supplyMaxMillivolt / 1000,
    ohm: 0.05,
  });
  for (const { name, from, to, value } of pathParts)
    if (name !== 'F4') network.resistor(from, to, isBypassed(name) ? 0.0125 : value);
  network.resistor('FUSED', 'BEHIND-K16', isOutputClosed ? 0.025 : 1e12);
  return network.solve()('SHUNT+') / 0.5;
}

const onlyR3In = (name: string): boolean => /^R\d+$/.test(name) && name !== 'R16' && name !== 'R3';

describe('a gauge that shorts on a stiff feed', () => {
  it('drives more through the chain than its contacts may break, as long as K16 is closed', () => {
    expect(pathAmp(true, onlyR3In)).toBeGreaterThan(relay.contactMaxMilliamp / 1000);
    expect(pathAmp(true, onlyR3In)).toBeLessThan(outputRelay.contactMaxMilliamp / 1000);
  });

  it('leaves nothing to break for them once K16 is open', () => {
    expect(pathAmp(false, onlyR3In)).toBeLessThan(1e-6);
  });

  it('meets 6.4 kohm at the latest 30 ms and a release later even with K16 welded', () => {
    const volt = limits.supplyMaxMillivolt / 1000;
    expect(volt / pathAmp(true, () => false)).toBeCloseTo(6449, 0);
    for (const [name, story] of stories)
      expect(chainFallsMs(story) + relay.releaseMaxMs, name).toBeLessThan(
        chainHold.latestMs + relay.releaseMaxMs,
      );
  });

  it('would be broken by the chain first if both supplies ended together, as they once did', () => {
    const together = chainFallsMs({ ...steady, holdMs: 0 });
    expect(together + relay.releaseMinMs).toBeLessThan(outputRelay.releaseMaxMs);
  });
});

describe('the nodal simulation of the coil supplies', () => {
  // Frozen curves of ngspice, with the deck they came from; its diodes are exponential, ours have a knee.
  const runs: readonly (readonly [keyof typeof frozen.runs, SupplyStory])[] = [
    ['trip', steady],
    ['collapse', { ...steady, supplyGoneMs: 1.6 }],
    [
      'sunkThenCollapse',
      { ...steady, supplyVolt: 4.345, supplyGoneMs: 1.9, holdMs: 14.2, capacitorError: -0.2 },
    ],
  ];

  it.each(runs)('agrees with ngspice within 0.15 V and 16 mA of the coils’ current: %s', (name, story) => {
    const samples = runSupplies(story, UNTIL_MS);
    const { rows } = frozen.runs[name];
    expect(rows).toHaveLength(13);
    for (const [ms = NaN, heldVolt = NaN, chainVolt = NaN, , chainMilliamp = NaN] of rows) {
      const ours = samples.find((sample) => sample.ms >= ALIVE_ENDS_MS + ms + 0.02);
      expect(Math.abs((ours?.heldVolt ?? NaN) - heldVolt), `held, ${ms} ms`).toBeLessThan(0.15);
      expect(Math.abs(1000 * (ours?.chainAmp ?? NaN) - chainMilliamp), `coils, ${ms} ms`).toBeLessThan(16);
      // A rail that is cut off hangs in the air: its voltage is of no matter, its coils' current is.
      if (ms > story.holdMs) continue;
      expect(Math.abs((ours?.chainVolt ?? NaN) - chainVolt), `chain, ${ms} ms`).toBeLessThan(0.15);
    }
  });

  it('agrees with the closed form of the reservoir that the notes state', () => {
    const fallsMs = chainFallsMs({
      ...steady,
      supplyVolt: sunkVolt + 0.08,
      supplyGoneMs: ALIVE_ENDS_MS,
      holdMs: 100,
      capacitorError: -0.2,
    });
    expect(Math.abs(fallsMs - reservoirHoldMs(-0.2, -0.025))).toBeLessThan(2.5);
  });
});
