import {
  families,
  isTestName,
  testNames,
  waysOfWorking,
  type FamilyName,
  type GaugeFamily,
  type Subject,
  type TestName,
} from '../../core/diagnosis';
import { nearest } from '../../core/text/nearest';
import { InputError } from '../input-error';
import type { Arguments } from '../options';

const isFamily = (name: string): name is FamilyName => Object.hasOwn(families, name);
const familyNames = Object.keys(families).filter(isFamily);

const MOST_OHM = 100_000;

export const CHECK_OPTIONS = {
  gauge: { kind: 'choice', choices: familyNames, help: 'kind of gauge with its sender' },
  ends: {
    kind: 'numbers',
    value: 'LOW,HIGH',
    help: 'ohms of the sender at the low and the high end of the dial',
  },
  'gauge-ohm': {
    kind: 'number',
    value: 'R',
    min: 1,
    max: MOST_OHM,
    help: 'heater, limiting coil or pull-up',
  },
  'heat-V': { kind: 'number', value: 'V', min: 1, max: 16, help: 'what the stabiliser is meant to hold' },
  'stands-at': {
    kind: 'number',
    value: 'P',
    min: -10,
    max: 110,
    help: 'where the needle should stand now by a reference, in % of the scale',
  },
  'warm-at': { kind: 'number', value: 'P', min: -10, max: 110, help: 'the same with the engine hot' },
  'middle-load': { kind: 'number', value: 'R', min: 1, max: MOST_OHM, help: 'the known load you have, ohm' },
  'lowest-load': { kind: 'number', value: 'R', min: 1, max: MOST_OHM, help: 'the smallest known load, ohm' },
  way: { kind: 'choice', choices: waysOfWorking, help: 'what you work with; box when left out' },
  cannot: { kind: 'text', value: 'TEST,...', help: 'tests that cannot be done' },
  seed: {
    kind: 'number',
    value: 'S',
    min: 0,
    max: 2 ** 31,
    isWhole: true,
    help: 'the same seed, the same answer',
  },
} as const;

const PER_CENT = 100;
const DEFAULT_SEED = 1;

/** What is known before anything is measured. Throws InputError. */
export function subjectFrom(given: Arguments): Subject {
  const name = familyNames.find((each) => each === given.text('gauge'));
  if (name === undefined) throw new InputError(`--gauge is missing: one of ${familyNames.join(', ')}`);
  const standsAt = given.number('stands-at');
  const warmStandsAt = given.number('warm-at');
  const middleOhm = given.number('middle-load');
  const lowestOhm = given.number('lowest-load');
  return {
    family: familyFrom(given, families[name]),
    way: waysOfWorking.find((way) => way === given.text('way')) ?? 'box',
    ...(standsAt === undefined ? {} : { standsAt: standsAt / PER_CENT }),
    ...(warmStandsAt === undefined ? {} : { warmStandsAt: warmStandsAt / PER_CENT }),
    ...(middleOhm === undefined ? {} : { middleOhm }),
    ...(lowestOhm === undefined ? {} : { lowestOhm }),
  };
}

function familyFrom(given: Arguments, family: GaugeFamily): GaugeFamily {
  const ends = given.numbers('ends');
  const [lowEndOhm = family.lowEndOhm, highEndOhm = family.highEndOhm] = ends ?? [];
  if (ends !== undefined && (ends.length !== 2 || !ends.every((ohm) => ohm >= 0 && ohm <= MOST_OHM)))
    throw new InputError(`--ends wants two numbers of ohms, low end first, as 320,40; 0 to ${MOST_OHM}`);
  if (lowEndOhm === highEndOhm) throw new InputError('--ends: both ends of the dial have the same ohms');
  return {
    ...family,
    ...{ lowEndOhm, highEndOhm },
    gaugeOhm: given.number('gauge-ohm') ?? family.gaugeOhm,
    feedVolt: given.number('heat-V') ?? family.feedVolt,
  };
}

export const seedFrom = (given: Arguments): number => given.number('seed') ?? DEFAULT_SEED;

/** Tests that somebody said cannot be done. Throws InputError for a name that is none. */
export const cannotFrom = (given: Arguments): readonly TestName[] =>
  (given.text('cannot') ?? '')
    .split(/[,;]/)
    .map((name) => name.trim())
    .filter((name) => name !== '')
    .map((name) => testFrom(name, '--cannot'));

/** A test by its name. Throws InputError, naming the nearest. */
export function testFrom(name: string, where: string): TestName {
  const word = name
    .trim()
    .toLowerCase()
    .replace(/[\s_]+/g, '-');
  if (isTestName(word)) return word;
  const near = nearest(word, testNames);
  const hint = near === undefined ? `the tests are ${testNames.join(', ')}` : `did you mean ${near}?`;
  throw new InputError(`${where} "${name}" is no test; ${hint}`);
}
