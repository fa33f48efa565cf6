import { boilingPoint, type BoilingPoint, type BoilingQuestion } from '../core/water';
import { JSON_OPTION, type Command, type Report } from './command';
import { InputError } from './input-error';
import type { Arguments } from './options';
import { textTable } from './text-table';

const PASCAL_PER_HECTOPASCAL = 100;

/** Where water boils here and now. */
export const boilCommand: Command = {
  name: 'boil',
  summary: 'the boiling point of water at an altitude or a pressure',
  usage: '[--altitude-m H | --pressure-hPa P] [--json]',
  details: [
    'Give the air pressure at the place itself, not the sea-level figure of a weather report. Without either: sea level.',
    'With an altitude the weather is unknown and counts as an uncertainty. Pure water, a rolling boil.',
  ],
  options: {
    'altitude-m': { kind: 'number', value: 'H', help: 'metres above sea level' },
    'pressure-hPa': { kind: 'number', value: 'P', help: 'absolute air pressure at the place' },
    ...JSON_OPTION,
  },
  words: { least: 0, most: 0 },
  run: (given) => Promise.resolve(boil(given)),
};

function boil(given: Arguments): Report {
  const found = boilingPoint(questionFrom(given));
  if (found.kind === 'refused') throw new InputError(found.message);
  return { text: boilText(found), json: boilJson(found) };
}

function questionFrom(given: Arguments): BoilingQuestion {
  const altitudeMetre = given.number('altitude-m');
  const pressureHectopascal = given.number('pressure-hPa');
  if (pressureHectopascal === undefined) return { altitudeMetre: altitudeMetre ?? 0 };
  if (altitudeMetre !== undefined)
    throw new InputError('give either --altitude-m or --pressure-hPa, not both');
  return { pressurePascal: pressureHectopascal * PASCAL_PER_HECTOPASCAL };
}

const boilText = (found: BoilingPoint): string[] => [
  `water boils at ${found.temperatureCelsius.toFixed(2)} degC (${found.temperatureFahrenheit.toFixed(2)} degF), +-${found.expandedUncertaintyKelvin.toFixed(2)} K (95 %)`,
  `  at ${(found.pressurePascal / PASCAL_PER_HECTOPASCAL).toFixed(1)} hPa; one hPa more or less moves it by ${found.kelvinPerHectopascal.toFixed(4)} K`,
  ...(found.kelvinPerMetre === null
    ? []
    : [
        `  one hundred metres up move it by ${(found.kelvinPerMetre * 100).toFixed(2)} K; read a barometer to leave the weather out`,
      ]),
  '',
  ...textTable(
    [{ title: 'contribution', align: 'left' }, { title: 'std uncertainty K' }],
    found.contributions.map(({ name, standardUncertaintyKelvin }) => [
      name,
      standardUncertaintyKelvin.toFixed(3),
    ]),
  ),
];

const boilJson = (found: BoilingPoint): Record<string, unknown> => ({
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
