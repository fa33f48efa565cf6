import { describe, expect, it } from 'vitest';
import { someOf } from '../../support/deep';
import { factorFound } from '../../../host/core/at-work';
import { matchSenders, trim } from '../../../host/core/network';
import type { Candidate, Trimmed, TrimOptions } from '../../../host/core/network';
import { bathSender, dialOf, leadOf, originals, worldOf } from './originals';
import type { Soldered } from './world';
import { feltWith, settled } from './world';
import type { World } from './world';

const FACTORS = [0.03, 0.05] as const;
const band = { from: 45, to: 115, trials: 20 } as const;

const trimmedOf = (result: ReturnType<typeof trim>): Trimmed => {
  if (result.kind === 'refused') throw new Error(result.code);
  return result;
};

const jobs = originals.flatMap((original) =>
  FACTORS.map((wattPerKelvin) => {
    const world = worldOf(original, wattPerKelvin);
    const isThree = original.world.gauge.groundOhm !== undefined;
    const lead = leadOf(original.world);
    const options: TrimOptions = {
      ...band,
      lead,
      ...(isThree ? {} : { gaugeOhm: original.world.gauge.feedOhm }),
      terminals: isThree ? 3 : 2,
    };
    return {
      name: `${original.name}, ${1000 * wattPerKelvin} mW/K`,
      world,
      options,
      dial: dialOf(world),
      sender: bathSender(original.body),
      wattPerKelvin,
    };
  }),
);

/** What the needle shows in the world, with resistors soldered in: the resistor that would be felt alike, by halving. */
const shownBy = (
  world: World,
  reading: (ohm: number) => number,
  celsius: number,
  parts: Soldered,
): number => {
  const target = settled(world, celsius, parts).felt;
  const falls = feltWith(world, 1000) < feltWith(world, 10);
  let [low, high] = [1, 20_000];
  for (let step = 0; step < 60; step += 1) {
    const middle = Math.sqrt(low * high);
    if (feltWith(world, middle) > target === falls) low = middle;
    else high = middle;
  }
  return reading(low);
};

const solderedAs = ({ topology, parts }: Candidate): Soldered => {
  const at = (place: string): number | undefined => parts.find((part) => part.place === place)?.resistanceOhm;
  const series = at('series');
  const isFar = topology === 'series-then-shunt' || topology === 'gauge-shunt';
  const near = at('series-gauge-side') ?? (isFar ? undefined : series);
  const far = at('series-sender-side') ?? (isFar ? series : undefined);
  const [shunt, across] = [at('shunt'), at('across-gauge')];
  return {
    ...(near === undefined ? {} : { gaugeSideOhm: near }),
    ...(far === undefined ? {} : { senderSideOhm: far }),
    ...(shunt === undefined ? {} : { shuntOhm: shunt }),
    ...(across === undefined ? {} : { acrossGaugeOhm: across }),
  };
};

describe.each(someOf(jobs, 3))(
  'a matched original: $name',
  ({ world, options, dial, sender, wattPerKelvin }) => {
    it('errs without the sender\u2019s heat by what makes a shunt look right, and with it fits as it is', () => {
      // The gauge's dial was printed for the hot sender: every error here is one of the computation.
      const measured = trimmedOf(
        trim(dial, sender, {
          ...options,
          dissipation: factorFound(wattPerKelvin, 0.05 * wattPerKelvin, 'flowing'),
        }),
      );
      const bare = measured.candidates.find(({ topology }) => topology === 'none')!;
      expect(bare.worstError).toBeLessThan(0.3);
      expect(measured.advice).toMatchObject({ kind: 'fits-as-is', isCertain: true });
      expect(measured.candidates[measured.recommended]!.topology).toBe('none');
      const { lead: _lead, ...unknown } = options;
      const cold = trimmedOf(trim(dial, sender, { ...unknown, mechanism: 'unknown' }));
      expect(cold.heat).toMatchObject({ kind: 'not-counted', because: 'circuit-not-known' });
      expect(cold.candidates.find(({ topology }) => topology === 'none')!.worstError).toBeGreaterThan(4);
    });

    it('recommends no network while nobody knows what the sender sheds', () => {
      const unknown = trimmedOf(trim(dial, sender, options));
      expect(unknown.candidates[unknown.recommended]!.topology).toBe('none');
      expect(unknown.heat).toMatchObject({ kind: 'counted', factor: { basis: 'kind' } });
    });

    it('holds the truth inside every stated interval: known, typed 20 % wrong, and of its kind', () => {
      const cases = [
        undefined,
        factorFound(1.2 * wattPerKelvin, undefined, 'typed'),
        factorFound(0.8 * wattPerKelvin, undefined, 'typed'),
      ];
      for (const dissipation of cases) {
        const asked = dissipation === undefined ? options : { ...options, dissipation };
        const found = trimmedOf(trim(dial, sender, asked));
        const bare = found.candidates.find(({ topology }) => topology === 'none')!;
        // In the car this needle is right; the stated interval of every row must hold an error of 0.
        for (const row of bare.errorTable) expect(Math.abs(row.error)).toBeLessThan(row.expandedUncertainty);
      }
    });

    it('knows the sender\u2019s temperature and the needle with resistors in, as the world integrates them', () => {
      const found = trimmedOf(
        trim(dial, bathSender({ ...world.body, ohmAt100: 1.3 * world.body.ohmAt100 }), {
          ...options,
          dissipation: factorFound(wattPerKelvin, undefined, 'typed'),
        }),
      );
      const other = { ...world, body: { ...world.body, ohmAt100: 1.3 * world.body.ohmAt100 } };
      for (const candidate of found.candidates.filter((_, index) => index % 4 === 0)) {
        const parts = solderedAs(candidate);
        for (const row of [candidate.errorTable[4]!, candidate.errorTable[9]!]) {
          const inWorld = settled(other, row.trueValue, parts);
          expect(Math.abs(inWorld.celsius - row.trueValue - row.heat!.rise)).toBeLessThan(0.15);
          expect(Math.abs(shownBy(other, dial.reading, row.trueValue, parts) - row.indicated)).toBeLessThan(
            0.25,
          );
        }
      }
    });
  },
);

describe('ranking senders by the heat they have in the circuit', () => {
  it('puts the sender that the gauge was made for first and alone', () => {
    const { dial, sender, options, world, wattPerKelvin } = jobs[0]!;
    const wrong = bathSender({ ...world.body, ohmAt100: 1.35 * world.body.ohmAt100 });
    const ranked = matchSenders(dial, [wrong, sender], {
      ...options,
      dissipation: factorFound(wattPerKelvin, undefined, 'typed'),
    });
    if (ranked.kind === 'refused') throw new Error(ranked.code);
    expect(ranked.matches[0]!.sender).toBe(1);
    expect(ranked.matches[0]!.withoutNetwork).toBeLessThan(0.3);
    expect(ranked.matches[1]!.withoutNetwork).toBeGreaterThan(3);
  });
});
