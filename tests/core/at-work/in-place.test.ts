import { describe, expect, it } from 'vitest';
import { factorFromFlowing, factorInStill } from '../../../host/core/at-work';
import type { FlowingVolt } from '../../../host/core/at-work';
import { randomSource } from '../../../host/core/numeric/random';
import type { SenderResponse } from '../../../host/core/response';
import { answered, refusalCode } from '../../support/answer';
import { bathSender, leadOf, originals, worldOf } from './originals';
import type { World } from './world';
import { watched } from './world';

/** Boltzmann in eV/K, for the inverse of the bead's law. */
const BOLTZMANN_EV = 8.617333e-5;

const senderOf = (original: (typeof originals)[number]): SenderResponse => {
  const { ohmAt100, electronvolt } = original.body;
  return {
    ...bathSender(original.body),
    value: (ohm) => 1 / (1 / 373.15 + (BOLTZMANN_EV / electronvolt) * Math.log(ohm / ohmAt100)) - 273.15,
  };
};

/** On for the second minute, off for the first, three times; a person reads a second and a half after, and after a minute. */
const ON_SECONDS = [60, 180, 300] as const;
const FIRST_SECOND = 1.5;

/** Coolant of an idling engine: the thermostat swings it by a degree in four minutes, and it climbs a little. */
const idling = (second: number): number => 88 + Math.sin(second / 38) * 0.5 + second / 300;

const flowing = (world: World, meter: (volt: number) => number, groundOhm = 0): readonly FlowingVolt[] => {
  const at = ON_SECONDS.flatMap((start) => [start + FIRST_SECOND, start + 59]);
  const isOn = (second: number): boolean =>
    ON_SECONDS.some((start) => second >= start && second < start + 60);
  return watched(world, { coolant: idling, isOn, at, groundOhm }).map(({ senderVolt }, index) => ({
    when: index % 2 === 0 ? 'cold' : 'warm',
    senderVolt: meter(senderVolt),
  }));
};

const exact = (volt: number): number => volt;
/** Two decimals of a meter, and the last one wavers. */
const handheld = (seed: number): ((volt: number) => number) => {
  const random = randomSource(seed);
  return (volt) => Math.round(volt * (1 + 0.001 * random.normal()) * 100) / 100;
};

const steady = originals.filter(({ world }) => world.feed.offSecond === 0);

describe('what a sender sheds in its place, coolant flowing: six volts', () => {
  it('is found within a fifth, whatever the sender, its time constant and its factor', () => {
    for (const original of steady)
      for (const wattPerKelvin of [0.015, 0.03, 0.05, 0.065])
        for (const secondsToFollow of [6, 12, 25]) {
          const base = worldOf(original, wattPerKelvin);
          const world = { ...base, body: { ...base.body, secondsToFollow } };
          const circuit = { source: leadOf(original.world), sender: senderOf(original) };
          const found = answered(factorFromFlowing(flowing(world, exact), circuit));
          expect(found.factor.wattPerKelvin / wattPerKelvin).toBeGreaterThan(0.8);
          expect(found.factor.wattPerKelvin / wattPerKelvin).toBeLessThan(1.2);
          expect(found.factor.basis).toBe('flowing');
        }
  });

  it('is held by its stated interval, read with a handheld meter', () => {
    let held = 0;
    let jobs = 0;
    for (const original of steady)
      for (let seed = 1; seed <= 24; seed += 1) {
        const random = randomSource(100 * seed);
        const truth = 0.015 + 0.045 * random.uniform();
        const base = worldOf(original, truth);
        const world = { ...base, body: { ...base.body, secondsToFollow: 5 + 20 * random.uniform() } };
        const circuit = { source: leadOf(original.world), sender: senderOf(original) };
        const found = factorFromFlowing(flowing(world, handheld(seed)), circuit);
        if (found.kind === 'refused') continue;
        jobs += 1;
        const { lowestWattPerKelvin, highestWattPerKelvin } = found.factor;
        held += truth >= lowestWattPerKelvin && truth <= highestWattPerKelvin ? 1 : 0;
      }
    expect(jobs).toBeGreaterThan(100);
    expect(held / jobs).toBeGreaterThan(0.93);
  });

  it('does not take a bad ground for heat: it is there at once and stays', () => {
    const original = originals[0]!;
    const circuit = { source: leadOf(original.world), sender: senderOf(original) };
    const world = worldOf(original, 0.04);
    const good = answered(factorFromFlowing(flowing(world, exact), circuit));
    const bad = answered(factorFromFlowing(flowing(world, exact, 2), circuit));
    expect(bad.factor.wattPerKelvin / good.factor.wattPerKelvin).toBeGreaterThan(0.9);
    expect(bad.factor.wattPerKelvin / good.factor.wattPerKelvin).toBeLessThan(1.15);
  });

  it('is refused with too few readings, volts that cannot be, and where nothing changed', () => {
    const circuit = { source: { volt: 10, ohm: 58 }, sender: senderOf(originals[0]!) };
    const at = (senderVolt: number, when: 'cold' | 'warm'): FlowingVolt => ({ senderVolt, when });
    expect(refusalCode(factorFromFlowing([at(4, 'cold'), at(3.8, 'warm')], circuit))).toBe(
      'IN_PLACE_TOO_FEW',
    );
    const level = [at(4, 'cold'), at(4, 'warm'), at(4, 'cold'), at(4, 'warm'), at(4, 'cold'), at(4, 'warm')];
    expect(refusalCode(factorFromFlowing(level, circuit))).toBe('IN_PLACE_NOT_SEEN');
    expect(refusalCode(factorFromFlowing([...level.slice(1), at(11, 'cold')], circuit))).toBe(
      'IN_PLACE_VOLTS',
    );
  });
});

describe('what a sender sheds in still coolant: five minutes from the ignition', () => {
  const seconds = [2, 10, 20, 30, 45, 60, 90, 120, 180, 240, 300];

  it('is found, and is a lower bound for a running engine', () => {
    for (const original of steady)
      for (const wattPerKelvin of [0.02, 0.035]) {
        const base = worldOf(original, wattPerKelvin);
        const world = { ...base, body: { ...base.body, secondsToFollow: 35 } };
        // Coolant that cools by half a degree meanwhile.
        const coolant = (second: number): number => 75 - second / 600;
        const readings = watched(world, { coolant, isOn: () => true, at: seconds });
        const circuit = { source: leadOf(original.world), sender: senderOf(original) };
        const found = answered(factorInStill(readings, circuit));
        const { factor, rise, watt } = found;
        expect(watt / rise / wattPerKelvin).toBeGreaterThan(0.85);
        expect(watt / rise / wattPerKelvin).toBeLessThan(1.25);
        expect(factor.basis).toBe('still');
        expect(factor.lowestWattPerKelvin).toBeLessThan(1.2 * wattPerKelvin);
        expect(factor.highestWattPerKelvin).toBeGreaterThan(0.06);
      }
  });

  it('is refused with too few readings or too short a time', () => {
    const circuit = { source: { volt: 10, ohm: 58 }, sender: senderOf(originals[0]!) };
    const short = [0, 5, 10, 15, 20, 25].map((second) => ({ second, senderVolt: 4 }));
    expect(refusalCode(factorInStill(short, circuit))).toBe('IN_PLACE_TOO_FEW');
  });
});
