import type { NetworkRemarks } from '../../core/network/remarks';
import { hiddenWords, needleWords, placeWords, ruleWords } from '../network';
import type { Sentence } from '../sentence';

type Words = { readonly [Code in keyof NetworkRemarks]: Sentence<NetworkRemarks[Code]> };

const WHY_NO_SHUNT: Readonly<Record<NetworkRemarks['GAUGE_SHUNT_LEFT_OUT']['because'], string>> = {
  'not-asked': 'they were not asked for',
  'gauge-ohm-unknown': "the gauge's own resistance is not known",
  'three-terminals': 'the gauge has three terminals',
};

/** Remarks on trim networks. */
export const networkRemarks: Words = {
  UNIT_TAKEN_AS_SAME: ({ gaugeUnit, senderUnit }) =>
    `The gauge is in "${gaugeUnit}", the sender in "${senderUnit}": taken as the same unit.`,
  GAUGE_SHUNT_LEFT_OUT: ({ because, mechanism }) =>
    `Resistors across the gauge were not tried: ${mechanism === undefined ? WHY_NO_SHUNT[because] : `a ${mechanism} gauge has three terminals`}.`,
  TANK_SHUNTS_LEFT_OUT: () =>
    'Resistors across the gauge that let more current into the tank than before were left out.',
  DASH_ASSUMED: ({ half, unit }, say) =>
    `How warm the dash is counts as ${say.spread(half, unit)}, as thermal gauges go (common practice). Read one mark in a cold and in a hot dash to know it.`,
  RULE_COSTS: ({ rule, worstError, unit }, say) =>
    `Without the rule that the gauge ${ruleWords(rule, unit, say)} the worst error would be ${say.spread(worstError, unit)}.`,
  RULE_NOT_KEPT: ({ rule, unit }, say) =>
    `No network keeps the rule that the gauge ${ruleWords(rule, unit, say)}.`,
  SHAPE_NOT_MET: ({ worstError, unit }, say) =>
    `The best network still errs by ${say.spread(worstError, unit)}: the ends can be met, the shape between them cannot. Re-mark the dial, or use another sender.`,
  FLAT_ZONE: () => 'This gauge has a flat zone where the needle rests. No network can make it move there.',
  NETWORK_EXTRAPOLATED: ({ seenFromOhm, seenToOhm, measuredFromOhm, measuredToOhm }, say) =>
    `The gauge would see ${say.ohms(seenFromOhm, seenToOhm)}. It was measured from ${say.ohms(measuredFromOhm, measuredToOhm)} only; beyond that its reading is a guess.`,
  PART_OVERLOADED: ({ place, powerWatt }, say) =>
    `The resistor ${placeWords[place]} may have to carry ${say.number(powerWatt)} W. No ordinary part does that there: fuse it, or mount it elsewhere.`,
  TWO_TERMINALS_NEEDED: () => 'This works only if the gauge has two terminals, feed and sender. Count them.',
  SENDER_CURRENT_RISES: ({ milliamp, milliampBefore }, say) =>
    `The sender carries up to ${say.number(milliamp)} mA instead of ${say.number(milliampBefore)} mA. It heats itself more, and a stabiliser that feeds this gauge must bear the difference.`,
  DANGEROUS_FAILURE: ({ place, fails, needle, hides, unit }, say) =>
    `If the resistor ${placeWords[place]} goes ${fails === 'short' ? 'short' : 'open'}, the needle ${needleWords(needle, unit, say)}: it ${hiddenWords[hides]}. Solder or crimp it, relieve the strain, and keep a warning lamp of its own.`,
};
