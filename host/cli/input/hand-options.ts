import { partList } from '../../core/text/part-list';
import type { HandSetUp, HandTools } from '../../job/schema/by-hand';
import type { Surroundings } from '../command';
import { InputError } from '../input-error';
import type { Arguments, OptionTable } from '../options';
import { OHMMETER_OPTIONS } from './ohmmeter-options';
import { readText } from './input-file';

export const HAND_OPTIONS = {
  'by-hand': { kind: 'flag', help: 'without a box: you put resistors on, or turn a potentiometer' },
  parts: {
    kind: 'text',
    value: 'FILE',
    help: 'by hand: the resistors there are, one a line, as 150, 2 x 220 1W or 4k7 1/4W',
  },
  switch: { kind: 'flag', help: 'by hand: a change-over switch brings one resistor after the other on' },
  'potentiometer-ohm': { kind: 'number', value: 'R', min: 1, help: 'by hand: ohms of the whole track' },
  'potentiometer-watt': {
    kind: 'number',
    value: 'W',
    min: 0.01,
    help: 'by hand: what the whole track is rated',
  },
  'fixed-ohm': {
    kind: 'number',
    value: 'R',
    min: 0.1,
    help: 'by hand: the fixed resistor in series with the potentiometer',
  },
  'fixed-watt': { kind: 'number', value: 'W', min: 0.01, help: 'by hand: what the fixed resistor is rated' },
  'decade-ohm': { kind: 'number', value: 'R', min: 0.01, help: 'by hand: least step of a decade box' },
  'decade-most-ohm': { kind: 'number', value: 'R', min: 1, help: 'by hand: the most it makes' },
  'leads-ohm': {
    kind: 'number',
    value: 'R',
    min: 0,
    help: 'by hand: what the ohmmeter shows with its leads shorted; it is taken off',
  },
  'feed-V': {
    kind: 'number',
    value: 'V',
    min: 0.1,
    max: 60,
    help: 'by hand: the most volts at the gauge feed',
  },
  'gauge-ohm': { kind: 'number', value: 'R', min: 0.1, help: 'by hand: ohms of the gauge itself' },
  ...OHMMETER_OPTIONS,
} as const satisfies OptionTable;

const UNNAMED = 'ohmmeter';

/** What somebody without a box works with. Refuses what is missing, and a list of parts that is not understood. */
export async function handSetUpFrom(given: Arguments, surroundings: Surroundings): Promise<HandSetUp> {
  const percent = given.number('ohmmeter-percent');
  const ohm = given.number('ohmmeter-ohm');
  const leadsOhm = given.number('leads-ohm');
  const feedVolt = given.number('feed-V');
  const gaugeOhm = given.number('gauge-ohm');
  return {
    tools: await toolsFrom(given, surroundings),
    ohmmeter: {
      name: given.text('ohmmeter') ?? UNNAMED,
      ...(percent === undefined || percent === 0 ? {} : { limitPercent: percent }),
      ...(ohm === undefined ? {} : { limitOhm: ohm }),
      ...(leadsOhm === undefined ? {} : { leadsOhm }),
    },
    ...(feedVolt === undefined ? {} : { feedVolt }),
    ...(gaugeOhm === undefined ? {} : { gaugeOhm }),
  };
}

async function toolsFrom(given: Arguments, surroundings: Surroundings): Promise<HandTools> {
  const file = given.text('parts');
  const wholeOhm = given.number('potentiometer-ohm');
  const leastOhm = given.number('decade-ohm');
  const named = [file, wholeOhm, leastOhm].filter((each) => each !== undefined).length;
  if (named !== 1)
    throw new InputError(
      'by hand: give one of --parts FILE (resistors), --potentiometer-ohm R, --decade-ohm R',
    );
  if (file !== undefined) return partsFrom(file, given.flag('switch'), surroundings);
  if (wholeOhm !== undefined) return potentiometerFrom(given, wholeOhm);
  return { way: 'decade', leastOhm: leastOhm ?? 1, mostOhm: given.number('decade-most-ohm') ?? 10_000 };
}

async function partsFrom(file: string, hasSwitch: boolean, surroundings: Surroundings): Promise<HandTools> {
  const list = partList(await readText(file, surroundings));
  if (list.kind === 'refused') throw new InputError(`${file}: ${list.message}`);
  const parts = list.parts.map(({ resistanceOhm, ratingWatt, count }) => ({
    resistanceOhm,
    count,
    ...(ratingWatt === undefined ? {} : { ratingWatt }),
  }));
  return { way: 'resistors', parts, ...(hasSwitch ? { hasSwitch } : {}) };
}

function potentiometerFrom(given: Arguments, wholeOhm: number): HandTools {
  const ratingWatt = given.number('potentiometer-watt');
  const seriesOhm = given.number('fixed-ohm');
  const seriesWatt = given.number('fixed-watt');
  if (ratingWatt === undefined || seriesOhm === undefined || seriesWatt === undefined)
    throw new InputError(
      'by hand with a potentiometer: give --potentiometer-watt, --fixed-ohm and --fixed-watt too; the fixed resistor stays in series with it',
    );
  return { way: 'potentiometer', wholeOhm, ratingWatt, seriesOhm, seriesWatt };
}
