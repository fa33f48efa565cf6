import { contradictions, DEAD_WIRE_VOLT } from '../../../job/check/contradictions';
import {
  BAD_GROUND_PART,
  FAMILY_ROOM,
  HIGHEST_SUPPLY_VOLT,
  LOWEST_SUPPLY_VOLT,
  UNCHOPPED_PART,
} from '../../../job/check/judge';
import { measured } from '../../../job/check/measured';
import { notAsked, question, type CheckFacts } from '../../../job/check/not-asked';
import type { CheckFinding, DialWorth } from '../../../job/findings';
import type { JobState } from '../../../job/state/state';
import { checkPlan } from './check-plan';
import { measuredWords } from '../../../words/measured';
import { shownReading } from '../../parts/words';
import { asSentence, capital } from '../../../words/sentence';

export type Finding = NonNullable<JobState['conclusion']>['finding'];
type Facts = CheckFacts & Pick<JobState, 'asFound'>;
type Pointed = readonly [finding: Finding, sentence: string];

export type Suggestion = {
  readonly finding: Finding;
  readonly sentence: string;
  readonly evidence: readonly string[];
  /** What "sound" is never said without, and nobody asked. */
  readonly notAsked: readonly string[];
};

/** What is wrong with the feed, if anything; it is ruled out before the curve is blamed. */
function feedFault(facts: Facts): Pointed | undefined {
  const supply = measured(facts, 'supply-volt', 'off')?.value;
  const volt = supply === undefined ? undefined : Math.abs(supply);
  if (volt !== undefined && (volt < LOWEST_SUPPLY_VOLT || volt > HIGHEST_SUPPLY_VOLT))
    return ['supply-fault', `The gauge gets ${volt.toFixed(2)} V: put the supply right first.`];
  const heat = measured(facts, 'effective-volt', 'off')?.value;
  const { mechanism } = facts.gauge;
  if (mechanism === 'thermal' && volt !== undefined && Math.abs(heat ?? 0) > UNCHOPPED_PART * volt) {
    return [
      'stabiliser-fault',
      'The whole supply heats the gauge: the stabiliser is stuck closed, or none is fitted. Put that right before any sweep.',
    ];
  }
  if (facts.answers[question.otherGauges] !== 'yes') return undefined;
  return mechanism === 'thermal' || mechanism === 'unknown'
    ? ['stabiliser-fault', 'Several gauges are wrong the same way: suspect the stabiliser or its ground.']
    : ['supply-fault', 'Several gauges are wrong the same way: suspect what they share, feed or ground.'];
}

const isTooMuch = (worth: DialWorth | undefined): worth is DialWorth =>
  worth !== undefined && worth.partOfScale > BAD_GROUND_PART;

/** A ground is a fault by what it is worth on the dial, never by its millivolts. */
function groundFault({ answers }: Facts, worth: CheckFinding | undefined): Pointed | undefined {
  const grounds = [worth?.groundWorth.lights, worth?.groundWorth.off];
  const cure = 'clean and tighten it, then read the needle again before any sweep';
  const large = grounds.find(isTooMuch);
  if (large !== undefined) return ['ground-fault', `A ground is bad, ${large.words}: ${cure}.`];
  if (isTooMuch(worth?.bodyWorth))
    return ['ground-fault', `The sender\u2019s own ground is bad, ${worth.bodyWorth.words}: ${cure}.`];
  if (answers[question.lights] !== 'yes') return undefined;
  const size = grounds.find((each) => each !== undefined);
  return [
    'ground-fault',
    `The needle steps with the lights: a ground is bad${size === undefined ? '' : `, ${size.words}`}. ${capital(cure)}.`,
  ];
}

/** A needle that stays with its wire off is told apart by the volts on that wire. */
function wireFault(facts: Facts): Pointed | undefined {
  if (facts.answers[question.senderOff] !== 'stays') return undefined;
  const open = measured(facts, 'open-circuit-volt')?.value;
  if (open === undefined) {
    return [
      'undetermined',
      'The needle stays with the sender wire off. The volts on that wire would tell a wire down to ground from a sender that was open before, and were not measured.',
    ];
  }
  return Math.abs(open) < DEAD_WIRE_VOLT
    ? [
        'wire-fault',
        'The needle stays with the sender wire off and no volts come: look for a wire down to ground.',
      ]
    : undefined;
}

/** What the gauge does on a resistor that is known, and whether anything reaches the wire at all. */
function gaugeFault(facts: Facts): Pointed | undefined {
  const open = measured(facts, 'open-circuit-volt', 'off')?.value;
  if (open !== undefined && Math.abs(open) < DEAD_WIRE_VOLT) {
    return [
      'gauge-suspect',
      'Nothing comes through the gauge to the sender wire: look for a broken feed, wire, coil or heater.',
    ];
  }
  const onLoad = facts.answers[question.knownLoad];
  if (onLoad === 'still') {
    return [
      'gauge-suspect',
      'The needle does not move with a known resistor: the gauge, its feed or the wire to it.',
    ];
  }
  if (onLoad === 'elsewhere') {
    return [
      'gauge-suspect',
      'With a known resistor the needle stands elsewhere than such gauges do: the gauge, its feed or its ground, not the sender alone. A sweep tells its curve.',
    ];
  }
  return facts.answers[question.bothWays] === 'no'
    ? ['gauge-suspect', 'The needle stops short on each side: it sticks.']
    : undefined;
}

function senderFault(facts: Facts): Pointed | undefined {
  if (facts.answers[question.rocking] === 'yes')
    return [
      'sender-suspect',
      'The needle jumps when the vehicle is rocked: a worn track, or a loose contact.',
    ];
  const ohm = measured(facts, 'sender-ohm')?.value;
  const { family } = facts.gauge;
  if (ohm === undefined || family === undefined) return undefined;
  const [lowest, highest] = [
    Math.min(family.lowEndOhm, family.highEndOhm),
    Math.max(family.lowEndOhm, family.highEndOhm),
  ];
  const range = `usual for it: ${lowest} to ${highest} ohm`;
  // A cold thermistor has far more than at the low end of its dial.
  const ceiling = facts.gauge.quantity === 'temperature' ? COLD_ROOM * highest : FAMILY_ROOM * highest;
  if (ohm > ceiling)
    return ['sender-suspect', `The sender has ${figures(ohm)} ohm (${range}): open, or of another family.`];
  return ohm < lowest / FAMILY_ROOM && lowest - ohm > SHORT_OHM
    ? ['sender-suspect', `The sender has ${figures(ohm)} ohm (${range}): shorted, or of another family.`]
    : undefined;
}

/** From 50 degC down to a frosty yard a thermistor rises about so much. Source: exp(B/T), B = 3,900 K, 323 K to 263 K. */
const COLD_ROOM = 15;
const SHORT_OHM = 1;
const SIGNIFICANT = 3;
const figures = (value: number): string => String(Number(value.toPrecision(SIGNIFICANT)));

/** What the answers point to, worst first, with the evidence in words. A person decides; this only proposes. */
export function suggestFinding(facts: Facts, worth?: CheckFinding): Suggestion {
  const missing = notAsked(facts);
  const [disagreement] = contradictions(facts, worth);
  const [finding, sentence] =
    (disagreement === undefined
      ? undefined
      : (['undetermined', `These do not fit together. ${asSentence(disagreement.says)}`] as const)) ??
    wireFault(facts) ??
    groundFault(facts, worth) ??
    feedFault(facts) ??
    gaugeFault(facts) ??
    senderFault(facts) ??
    nothingWrong(missing);
  return { finding, sentence, evidence: evidenceOf(facts, worth), notAsked: missing };
}

const nothingWrong = (missing: readonly string[]): Pointed =>
  missing.length === 0
    ? [
        'sound',
        'Everything was asked and the circuit is sound. If the needle is wrong all the same, the sweep tells whose curve it is.',
      ]
    : ['nothing-found', 'Nothing found so far. That is not \u201csound\u201d: some of it was not asked.'];

function evidenceOf(state: Facts, worth?: CheckFinding): string[] {
  const found = state.asFound.map(
    (each) =>
      `as found (${each.state}): needle ${each.atStop === undefined ? `at ${shownReading(each.indicated, state.gauge)}` : `on the ${each.atStop} stop`}` +
      (each.reference === undefined ? '' : `, reference ${shownReading(each.reference, state.gauge)}`),
  );
  const newest = state.measurements.filter((each) => measured(state, each.what, each.loads) === each);
  const answers = checkPlan(state).flatMap((step) => {
    if (step.kind !== 'question') return [];
    const answer = state.answers[step.question.id];
    const words = step.question.answers.find((each) => each.value === answer)?.words;
    return words === undefined ? [] : [`${step.question.asks} ${words}`];
  });
  return [...found, ...newest.map((each) => measuredWords(each, worth)), ...(worth?.lines ?? []), ...answers];
}
