import type { CheckFinding } from '../findings';
import type { Measurement } from '../state/state';
import { DEAD_WIRE_VOLT } from './contradictions';
import { measured } from './measured';
import type { CheckFacts } from './not-asked';

/** What a measurement means by itself, in words. `look`: worth a second thought; `bad`: a fault as it stands. */
export type Judgement = { readonly grade: 'good' | 'look' | 'bad' | 'plain'; readonly words: string };

/** Volts between which the feed of a 12 V gauge is believed. Common practice, no source. */
export const LOWEST_SUPPLY_VOLT = 11.5;
export const HIGHEST_SUPPLY_VOLT = 15;
/** A working stabiliser takes more than this off the supply. Common practice, no source. */
export const UNCHOPPED_PART = 0.97;
/** A ground that is worth less is no fault of the reading; one that is worth more is cured first. Common practice, no source. */
const GOOD_GROUND_PART = 0.015;
export const BAD_GROUND_PART = 0.05;
/** A sender outside its family's range by more than this is open, shorted or of another family. Common practice, no source. */
export const FAMILY_ROOM = 1.5;
/** What a healthy contact stays under where lead ohms are taken off. Common practice, no source. */
const SHORT_OHM = 1;
/** Heaters and coils of gauges between their terminals. Common practice, no source. */
const GAUGE_OHM = { lowest: 5, highest: 1000 } as const;

const judgement = (grade: Judgement['grade'], words: string): Judgement => ({ grade, words });

const ofSupply = ({ value }: Measurement): Judgement => {
  const volt = Math.abs(value);
  if (volt < LOWEST_SUPPLY_VOLT)
    return judgement('bad', `Low: a 12 V gauge wants ${LOWEST_SUPPLY_VOLT} V or more.`);
  if (volt > HIGHEST_SUPPLY_VOLT)
    return judgement('bad', `High: more than ${HIGHEST_SUPPLY_VOLT} V is too much for a 12 V gauge.`);
  return judgement('good', 'As it should be.');
};

const ofOpenWire = ({ value }: Measurement): Judgement =>
  Math.abs(value) < DEAD_WIRE_VOLT
    ? judgement('bad', 'Next to nothing comes through the gauge: a broken feed, wire, coil or heater.')
    : judgement('good', 'The gauge lets its feed through.');

/** Millivolts say nothing by themselves: what they are worth on this dial does. */
const ofGround = ({ loads }: Measurement, worth: CheckFinding | undefined): Judgement => {
  const size = worth?.groundWorth[loads === 'lights' ? 'lights' : 'off'];
  if (size === undefined)
    return judgement(
      'plain',
      'What it is worth on this dial is known once supply and the usual sender range are: no verdict by millivolts alone.',
    );
  if (size.partOfScale > BAD_GROUND_PART) return judgement('bad', `Too much: ${size.words}.`);
  if (size.partOfScale > GOOD_GROUND_PART) return judgement('look', `It shows: ${size.words}.`);
  return judgement('good', `No matter: ${size.words}.`);
};

const ofBody = (worth: CheckFinding | undefined): Judgement => {
  const size = worth?.bodyWorth;
  if (size === undefined)
    return judgement('plain', 'What it is worth on this dial is not known without the usual sender range.');
  if (size.partOfScale > BAD_GROUND_PART)
    return judgement('bad', `Too much in the sender\u2019s ground: ${size.words}.`);
  return judgement(
    size.partOfScale > GOOD_GROUND_PART ? 'look' : 'good',
    `In the sender\u2019s ground: ${size.words}.`,
  );
};

const ofHeat = ({ value }: Measurement, facts: CheckFacts): Judgement => {
  const supply = measured(facts, 'supply-volt');
  if (supply === undefined) return judgement('plain', 'Compared with the supply once that is measured.');
  const isWhole = Math.abs(value) > UNCHOPPED_PART * Math.abs(supply.value);
  if (!isWhole) return judgement('good', 'Less than the supply: something regulates it.');
  return facts.gauge.mechanism === 'thermal'
    ? judgement('bad', 'All of the supply: the stabiliser is stuck closed, or none is fitted.')
    : judgement('plain', 'All of the supply: nothing regulates it.');
};

const ofSender = ({ value }: Measurement, { gauge }: CheckFacts): Judgement => {
  const { family } = gauge;
  if (family === undefined) return judgement('plain', 'No usual range was given to compare it with.');
  const [lowest, highest] = [family.lowEndOhm, family.highEndOhm].sort((a, b) => a - b);
  const range = `usual: ${lowest} to ${highest} ohm`;
  if (lowest === undefined || highest === undefined) return judgement('plain', '');
  if (value > FAMILY_ROOM * highest)
    return judgement(
      'look',
      `Above what such a sender has (${range}): open, or of another family. A cold one may be a little above.`,
    );
  if (value < Math.min(lowest / FAMILY_ROOM, lowest - SHORT_OHM))
    return judgement('bad', `Below what such a sender has (${range}): shorted, or of another family.`);
  return judgement('good', `Within what such a sender has (${range}).`);
};

const ofGauge = ({ value }: Measurement): Judgement =>
  value < GAUGE_OHM.lowest || value > GAUGE_OHM.highest
    ? judgement(
        'look',
        `Unusual: ${GAUGE_OHM.lowest} to ${GAUGE_OHM.highest} ohm are common. Were both wires off?`,
      )
    : judgement('good', 'As such gauges have.');

/** What one measurement of the check means by itself. Contradictions with others are told apart from it. */
export const judge = (measurement: Measurement, facts: CheckFacts, worth?: CheckFinding): Judgement => {
  switch (measurement.what) {
    case 'supply-volt':
      return ofSupply(measurement);
    case 'open-circuit-volt':
      return ofOpenWire(measurement);
    case 'ground-offset-volt':
      return ofGround(measurement, worth);
    case 'effective-volt':
      return ofHeat(measurement, facts);
    case 'gauge-ohm':
      return ofGauge(measurement);
    case 'sender-ohm':
      return ofSender(measurement, facts);
    case 'sender-body-ohm':
      return ofBody(worth);
    case 'ripple-volt':
    case 'sender-wire-ohm':
    case 'sender-stud-volt':
    case 'temperature-celsius':
    case 'loaded-volt':
      return judgement('plain', 'Kept; it is weighed together with the others.');
  }
};
