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
  IN_PLACE_TOO_FEW: {
    says: ({ given, needed, method }) =>
      method === 'still'
        ? `${given} readings are too few: ${needed} over at least 90 seconds are needed.`
        : `${given} readings are too few: ${needed} are needed, one just after the lead goes on and one a minute later, three times.`,
    remedy: '',
  },
  IN_PLACE_VOLTS: {
    says: ({ row, senderVolt, openVolt }, say) =>
      `Reading ${row} has ${say.number(senderVolt)} V on the sender, and the unclipped lead has ${say.number(openVolt)} V: with a sender on it the lead must show less.`,
    remedy: 'Read both volts with the same meter, one after the other.',
  },
  IN_PLACE_NOT_SEEN: {
    says: ({ changePercent, uncertaintyPercent }, say) =>
      `The sender\u2019s resistance fell by ${say.number(changePercent)} %, and that is not known better than \u00b1${say.number(uncertaintyPercent)} %: no heat was seen.`,
    remedy: 'Repeat it with the coolant hot, more readings, or a finer range of the meter.',
  },
  IN_PLACE_NO_TEMPERATURE: {
    says: ({ unit }) => `A sender in ${unit} measures no temperature: what heat it has does not count.`,
    remedy: '',
  },
};
