/** Degrees Celsius from degrees Fahrenheit. Source: definition of the scale, C = (F - 32) / 1.8. */
export const degCFromDegF = (fahrenheit: number): number => (fahrenheit - 32) / 1.8;

/** Kilopascal in a bar. Source: definition, 1 bar = 10^5 Pa. */
const KPA_PER_BAR = 100;
/** Kilopascal in a psi. Source: 0.45359237 kg x 9.80665 m/s^2 / (0.0254 m)^2, all exact by definition. */
const KPA_PER_PSI = (0.45359237 * 9.80665) / 0.0254 ** 2 / 1000;

/** Kilopascal from bar. Source: definition, 1 bar = 100 kPa. */
export const kPaFromBar = (bar: number): number => bar * KPA_PER_BAR;
/** Kilopascal from psi. Source: pound and standard gravity as above, 1 psi = 6.894757... kPa. */
export const kPaFromPsi = (psi: number): number => psi * KPA_PER_PSI;

/** Litres in a United States gallon, which is the smaller one. Source: definition, 231 cubic inches of 16.387064 mL. */
const LITRE_PER_GALLON_US = 231 * 0.016387064;
/** Litres in an imperial gallon. Source: definition, 4.54609 L. */
const LITRE_PER_GALLON_IMPERIAL = 4.54609;

/** Litres from United States gallons. Source: definition, 3.785411784 L. */
export const litreFromGallonUs = (gallons: number): number => gallons * LITRE_PER_GALLON_US;
/** Litres from imperial gallons. Source: definition, 4.54609 L. */
export const litreFromGallonImperial = (gallons: number): number => gallons * LITRE_PER_GALLON_IMPERIAL;
