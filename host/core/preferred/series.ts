/** Values of one decade, in whole digits: two digits up to E24, three from E48 on. Source: IEC 60063:2015, Tables 1 and 2. */
const decadeDigits = {
  E3: [10, 22, 47],
  E6: [10, 15, 22, 33, 47, 68],
  E12: [10, 12, 15, 18, 22, 27, 33, 39, 47, 56, 68, 82],
  // Not the geometric formula: 27 to 47 and 82 are historical.
  E24: [10, 11, 12, 13, 15, 16, 18, 20, 22, 24, 27, 30, 33, 36, 39, 43, 47, 51, 56, 62, 68, 75, 82, 91],
  E48: geometricDecade(48),
  E96: geometricDecade(96),
  E192: geometricDecade(192),
} as const;

export type SeriesName = keyof typeof decadeDigits;

/** The usual tolerance of parts of each series, percent. Source: IEC 60063:2015; E3 has none of its own (over 20 %). */
export const seriesTolerancePercent: Readonly<Record<SeriesName, number>> = {
  E3: 20,
  E6: 20,
  E12: 10,
  E24: 5,
  E48: 2,
  E96: 1,
  E192: 0.5,
};

export const seriesNames: readonly SeriesName[] = ['E3', 'E6', 'E12', 'E24', 'E48', 'E96', 'E192'];

export const isSeriesName = (text: string): text is SeriesName => seriesNames.some((name) => name === text);

/** Digits of one decade of a series, ascending (10, 15, 22 ... or 100, 102, 105 ...). Source: IEC 60063:2015. */
export const seriesDigits = (series: SeriesName): readonly number[] => decadeDigits[series];

/** Three digits of 10^(i/N). Source: IEC 60063:2015, 4.2; E192 has 920 where the formula gives 919. */
function geometricDecade(count: 48 | 96 | 192): readonly number[] {
  return Array.from({ length: count }, (_, index) => {
    const digits = Math.round(100 * 10 ** (index / count));
    return digits === 919 ? 920 : digits;
  });
}
