import type { GaugeFeed, Surroundings } from '../../circuit';
import { copperFactor, equivalentOhm } from '../../circuit';
import { seenOhm } from '../closed-form/network-law';
import { workingOhm } from '../search/heat';
import { placeOf, plainErrors } from '../search/problem';
import type { TrimQuestion } from '../search/trim-question';
import type { Network } from '../closed-form/topology';
import { feedsFor } from './feeds';

/** What is other than in the workshop. */
export type DashOrBattery =
  | { readonly dashCelsius: number }
  | { readonly batteryVolt: number }
  /** Ohms that an old lead and its connectors have more than in the sweep. */
  | { readonly leadOhm: number };

/** How the reading moves in a cold or hot dash, at a low or high supply, with a tired connector. Dial units. */
export type SurroundingsEffect = {
  readonly with: DashOrBattery;
  readonly largestShift: number;
  readonly largestAt: number;
  /** Worst error over the band in these surroundings. */
  readonly worstError: number;
};

/** Curves are measured in a workshop; a dash is as cold or as hot as this. Common practice, no source. */
const WORKSHOP_CELSIUS = 20;
const COLD_DASH_CELSIUS = -10;
const HOT_DASH_CELSIUS = 60;
const LOW_SUPPLY_VOLT = 11;
const HIGH_SUPPLY_VOLT = 15;
/** One tired connector in the sender lead. Common practice, no source. */
const LEAD_OHM = 0.5;

type Case = { readonly with: DashOrBattery; readonly surroundings: Surroundings };

const casesFor = (usualVolt: number): readonly Case[] => [
  {
    with: { dashCelsius: COLD_DASH_CELSIUS },
    surroundings: { supplyRatio: 1, riseKelvin: COLD_DASH_CELSIUS - WORKSHOP_CELSIUS },
  },
  {
    with: { dashCelsius: HOT_DASH_CELSIUS },
    surroundings: { supplyRatio: 1, riseKelvin: HOT_DASH_CELSIUS - WORKSHOP_CELSIUS },
  },
  {
    with: { batteryVolt: LOW_SUPPLY_VOLT },
    surroundings: { supplyRatio: LOW_SUPPLY_VOLT / usualVolt, riseKelvin: 0 },
  },
  {
    with: { batteryVolt: HIGH_SUPPLY_VOLT },
    surroundings: { supplyRatio: HIGH_SUPPLY_VOLT / usualVolt, riseKelvin: 0 },
  },
];

/** The needle with a few ohms more in the sender lead, whatever moves it. Source: ohms in series add. */
const leadEffect = ({ problem }: TrimQuestion, network: Network): SurroundingsEffect => {
  const { gauge } = problem.table;
  const shifts = Array.from(problem.ohm.keys(), (index) => {
    const ohm = workingOhm(problem.heat, network, placeOf(problem, index));
    return gauge.reading(seenOhm(network, ohm + LEAD_OHM)) - gauge.reading(seenOhm(network, ohm));
  });
  const errors = plainErrors(problem, network).map((error, index) => Math.abs(error + shifts[index]!));
  return { with: { leadOhm: LEAD_OHM }, ...largestOf(problem, shifts), worstError: Math.max(...errors) };
};

const largestOf = (
  { value }: TrimQuestion['problem'],
  shifts: readonly number[],
): Pick<SurroundingsEffect, 'largestShift' | 'largestAt'> => {
  const sizes = shifts.map(Math.abs);
  const largest = sizes.indexOf(Math.max(...sizes));
  return { largestShift: shifts[largest]!, largestAt: value[largest]! };
};

/** A supply this far below a battery's comes from a stabiliser, which holds it from 11 to 15 V. */
const STABILISED_BELOW_VOLT = 10.5;

/** The network as it is seen when a copper gauge coil has warmed: only a resistor across the gauge is affected. */
const warmed = (network: Network, question: TrimQuestion, riseKelvin: number): Network =>
  network.gaugeOhm !== undefined && question.options.mechanism === 'moving-coil'
    ? { ...network, gaugeOhm: network.gaugeOhm * copperFactor(riseKelvin) }
    : network;

const effectOf = (
  question: TrimQuestion,
  network: Network,
  { with: other, surroundings }: Case,
  feed: GaugeFeed,
): SurroundingsEffect | undefined => {
  const { problem, options } = question;
  const { gauge } = problem.table;
  const inCase = warmed(network, question, surroundings.riseKelvin);
  const shifts: number[] = [];
  const errors: number[] = [];
  const supplyRatio = feed.isStabilised ? 1 : surroundings.supplyRatio;
  for (const index of problem.ohm.keys()) {
    const place = placeOf(problem, index);
    const ohm = workingOhm(problem.heat, inCase, place, { supplyRatio });
    const seen = equivalentOhm(options.mechanism ?? 'unknown', seenOhm(inCase, ohm), surroundings, feed);
    if (seen === undefined) return undefined;
    shifts.push(
      gauge.reading(seen) - gauge.reading(seenOhm(network, workingOhm(problem.heat, network, place))),
    );
    errors.push(Math.abs(gauge.reading(seen) - problem.value[index]!));
  }
  return { with: other, ...largestOf(problem, shifts), worstError: Math.max(...errors) };
};

/**
 * Effects of dash temperature and supply by the mechanism's law, and of a tired connector in the sender lead. Without
 * the law (the mechanism is unknown, or it needs the gauge's own resistance and that is not given) the last alone.
 * Source: equivalentOhm. A thermal gauge whose supply is given as 10.5 V or less is taken to be stabilised.
 */
export const surroundingsEffects = (
  question: TrimQuestion,
  network: Network,
): readonly SurroundingsEffect[] => {
  const { usual } = feedsFor(question.options);
  const feed: GaugeFeed = {
    isStabilised: usual.supplyVolt <= STABILISED_BELOW_VOLT,
    ...(question.options.gaugeOhm === undefined ? {} : { gaugeOhm: question.options.gaugeOhm }),
  };
  const effects = casesFor(usual.supplyVolt).flatMap((each) => effectOf(question, network, each, feed) ?? []);
  return [...effects, leadEffect(question, network)];
};
