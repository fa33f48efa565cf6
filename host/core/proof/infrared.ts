import { kelvinFromCelsius, CELSIUS_ZERO_KELVIN } from '../units';

/** What such a thermometer is set to, and what shines around an engine. Common practice, no source. */
const USUAL_SETTING = 0.95;
const UNDER_BONNET_CELSIUS = 40;

/**
 * What an infrared thermometer shows, degC, on a surface of that temperature and emissivity: the surface's own radiation
 * and what it mirrors of its surroundings, taken for radiation of a surface of the set emissivity.
 * Source: Stefan-Boltzmann law of grey surfaces, whole spectrum; derived here.
 */
export const shownByInfrared = (
  trueCelsius: number,
  emissivity: number,
  { setting = USUAL_SETTING, aroundCelsius = UNDER_BONNET_CELSIUS } = {},
): number => {
  const [own, around] = [trueCelsius, aroundCelsius].map((celsius) => kelvinFromCelsius(celsius) ** 4);
  const seen = emissivity * own! + (setting - emissivity) * around!;
  return (seen / setting) ** 0.25 - CELSIUS_ZERO_KELVIN;
};
