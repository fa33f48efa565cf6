import type { PointFault, SenderRefusals } from '../../core/sender/refusals';
import type { Notation } from '../notation';
import { listed, type RefusalWords } from '../sentence';

type Words = { readonly [Code in keyof SenderRefusals]: RefusalWords<SenderRefusals[Code]> };

/** What is wrong with one number of a point, as a sentence: it may stand beside the column. */
export function pointFaultWords(fault: PointFault, unit: string, say: Notation): string {
  switch (fault.wrong) {
    case 'below-absolute-zero':
      return `${say.of(fault.given, unit)} is below absolute zero.`;
    case 'short':
      return 'The resistance is 0 ohm. A temperature sender has more: was a short measured?';
    case 'size':
      return sizeWords(fault);
  }
}

function sizeWords(fault: Extract<PointFault, { wrong: 'size' }>): string {
  switch (fault.of) {
    case 'value':
      return `The value ${fault.given} must be a number of at most ${fault.most}.`;
    case 'resistance':
      return `The resistance ${fault.given} ohm must be 0, or ${fault.least} to ${fault.most} ohm.`;
    case 'valueUncertainty':
      return `The uncertainty ${fault.given} of the value must be 0 to ${fault.most}.`;
    case 'resistanceUncertainty':
      return `The uncertainty ${fault.given} ohm of the resistance must be 0 to ${fault.most} ohm.`;
  }
}

/** Refusals of sender curves and of what they are asked. */
export const senderRefusals: Words = {
  SENDER_TOO_FEW_POINTS: {
    says: ({ valueCount, fewest, model }) =>
      `${model === undefined ? 'A sender curve' : `The law ${model}`} needs ${fewest} different values; ${valueCount} ${valueCount === 1 ? 'was' : 'were'} given.`,
    remedy: 'Give more points.',
  },
  SENDER_TOO_MANY_POINTS: {
    says: ({ pointCount, most }) => `${pointCount} points are too many; the limit is ${most}.`,
    remedy: 'Keep every second one, or fewer.',
  },
  SENDER_POINT: {
    says: ({ pointNumber, unit, fault }, say) => `Point ${pointNumber}: ${pointFaultWords(fault, unit, say)}`,
    remedy: 'Correct it, or strike it.',
  },
  SENDER_MODEL: {
    says: ({ model, degree, highestDegree }) =>
      degree === undefined
        ? `The law ${model} is for temperature senders only.`
        : `A polynomial of degree ${degree} is not possible; 2 to ${highestDegree ?? 2} are.`,
    remedy: 'Use linear, polynomial or table.',
  },
  SENDER_NOT_MONOTONE: { says: turnsBack, remedy: 'Measure these points again, strike one, or use a table.' },
  SENDER_NEGATIVE: {
    says: ({ model, from, to }, say) =>
      `The law ${model} through these points goes below 0 ohm between ${say.number(from)} and ${say.number(to)}.`,
    remedy: 'Use a table.',
  },
  SENDER_UNDETERMINED: {
    says: ({ model }) =>
      model === undefined
        ? 'No law goes through these points.'
        : model === 'exponential'
          ? 'The points do not fix an exponential with offset, or its pole falls between them.'
          : `The points do not fix the coefficients of ${model}.`,
    remedy: 'Check whether all of them are at one resistance, and give more points.',
  },
  SENDER_OUT_OF_RANGE: {
    says: outOfRange,
    remedy: 'Stay inside, or measure the sender further.',
  },
  SENDER_TOLERANCE: {
    says: ({ tolerancePercent }) => `A tolerance of ${tolerancePercent} % is not possible.`,
    remedy: 'Give 0 to 90 %.',
  },
  SENDER_UNIT: {
    says: ({ fromUnit, toUnit }, say) =>
      `${say.unit(fromUnit) || 'No unit'} cannot be turned into ${say.unit(toUnit) || 'no unit'}.`,
    remedy: 'Choose a sender that measures what the gauge shows, or correct the unit.',
  },
  SENDER_SHORT_OF_DANGER: {
    says: ({ endsAt, wanted, unit }, say) =>
      `The sender's curve ends at ${say.of(endsAt, unit)} and does not reach ${say.of(wanted, unit)}.`,
    remedy: "Give it a point nearer to that, from a bath or from its maker's table.",
  },
  SELF_HEATING_NOT_SEEN: {
    says: ({ fallPercent, noisePercent }) =>
      `The resistance fell by ${fallPercent.toFixed(2)} %; the meter is good to ${noisePercent.toFixed(2)} % only.`,
    remedy: 'Use a larger second current.',
  },
  SELF_HEATING_TOO_HOT: {
    says: (slots, say) =>
      'riseAboveCelsius' in slots
        ? `The second reading would mean that the sender warmed by more than ${say.of(slots.riseAboveCelsius, 'degC')}.`
        : `${say.number(slots.currentAmp)} A heats this sender beyond ${say.of(slots.hottest, slots.unit)}.`,
    remedy: 'Use less current.',
  },
  SELF_HEATING_INPUT: {
    says: (slots, say) => {
      switch (slots.wrong) {
        case 'not-temperature':
          return 'Self-heating needs a temperature sender, a current, and milliwatts a degree above 0.';
        case 'not-real':
          return 'Bath temperature, Beta, current and resistance must be numbers, and Beta above 0.';
        case 'resistance':
          return 'A resistance is not above 0 ohm.';
        case 'no-more-power':
          return `The second reading has no more heat than the first (${say.number(slots.highWatt)} W after ${say.number(slots.lowWatt)} W).`;
      }
    },
    remedy: 'Measure both again, the second with more current.',
  },
  HEATING_UNIT: {
    says: () => 'Only a temperature sender warms itself.',
    remedy: 'Leave this out for a level or a pressure sender.',
  },
  HEATING_NO_CURVE: {
    says: () => 'The sender has no curve around this bath yet.',
    remedy: 'First take points around it: they say what a fall in ohms means.',
  },
};

function turnsBack(slots: SenderRefusals['SENDER_NOT_MONOTONE'], say: Notation): string {
  const why = 'one resistance would stand for two values';
  if ('points' in slots) {
    const points = slots.points.map((each) => `${say.ohm(each.resistanceOhm)} at ${say.number(each.value)}`);
    return `The resistance turns back: ${listed(points)}.`;
  }
  return 'model' in slots
    ? `The law ${slots.model} through these points turns back between ${say.number(slots.from)} and ${say.number(slots.to)}: ${why}.`
    : `The sender's resistance turns back at ${say.of(slots.turnsBackAt, slots.unit)}: ${why}.`;
}

function outOfRange(slots: SenderRefusals['SENDER_OUT_OF_RANGE'], say: Notation): string {
  if ('value' in slots)
    return `${say.of(slots.value, slots.unit)} is beyond this sender's curve (${say.range(slots.from, slots.to, slots.unit)}).`;
  return 'fromOhm' in slots
    ? `${say.ohm(slots.resistanceOhm)} is beyond this sender's curve (${say.ohms(slots.fromOhm, slots.toOhm)}).`
    : `${say.ohm(slots.resistanceOhm)}, good to \u00b1${say.ohm(slots.uncertaintyOhm)}, covers the sender's whole curve.`;
}
