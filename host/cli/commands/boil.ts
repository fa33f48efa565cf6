import { boilingPoint, type BoilingPoint, type BoilingQuestion } from '../../core/water';
import { JSON_OPTION, type Command, type Report } from '../command';
import { InputError } from '../input-error';
import type { Arguments } from '../options';
import type { AnswerOf } from '../output/schemas';
import { textTable } from '../output/text-table';
import { plain } from '../../words/notation';
import { saidRefusal } from '../../words/refusal';

const PASCAL_PER_HECTOPASCAL = 100;
/** An inch of mercury. Source: NIST SP 811, Appendix B.8, conventional inch of mercury (from memory). */
const HECTOPASCAL_PER_INCH_MERCURY = 33.86389;
const HECTOPASCAL_PER_PSI = 68.94757;
/** Air that a person stands in: the top of the highest mountain to the bottom of the deepest valley, in any weather. */
const USUAL_HECTOPASCAL = 1013.25;
const LEAST_HECTOPASCAL = 300;
const MOST_HECTOPASCAL = 1100;

/** Where water boils here and now. */
export const boilCommand: Command = {
  name: 'boil',
  summary: 'the boiling point of water at an altitude or a pressure',
  usage: '[--altitude-m H | --pressure-hPa P | --pressure-inHg P] [--json]',
  example: 'needlewright boil --altitude-m 620',
  details: [
    'Give the air pressure at the place itself, not the sea-level figure of a weather report. Without either: sea level.',
    'With an altitude the weather is unknown and counts as an uncertainty. Pure water, a rolling boil.',
  ],
  options: {
    'altitude-m': { kind: 'number', value: 'H', help: 'metres above sea level' },
    'pressure-hPa': { kind: 'number', value: 'P', help: 'absolute air pressure at the place' },
    'pressure-inHg': { kind: 'number', value: 'P', help: 'the same in inches of mercury' },
    ...JSON_OPTION,
  },
  words: { least: 0, most: 0 },
  run: (given) => Promise.resolve(boil(given)),
};

function boil(given: Arguments): Report {
  const found = boilingPoint(questionFrom(given));
  if (found.kind === 'refused') throw new InputError(saidRefusal(found, plain));
  return {
    text: boilText(found),
    json: boilJson(found),
    warnings: mercuryHint(given.number('pressure-hPa')),
  };
}

/** A millimetre of mercury. Source: NIST SP 811, Appendix B.8, conventional millimetre of mercury (from memory). */
const HECTOPASCAL_PER_MILLIMETRE_MERCURY = 1.333224;
/** What a barometer in millimetres shows in a low valley, in any weather. Common practice, no source. */
const LEAST_MILLIMETRE = 730;
const MOST_MILLIMETRE = 790;

/** Air of a mountain that is more often a barometer's millimetres of mercury: taken as it was said, and asked about. */
function mercuryHint(hectopascal: number | undefined): string[] {
  if (hectopascal === undefined || hectopascal < LEAST_MILLIMETRE || hectopascal > MOST_MILLIMETRE) return [];
  const likely = Number((hectopascal * HECTOPASCAL_PER_MILLIMETRE_MERCURY).toPrecision(5));
  return [
    `${hectopascal} hPa is the air above 2000 m. Did you mean ${hectopascal} mmHg? Then write --pressure-hPa ${likely}`,
  ];
}

function questionFrom(given: Arguments): BoilingQuestion {
  const altitudeMetre = given.number('altitude-m');
  const inHectopascal = given.number('pressure-hPa');
  const inMercury = given.number('pressure-inHg');
  if ([altitudeMetre, inHectopascal, inMercury].filter((one) => one !== undefined).length > 1)
    throw new InputError('give one of --altitude-m, --pressure-hPa and --pressure-inHg');
  if (inMercury !== undefined) return pressure('--pressure-inHg', inMercury, HECTOPASCAL_PER_INCH_MERCURY);
  if (inHectopascal !== undefined) return pressure('--pressure-hPa', inHectopascal, 1);
  return { altitudeMetre: altitudeMetre ?? 0 };
}

/** Throws InputError for air that no person stands in, with the unit that was likely meant; nothing is converted unasked. */
function pressure(option: string, value: number, hectopascalPerUnit: number): BoilingQuestion {
  const hectopascal = value * hectopascalPerUnit;
  if (isAir(hectopascal)) return { pressurePascal: hectopascal * PASCAL_PER_HECTOPASCAL };
  const [likely] = LIKELY_UNITS.filter(({ hectopascalPer }) => isAir(value * hectopascalPer)).sort(
    (one, two) => fromUsual(value * one.hectopascalPer) - fromUsual(value * two.hectopascalPer),
  );
  const meant =
    likely === undefined ? '' : `; did you mean ${value} ${likely.unit}? write ${likely.write(value)}`;
  throw new InputError(
    `${option} ${value}: air pressure lies between ${LEAST_HECTOPASCAL} and ${MOST_HECTOPASCAL} hPa wherever people stand${meant}`,
  );
}

/** How far from the usual air, by its ratio. */
const fromUsual = (hectopascal: number): number => Math.abs(Math.log(hectopascal / USUAL_HECTOPASCAL));

const isAir = (hectopascal: number): boolean =>
  hectopascal >= LEAST_HECTOPASCAL && hectopascal <= MOST_HECTOPASCAL;

const asHectopascal =
  (hectopascalPer: number) =>
  (value: number): string =>
    `--pressure-hPa ${Number((value * hectopascalPer).toPrecision(6))}`;

const LIKELY_UNITS = [
  {
    unit: 'inHg',
    hectopascalPer: HECTOPASCAL_PER_INCH_MERCURY,
    write: (value: number): string => `--pressure-inHg ${value}`,
  },
  { unit: 'hPa', hectopascalPer: 1, write: asHectopascal(1) },
  { unit: 'Pa', hectopascalPer: 0.01, write: asHectopascal(0.01) },
  { unit: 'kPa', hectopascalPer: 10, write: asHectopascal(10) },
  { unit: 'bar', hectopascalPer: 1000, write: asHectopascal(1000) },
  { unit: 'psi', hectopascalPer: HECTOPASCAL_PER_PSI, write: asHectopascal(HECTOPASCAL_PER_PSI) },
];

const boilText = (found: BoilingPoint): string[] => [
  `water boils at ${found.temperatureCelsius.toFixed(2)} degC (${found.temperatureFahrenheit.toFixed(2)} degF), \u00b1${found.expandedUncertaintyKelvin.toFixed(2)} degC (95 %)`,
  `  at ${(found.pressurePascal / PASCAL_PER_HECTOPASCAL).toFixed(1)} hPa; one hPa more or less moves it by ${found.kelvinPerHectopascal.toFixed(4)} degC`,
  ...(found.kelvinPerMetre === null
    ? []
    : [
        `  one hundred metres up move it by ${(found.kelvinPerMetre * 100).toFixed(2)} degC; read a barometer to leave the weather out`,
      ]),
  '',
  ...textTable(
    [{ title: 'contribution', align: 'left' }, { title: 'std uncertainty degC' }],
    found.contributions.map(({ name, standardUncertaintyKelvin }) => [
      name,
      standardUncertaintyKelvin.toFixed(3),
    ]),
  ),
];

const boilJson = (found: BoilingPoint): AnswerOf<'boil'> => ({
  schema: 'needlewright/boil/1',
  pressure_hPa: found.pressurePascal / PASCAL_PER_HECTOPASCAL,
  temperature_C: found.temperatureCelsius,
  temperature_F: found.temperatureFahrenheit,
  sensitivity_K_per_hPa: found.kelvinPerHectopascal,
  sensitivity_K_per_m: found.kelvinPerMetre,
  standard_uncertainty_K: found.standardUncertaintyKelvin,
  expanded_uncertainty_K: found.expandedUncertaintyKelvin,
  coverage_factor: 2,
  contributions: found.contributions.map(({ name, standardUncertaintyKelvin }) => ({
    name,
    standard_uncertainty_K: standardUncertaintyKelvin,
  })),
});
