import type { CurveRefusals } from '../../core/curve/refusals';
import { counted, type RefusalWords } from '../sentence';

type Words = { readonly [Code in keyof CurveRefusals]: RefusalWords<CurveRefusals[Code]> };

/** Refusals of gauge curves. */
export const curveRefusals: Words = {
  CURVE_TOO_MANY: {
    says: ({ readingCount, most, atOhm }, say) =>
      atOhm === undefined
        ? `${readingCount} readings are too many: at most ${most} can be fitted.`
        : `${readingCount} readings at ${say.ohm(atOhm)} are too many: at most ${most} can be fitted.`,
    remedy: 'Keep every second one, or fewer.',
  },
  CURVE_BAD_NUMBER: {
    says: (slots, say) =>
      'readingNumber' in slots
        ? `Reading ${slots.readingNumber} (${say.ohm(slots.resistanceOhm)}, ${say.number(slots.reading)}) cannot be used.`
        : `${say.ohm(slots.resistanceOhm)} is not a resistance.`,
    remedy: 'Give a resistance of 0 ohm or more, a reading, and an uncertainty above 0 if there is one.',
  },
  CURVE_FLAT: {
    says: ({ reading, unit }, say) =>
      `The needle stood at ${say.of(reading, unit)} at every resistance: there is no curve.`,
    remedy: 'Check that the gauge has its supply and that the sender lead is connected.',
  },
  CURVE_NOT_MONOTONE: {
    says: ({ explainedPercent }) =>
      `The needle neither rises nor falls with resistance: the best curve explains ${explainedPercent} % of its movement.`,
    remedy: 'Check the order of the readings, then the wiring.',
  },
  CURVE_ALL_AT_STOPS: {
    says: () => 'Every reading was taken with the needle on a stop.',
    remedy: 'Choose resistances that put the needle on the scale.',
  },
  CURVE_TOO_FEW: {
    says: ({ settingCount, fewest }) =>
      `The needle was off its stops at ${settingCount === 0 ? 'no resistance' : counted(settingCount, 'resistance')}; a curve needs ${fewest} or more.`,
    remedy: 'Take more readings.',
  },
  CURVE_TOO_FAR: {
    says: ({ resistanceOhm, measuredFromOhm, measuredToOhm }, say) =>
      `${say.ohm(resistanceOhm)} is too far from the measured ${say.ohms(measuredFromOhm, measuredToOhm)}: the readings say nothing about it.`,
    remedy: 'Measure nearer to it.',
  },
  CURVE_LAW_IMPOSSIBLE: {
    says: ({ law, knotCount }) =>
      law === undefined
        ? 'No law can be fitted to these readings.'
        : `The law ${law} cannot be fitted to these readings${knotCount === undefined ? '' : `: there are ${knotCount} resistances, and 500 are the most it goes through`}.`,
    remedy: 'Give more readings, or another law.',
  },
  FIT_TOO_MANY_KNOTS: {
    says: ({ knotCount, most }) =>
      `A curve through each of ${knotCount} resistances is no law; ${most} are the most.`,
    remedy: '',
  },
  SPLINE_SINGULAR: {
    says: () => 'The readings do not fix a smooth curve.',
    remedy: 'Measure at more resistances.',
  },
};
