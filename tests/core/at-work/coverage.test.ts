import { describe, expect, it } from 'vitest';
import { factorFound } from '../../../host/core/at-work';
import type { DissipationFactor } from '../../../host/core/at-work';
import { trim } from '../../../host/core/network';
import { randomSource } from '../../../host/core/numeric/random';
import { bathSender, dialOf, leadOf, originals, worldOf } from './originals';
import { feltWith, settled } from './world';
import type { World } from './world';

/** Dials of senders that shed 40 mW/K; the senders that are then screwed in shed what chance gives them. */
const dials = originals.map((original) => dialOf(worldOf(original, 0.04)));
const JOBS = 60;
const GAUGE_SPREAD = 0.3;
const SENDER_SPREAD = 0.004;

/** The reading of a world by the resistor that is felt alike. */
const shown = (world: World, reading: (ohm: number) => number, celsius: number): number => {
  const target = settled(world, celsius).felt;
  const falls = feltWith(world, 1000) < feltWith(world, 10);
  let [low, high] = [1, 20_000];
  for (let step = 0; step < 50; step += 1) {
    const middle = Math.sqrt(low * high);
    if (feltWith(world, middle) > target === falls) low = middle;
    else high = middle;
  }
  return reading(low);
};

/** Of all rows of the error tables, how many hold the error that the vehicle then has. */
const coverage = (known: (truth: number, normal: () => number) => DissipationFactor | undefined): number => {
  let held = 0;
  let rows = 0;
  for (let job = 0; job < JOBS; job += 1) {
    const random = randomSource(700 + job);
    const original = originals[job % originals.length]!;
    const dial = dials[job % originals.length]!;
    // From 10 to 70 mW/K evenly: a wider range than the figures of the trade, and not the interval that is assumed.
    const truth = 0.01 + 0.06 * random.uniform();
    const senderError = SENDER_SPREAD * random.normal();
    const gaugeError = GAUGE_SPREAD * random.normal();
    const isThree = original.world.gauge.groundOhm !== undefined;
    const dissipation = known(truth, random.normal);
    const found = trim(dial, bathSender(original.body), {
      ...{ from: 50, to: 112, samples: 13, trials: 10, topologies: ['none'], lead: leadOf(original.world) },
      ...{ terminals: isThree ? 3 : 2, ...(dissipation === undefined ? {} : { dissipation }) },
    });
    // A sender that sheds 10 mW/K may run away in a strong circuit: then nothing is computed, and that is right.
    if (found.kind === 'refused') continue;
    const world = worldOf(original, truth);
    const body = { ...world.body, ohmAt100: world.body.ohmAt100 * Math.exp(senderError) };
    const bare = found.candidates.find(({ topology }) => topology === 'none')!;
    for (const row of [bare.errorTable[2]!, bare.errorTable[7]!, bare.errorTable[11]!]) {
      const error = shown({ ...world, body }, dial.reading, row.trueValue) + gaugeError - row.trueValue;
      held += Math.abs(error - row.error) <= row.expandedUncertainty ? 1 : 0;
      rows += 1;
    }
  }
  expect(rows).toBeGreaterThan(2 * JOBS);
  return held / rows;
};

describe('the interval stated for a needle, with the sender\u2019s heat in it (GUM, a level of about 95 %)', () => {
  it('holds where nobody knows what the sender sheds', () => {
    expect(coverage(() => undefined)).toBeGreaterThan(0.93);
  });

  it('holds where it was measured with a tenth of uncertainty', () => {
    const measured = coverage((truth, normal) =>
      factorFound(Math.max(0.006, truth * (1 + 0.1 * normal())), 0.1 * truth, 'flowing'),
    );
    expect(measured).toBeGreaterThan(0.93);
  });

  it('holds where it was typed, an eighth wrong as the default says', () => {
    const typed = coverage((truth, normal) =>
      factorFound(Math.max(0.006, truth * (1 + 0.125 * normal())), undefined, 'typed'),
    );
    expect(typed).toBeGreaterThan(0.93);
  });
});
