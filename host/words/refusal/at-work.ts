import type { AtWorkRefusals } from '../../core/at-work/refusals';
import type { RefusalWords } from '../sentence';

type Words = { readonly [Code in keyof AtWorkRefusals]: RefusalWords<AtWorkRefusals[Code]> };

/** Refusals about a sender in its circuit. */
export const atWorkRefusals: Words = {
  LEAD_READINGS: {
    says: ({ heavyOhm, heavyVolt, lightOhm, lightVolt }, say) =>
      `${say.number(heavyVolt)} V with ${say.ohm(heavyOhm)} on the sender lead and ${say.number(lightVolt)} V with ${lightOhm === undefined ? 'nothing on it' : say.ohm(lightOhm)} belong to no one circuit: more resistance must give more volts.`,
    remedy: 'Read both again, the feed steady.',
  },
  SENDER_RUNS_AWAY: {
    says: ({ volt, ohm, value, unit, milliwattPerKelvin, watt }, say) =>
      `${say.number(volt)} V behind ${say.ohm(ohm)} can heat this sender without end: at ${say.of(value, unit)}, shedding ${say.number(milliwattPerKelvin)} mW/K, it has no steady state beyond ${say.number(watt)} W.`,
    remedy: 'Measure the volts on the sender lead, and what the sender sheds in its place.',
  },
};
