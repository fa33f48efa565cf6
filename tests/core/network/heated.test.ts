import { describe, expect, it } from 'vitest';
import { factorFound } from '../../../host/core/at-work';
import { anyValueBound } from '../../../host/core/network/search/any-value';
import { gaugeTable } from '../../../host/core/network/search/gauge-table';
import { heatFor } from '../../../host/core/network/search/heat-of-circuit';
import type { Problem } from '../../../host/core/network/search/problem';
import { placeOf, problemOf, sampleScore } from '../../../host/core/network/search/problem';
import { safetyRule } from '../../../host/core/network/search/safety-rule';
import type { Form, Parts } from '../../../host/core/network/search/search';
import { forms, searchForm } from '../../../host/core/network/search/search';
import { randomSource } from '../../../host/core/numeric/random';
import { preferredValues } from '../../../host/core/preferred';
import type { GaugeResponse, SenderResponse } from '../../../host/core/response';
import { thermalTemperature, thermistor } from './curves';

const values = Float64Array.from(preferredValues('E6', 2, 2000));

type Circuit = { readonly volt: number; readonly ohm: number; readonly wattPerKelvin: number };
type Case = {
  readonly problem: Problem;
  readonly parts: Parts;
  readonly circuit: Circuit;
  readonly sender: SenderResponse;
};

const caseOf = (gauge: GaugeResponse, sender: SenderResponse, circuit: Circuit): Case => {
  const table = gaugeTable(gauge);
  if (table.kind === 'refused') throw new Error(table.code);
  const band = { from: 50, to: 115, samples: 9 };
  const cold = problemOf(table, sender, { band, rule: safetyRule('temperature', band, 4), weights: [] });
  if (cold.kind === 'refused') throw new Error(cold.code);
  const places = Array.from(cold.value, (_, index) => placeOf(cold, index));
  const dissipation = factorFound(circuit.wattPerKelvin, undefined, 'typed');
  const lead = { volt: circuit.volt, ohm: circuit.ohm };
  const heat = heatFor({ lead, dissipation }, sender, { band, places, values });
  if (typeof heat === 'string' || 'code' in heat) throw new Error('no heat');
  const { leastAcrossOhm } = heat;
  const permits: Parts['permits'] = (form, ohms) =>
    form.topology !== 'gauge-shunt' || ohms[0]! >= leastAcrossOhm;
  return { problem: { ...cold, heat }, parts: { values, gaugeOhm: circuit.ohm, permits }, circuit, sender };
};

type Branch = {
  readonly near: number;
  readonly shunt: number;
  readonly far: number;
  readonly across: number;
};

const branchOf = ({ topology }: Form, ohms: readonly number[]): Branch => {
  const none: Branch = { near: 0, shunt: Infinity, far: 0, across: Infinity };
  switch (topology) {
    case 'none':
      return none;
    case 'series':
      return { ...none, near: ohms[0]! };
    case 'shunt':
      return { ...none, shunt: ohms[0]! };
    case 'shunt-then-series':
      return { ...none, near: ohms[0]!, shunt: ohms[1]! };
    case 'series-then-shunt':
      return { ...none, shunt: ohms[1]!, far: ohms[0]! };
    case 'three-resistor':
      return { near: ohms[0]!, shunt: ohms[1]!, far: ohms[2]!, across: Infinity };
    case 'gauge-shunt':
      return { ...none, across: ohms[0]!, far: ohms[1] ?? 0 };
  }
};

/**
 * What a resistor would have to be for the gauge to carry the same current: the branch currents by a ladder walked
 * backwards from the sender, its temperature by halving. No Thevenin source, no table, no Newton.
 */
const seenByHalving = ({ circuit, sender }: Case, branch: Branch, celsius: number): number => {
  /** Feed volts that would drive one ampere through a sender of `ohm`, and the gauge current that goes with it. */
  const walk = (
    ohm: number,
  ): { readonly feed: number; readonly gauge: number; readonly terminal: number } => {
    const joint = ohm + branch.far;
    const lead = 1 + joint / branch.shunt;
    const terminal = joint + lead * branch.near;
    const coil = 1 / (1 / circuit.ohm + 1 / branch.across);
    return { feed: terminal + lead * coil, gauge: (lead * coil) / circuit.ohm, terminal };
  };
  let [low, high] = [0, 90];
  for (let step = 0; step < 70; step += 1) {
    const rise = (low + high) / 2;
    const ohm = sender.ohm(celsius + rise);
    const amp = circuit.volt / walk(ohm).feed;
    if (amp * amp * ohm > circuit.wattPerKelvin * rise) low = rise;
    else high = rise;
  }
  const { terminal, gauge } = walk(sender.ohm(celsius + low));
  return terminal / gauge;
};

const bruteScores = (
  each: Case,
  form: Form,
): { readonly score: number; readonly ohms: readonly number[] }[] => {
  const all = (count: number): number[][] =>
    count === 0 ? [[]] : all(count - 1).flatMap((rest) => Array.from(values, (value) => [...rest, value]));
  const { problem, parts } = each;
  return all(form.partCount)
    .filter((ohms) => parts.permits?.(form, Float64Array.from(ohms)) ?? true)
    .map((ohms) => {
      const errors = Array.from(
        problem.value,
        (value) => problem.table.gauge.reading(seenByHalving(each, branchOf(form, ohms), value)) - value,
      );
      return { ohms, score: Math.max(...errors.map((error, index) => sampleScore(problem, index, error))) };
    })
    .sort((one, other) => one.score - other.score);
};

/** Circuits of the trade: 10 V on 58 ohm, 5 V on 20 ohm, two coils; dissipation factors from 10 to 70 mW/K and beyond. */
const randomCase = (seed: number): Case | undefined => {
  const random = randomSource(seed);
  const [volt, ohm] = (
    [
      [10, 58],
      [5, 20],
      [6.9, 35],
      [9.2, 53],
    ] as const
  )[seed % 4]!;
  const wattPerKelvin = 0.01 + 0.06 * random.uniform();
  const sender = thermistor(500 + 900 * random.uniform(), 3500 + 900 * random.uniform());
  try {
    return caseOf(thermalTemperature, sender, { volt, ohm, wattPerKelvin });
  } catch {
    return undefined;
  }
};

const cases = Array.from({ length: 12 }, (_, seed) => randomCase(seed + 1)).flatMap((each) => each ?? []);

describe('the search around a sender that its own current heats', () => {
  it('has circuits to look at, some of them near running away', () => {
    expect(cases.length).toBeGreaterThan(7);
  });

  it.each(forms.map((form) => [`${form.topology} (${form.partCount})`, form] as const))(
    'finds the same best network as brute force with a state found by halving: %s',
    (_name, form) => {
      // Three resistors are 5,832 networks a case: fewer cases.
      for (const each of form.partCount > 2 ? cases.slice(0, 4) : cases) {
        const found = searchForm(each.problem, form, each.parts, 3).found;
        const brute = bruteScores(each, form).slice(0, 3);
        expect(found.length).toBe(brute.length);
        for (const [rank, one] of found.entries()) {
          // The sampled curve of the sender is good to 2e-6 of its resistance: some ten-thousandths of a degree.
          expect(Math.abs(one.score - brute[rank]!.score)).toBeLessThan(2e-3 + 1e-6 * one.score);
        }
      }
    },
  );

  it('never calls the bound over all resistances too high', () => {
    const fine = Float64Array.from(preferredValues('E24', 2.2, 1500));
    for (const each of cases) {
      for (const form of forms) {
        const score = searchForm(each.problem, form, each.parts, 1).found[0]?.score;
        if (score === undefined) continue;
        const better = searchForm(each.problem, form, { ...each.parts, values: fine }, 1).found[0]!.score;
        const bound = anyValueBound(each.problem, form, each.parts, score);
        expect(bound).toBeLessThanOrEqual(Math.min(score, better) + 1e-6);
      }
    }
  });
});
