import type { NetworkRefusals } from '../../core/network/refusals';
import type { TwoPoints } from '../../core/network';
import { partWords, topologyWords } from '../network';
import type { Notation } from '../notation';
import { listed, type RefusalWords } from '../sentence';

type Words = { readonly [Code in keyof NetworkRefusals]: RefusalWords<NetworkRefusals[Code]> };

const points = (p: TwoPoints, say: Notation): string =>
  `The sender gives ${say.ohm(p.highSenderOhm)} and ${say.ohm(p.lowSenderOhm)}; the gauge wants ${say.ohm(p.highWantedOhm)} and ${say.ohm(p.lowWantedOhm)}.`;

const MILLI = 1000;
const milliSiemens = (highOhm: number, lowOhm: number, say: Notation): string =>
  lowOhm > 0 ? `${say.number((MILLI * (highOhm - lowOhm)) / (highOhm * lowOhm))} mS` : 'no limit';

const spanOhm = (high: number, low: number, say: Notation): string => say.ohm(high - low);

const fixedBy: Readonly<Partial<Record<string, string>>> = {
  'three-resistor': 'Three resistors need three pairs.',
};

/** Refusals of trim networks: what is asked for, and the laws of circuits that forbid it. */
export const networkRefusals: Words = {
  PAIRS: {
    says: ({ pairCount, topology }) =>
      topology === undefined
        ? `${pairCount} pairs were given; one, two or three can be met exactly.`
        : (fixedBy[topology] ?? `Two resistors (${topologyWords[topology]}) need two pairs.`),
    remedy: 'Change the number of pairs, or search for the best compromise with trim.',
  },
  PAIR_VALUE: {
    says: ({ pairNumber, senderOhm, wantedOhm }) =>
      `Pair ${pairNumber} (${senderOhm}:${wantedOhm}) is not two resistances.`,
    remedy: 'Give two numbers of 0 ohm or more.',
  },
  PAIR_SAME: {
    says: ({ twice, resistanceOhm }, say) =>
      twice === 'sender'
        ? `The sender's ${say.ohm(resistanceOhm)} is given twice.`
        : `${say.ohm(resistanceOhm)} is wanted at two sender resistances, so the needle would not move between them.`,
    remedy: 'Change one of the pairs.',
  },
  SENSE: {
    says: (slots, say) =>
      `${points(slots, say)} The two run opposite ways, and no resistors can reverse a sender.`,
    remedy: 'Use a sender that runs the other way, or an active converter.',
  },
  SPAN_OHM: {
    says: (slots, say) =>
      'spanRatio' in slots
        ? `A resistor across the gauge widens the sender's span; ${say.number(slots.spanRatio)} times the span is wanted.`
        : `${points(slots, say)} Resistors can only narrow a sender's span: it has ${spanOhm(slots.highSenderOhm, slots.lowSenderOhm, say)}, and ${spanOhm(slots.highWantedOhm, slots.lowWantedOhm, say)} is wanted.`,
    remedy:
      'To narrow it, put resistors around the sender. To widen it, put one across a two-terminal gauge or use another sender.',
  },
  SPAN_SIEMENS: {
    says: (slots, say) =>
      `${points(slots, say)} Counted in siemens (1 by ohm), resistors can only narrow the span: the sender has ${milliSiemens(slots.highSenderOhm, slots.lowSenderOhm, say)}, and ${milliSiemens(slots.highWantedOhm, slots.lowWantedOhm, say)} is wanted.`,
    remedy: 'Use a sender of lower resistance, or an active converter.',
  },
  RATIO: {
    says: (slots, say) =>
      `${points(slots, say)} Resistors can only lower the ratio of a sender's two ends, and a higher one is wanted.`,
    remedy: 'Use a sender with a steeper curve, or an active converter.',
  },
  NEGATIVE_PART: { says: negativePart, remedy: 'No resistor is below 0 ohm: ask for other resistances.' },
  CONCAVITY: {
    says: ({ curvature, middleSenderOhm, middleWantedOhm }, say) =>
      `The three points bend the wrong way: ${say.ohm(middleWantedOhm)} is too low where the sender has ${say.ohm(middleSenderOhm)} (K = ${say.number(curvature)}; resistors reach 0 < K < 1).`,
    remedy: 'Meet two of the points, or re-mark the dial.',
  },
  MISMATCH: {
    says: ({ topology, parts, senderOhm, seenOhm, wantedOhm }, say) =>
      `${listed(parts.map((part) => partWords(part, say))) || topologyWords[topology]} cannot meet every point: at a sender of ${say.ohm(senderOhm)} the gauge sees ${say.ohm(seenOhm)}, and ${say.ohm(wantedOhm)} is wanted.`,
    remedy: 'Take an arrangement with more resistors, or search for the best compromise with trim.',
  },
  GAUGE_OHM: {
    says: (slots, say) =>
      'gaugeOhm' in slots
        ? `A gauge of ${say.ohm(slots.gaugeOhm)} is not possible.`
        : `A resistor of ${say.number(slots.shuntPerGauge)} times the gauge's own resistance is needed across it, and ${say.ohm(slots.seriesOhm)} in the sender lead.`,
    remedy: 'Measure the gauge between its terminals and give its resistance.',
  },
  GAUGE_RANGE: {
    says: ({ fromOhm, toOhm }, say) => `The gauge was measured from ${say.ohms(fromOhm, toOhm)} only.`,
    remedy: 'Measure it at more than one resistance.',
  },
  GAUGE_NOT_FINITE: {
    says: ({ resistanceOhm }, say) => `The gauge's curve has no reading at ${say.ohm(resistanceOhm)}.`,
    remedy: 'Measure the gauge there.',
  },
  GAUGE_NOT_MONOTONE: {
    says: () => "The gauge's curve turns back: one reading would stand for two resistances.",
    remedy: 'Repeat the readings where it turns.',
  },
  SENDER_NOT_FINITE: {
    says: ({ value, unit }, say) => `The sender's curve has no resistance at ${say.of(value, unit)}.`,
    remedy: 'Measure the sender there.',
  },
  WEIGHTS: {
    says: () => 'A weight is below 0, or all of them are 0.',
    remedy: 'Give weights of 0 or more, and at least one above 0.',
  },
  BAND: {
    says: ({ wrong, from, to, unit, ...known }, say) =>
      `The range from ${say.range(from, to, unit)} ${wrong === 'empty' ? 'is empty' : 'lies outside what was measured'}: the sender is known from ${say.range(known.senderFrom, known.senderTo, unit)}, the gauge from ${say.range(known.gaugeFrom, known.gaugeTo, unit)}.`,
    remedy: 'Choose a range that both cover.',
  },
  SAMPLES: {
    says: ({ samples, fewest, most }) =>
      `${samples} points were asked for; ${fewest} to ${most} are possible.`,
    remedy: 'Ask for another number.',
  },
  SUPPLY: {
    says: ({ supplyVolt }) => `${supplyVolt} V is no supply.`,
    remedy: 'Give the volts at the gauge, 13.8 for example.',
  },
  RULE_LIMIT: { says: ({ limit }) => `The rule's limit is ${limit}.`, remedy: 'Give 0 or more.' },
  TOPOLOGY: {
    says: () => 'No arrangement of resistors is left to search.',
    remedy: 'Allow more parts, or more arrangements.',
  },
  UNIT: {
    says: ({ gaugeUnit, senderUnit }, say) =>
      `The gauge is in ${say.unit(gaugeUnit)} and the sender in ${say.unit(senderUnit)}: they measure different things.`,
    remedy: 'Choose a sender for this gauge, or correct the unit.',
  },
  STOCK: {
    says: (slots) =>
      'entry' in slots
        ? `Entry ${slots.entry} of the parts at hand is ${slots.resistanceOhm} ohm, ${slots.count} of them.`
        : 'The list of parts at hand is empty.',
    remedy: 'Give at least one part of more than 0 ohm.',
  },
  RANGE: {
    says: ({ series, lowestOhm, highestOhm }, say) =>
      `No ${series} value lies between ${say.part(lowestOhm)} and ${say.part(highestOhm)}.`,
    remedy: 'Widen the range.',
  },
  TOLERANCE: {
    says: ({ tolerancePercent }) => `A tolerance of ${tolerancePercent} % is not possible.`,
    remedy: 'Give 0 to 50 %.',
  },
  TANK_CURRENT: {
    says: () =>
      'Any resistor across this fuel gauge would let more current into the tank than the original circuit could.',
    remedy: 'Put resistors around the sender, or use another sender.',
  },
};

function negativePart(slots: NetworkRefusals['NEGATIVE_PART'], say: Notation): string {
  const would = `would have to be ${say.ohm(slots.partOhm)}`;
  switch (slots.part) {
    case 'series':
      return `The series resistor ${would} to turn ${say.ohm(slots.senderOhm)} into ${say.ohm(slots.wantedOhm)}: in series, resistance only rises.`;
    case 'shunt':
      return `The shunt ${would} to turn ${say.ohm(slots.senderOhm)} into ${say.ohm(slots.wantedOhm)}: a shunt only lowers a resistance.`;
    case 'series-sender-side':
    case 'series-gauge-side':
      return `The series resistor on the ${slots.part === 'series-sender-side' ? 'sender' : 'gauge'} side ${would}: two ends fix the middle almost wholly, so meet two points and accept the third.`;
    case 'series-beside-gauge-shunt':
      return `With a resistor of ${say.number(slots.shuntPerGauge)} times the gauge's own resistance across it, the series resistor ${would}.`;
  }
}
