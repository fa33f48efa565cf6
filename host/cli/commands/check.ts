import {
  cloudsOf,
  diagnose,
  loadsOf,
  type Clouds,
  type Diagnosis,
  type Reading,
  type TestName,
} from '../../core/diagnosis';
import { randomSource } from '../../core/numeric/random';
import { drawVehicle, measure, plantable, worthOf } from '../../core/simulated-vehicle';
import { nearest } from '../../core/text/nearest';
import { testName, valueWords } from '../../words/diagnosis';
import { plain } from '../../words/notation';
import { JSON_OPTION, type Command, type Report, type Surroundings } from '../command';
import { cannotFrom, CHECK_OPTIONS, seedFrom, subjectFrom } from '../input/check-options';
import { readFindings } from '../input/findings-file';
import { InputError } from '../input-error';
import type { Arguments } from '../options';
import { checkJson, checkText } from '../output/check-report';

/** Which part lies: the next test by what was measured so far. */
export const checkCommand: Command = {
  name: 'check',
  summary: 'which part lies, by what was measured so far, and the next most telling test',
  usage: '[FINDINGS.csv] --gauge FAMILY [options]',
  example: 'needlewright check findings.csv --gauge thermal-temperature --way meter',
  details: [
    'In: test, value and unit, a row for each reading in the order it was taken; a test read twice stands there twice.',
    'Needle places and steps are in % of the scale, a needle below it is negative; ohms may be "open"; questions are yes or no.',
    'Without a file it starts from nothing. Out: what is believed, in words; the evidence; what to do next and what',
    'to expect. Nothing is called sound or broken before a measurement that proves it.',
    '--simulate plants a fault (or two, by a comma; "sound" for none) and takes the whole check by itself.',
    'Loads go from the sender lead to battery negative. Never hold a hot-wire gauge on bare ground.',
    'Volts below zero ask which post of the battery is ground: positive ground is a fact and no fault.',
    'With the engine running the box is off. A fuel sender is parted at the dash, never at the tank.',
  ],
  options: {
    ...CHECK_OPTIONS,
    simulate: { kind: 'text', value: 'FAULT,...', help: 'check a simulated vehicle with this fault' },
    'positive-ground': { kind: 'flag', help: 'with --simulate: the battery\u2019s positive post is ground' },
    ...JSON_OPTION,
  },
  words: { least: 0, most: 1 },
  run,
};

async function run(given: Arguments, surroundings: Surroundings): Promise<Report> {
  const subject = subjectFrom(given);
  const skipped = cannotFrom(given);
  const planted = given.text('simulate');
  const [path] = given.words;
  if (planted !== undefined && path !== undefined)
    throw new InputError('give a file or --simulate, not both: a simulated vehicle measures itself');
  if (planted !== undefined) return simulated(given, planted);
  const readings = path === undefined ? [] : await readFindings(path, subject, surroundings);
  const found = diagnose(cloudsOf(subject, seedFrom(given)), { readings, skipped });
  return { text: checkText(found, skipped), json: checkJson(found, skipped) };
}

/** Where a simulated vehicle stands when nobody says so, part of the scale. */
const STANDS_AT = 0.3;
const WARM_AT = 0.7;
/** More readings than any check takes. */
const MOST_READINGS = 60;

function simulated(given: Arguments, planted: string): Report {
  const subject = { ...{ standsAt: STANDS_AT, warmStandsAt: WARM_AT }, ...subjectFrom(given) };
  const skipped = cannotFrom(given);
  const seed = seedFrom(given);
  const names = plantable(subject.family);
  const faults = planted.split(',').map((text) => {
    const name = names.find((each) => each === text.trim());
    if (name !== undefined) return name;
    const near = nearest(text.trim(), names);
    throw new InputError(
      `--simulate ${text}: ${near === undefined ? `the faults are ${names.join(', ')}` : `did you mean ${near}?`}`,
    );
  });
  const places = { coolPlace: subject.standsAt, warmPlace: subject.warmStandsAt };
  const loads = loadsOf(subject);
  const isPositiveGround = given.flag('positive-ground');
  const drawn = drawVehicle(subject.family, faults, randomSource(seed));
  const vehicle = { ...drawn, ...places, isPositiveGround };
  const twin = { ...drawVehicle(subject.family, [], randomSource(seed)), ...places };
  const observer = { random: randomSource(seed + 1), hasBox: subject.way === 'box', wrongDigits: 0, loads };
  const take = (test: TestName): Reading => ({ test, value: measure(vehicle, test, observer) });
  const { found, readings } = throughout(cloudsOf(subject, seed), skipped, take);
  const worth = worthOf(vehicle, twin);
  return {
    text: [
      `SIMULATED: ${faults.join(' and ')} in a ${given.text('gauge')}; it moves the needle by up to ${Math.round(100 * worth)} % of the scale.`,
      ...readings.map(({ test, value }) => `  ${testName(test)}: ${valueWords(test, value, plain)}`),
      '',
      ...checkText(found, skipped),
    ],
    json: {
      ...checkJson(found, skipped),
      simulated: {
        faults,
        worth_percent: 100 * worth,
        readings: readings.map(({ test, value }) => ({ test, value })),
      },
    },
  };
}

/** The whole check: whatever is next is measured, until nothing is. */
function throughout(
  clouds: Clouds,
  skipped: readonly TestName[],
  take: (test: TestName) => Reading,
): { readonly found: Diagnosis; readonly readings: readonly Reading[] } {
  const readings: Reading[] = [];
  for (;;) {
    const found = diagnose(clouds, { readings, skipped });
    if (found.next === undefined || readings.length >= MOST_READINGS) return { found, readings };
    readings.push(take(found.next.test));
  }
}
