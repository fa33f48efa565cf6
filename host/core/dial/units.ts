/** Units a dial may be printed in. Gallons differ: the United States one holds 231 cubic inches, the imperial 4.54609 L. */
export const dialUnits = {
  degC: { name: 'degree Celsius', kind: 'temperature' },
  degF: { name: 'degree Fahrenheit', kind: 'temperature' },
  kPa: { name: 'kilopascal', kind: 'pressure' },
  bar: { name: 'bar', kind: 'pressure' },
  psi: { name: 'pound-force per square inch', kind: 'pressure' },
  litre: { name: 'litre', kind: 'volume' },
  gallonUs: { name: 'United States gallon', kind: 'volume' },
  gallonImperial: { name: 'imperial gallon', kind: 'volume' },
} as const;

export type DialUnit = keyof typeof dialUnits;

/** Degrees Fahrenheit from degrees Celsius. Source: definition of the scale, F = 1.8 C + 32. */
export const degFFromDegC = (celsius: number): number => celsius * 1.8 + 32;

/** Degrees Celsius from degrees Fahrenheit. Source: definition of the scale, C = (F - 32) / 1.8. */
export const degCFromDegF = (fahrenheit: number): number => (fahrenheit - 32) / 1.8;

/** Kilopascal in a bar. Source: definition, 1 bar = 10^5 Pa. */
const KPA_PER_BAR = 100;
/** Kilopascal in a psi. Source: 0.45359237 kg x 9.80665 m/s^2 / (0.0254 m)^2, all exact by definition. */
const KPA_PER_PSI = (0.45359237 * 9.80665) / 0.0254 ** 2 / 1000;

/** Kilopascal from bar. Source: definition, 1 bar = 100 kPa. */
export const kPaFromBar = (bar: number): number => bar * KPA_PER_BAR;
/** Bar from kilopascal. Source: definition, 1 bar = 100 kPa. */
export const barFromKPa = (kPa: number): number => kPa / KPA_PER_BAR;
/** Kilopascal from psi. Source: pound and standard gravity as above, 1 psi = 6.894757... kPa. */
export const kPaFromPsi = (psi: number): number => psi * KPA_PER_PSI;
/** Psi from kilopascal. Source: as `kPaFromPsi`. */
export const psiFromKPa = (kPa: number): number => kPa / KPA_PER_PSI;
/** Psi from bar. Source: as `kPaFromPsi` and `kPaFromBar`. */
export const psiFromBar = (bar: number): number => psiFromKPa(kPaFromBar(bar));
/** Bar from psi. Source: as `kPaFromPsi` and `kPaFromBar`. */
export const barFromPsi = (psi: number): number => barFromKPa(kPaFromPsi(psi));

/** Litres in a United States gallon. Source: definition, 231 cubic inches of 16.387064 mL. */
const LITRE_PER_GALLON_US = 231 * 0.016387064;
/** Litres in an imperial gallon. Source: definition, 4.54609 L. */
const LITRE_PER_GALLON_IMPERIAL = 4.54609;

/** Litres from United States gallons. Source: definition, 3.785411784 L. */
export const litreFromGallonUs = (gallons: number): number => gallons * LITRE_PER_GALLON_US;
/** United States gallons from litres. Source: definition, 3.785411784 L. */
export const gallonUsFromLitre = (litres: number): number => litres / LITRE_PER_GALLON_US;
/** Litres from imperial gallons. Source: definition, 4.54609 L. */
export const litreFromGallonImperial = (gallons: number): number => gallons * LITRE_PER_GALLON_IMPERIAL;
/** Imperial gallons from litres. Source: definition, 4.54609 L. */
export const gallonImperialFromLitre = (litres: number): number => litres / LITRE_PER_GALLON_IMPERIAL;
/** Imperial gallons from United States gallons. Source: both definitions. */
export const gallonImperialFromGallonUs = (gallons: number): number =>
  gallonImperialFromLitre(litreFromGallonUs(gallons));
/** United States gallons from imperial gallons. Source: both definitions. */
export const gallonUsFromGallonImperial = (gallons: number): number =>
  gallonUsFromLitre(litreFromGallonImperial(gallons));
