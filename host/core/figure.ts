/**
 * A number in a sentence for a person: four significant figures, no zeros at the end, no exponent for
 * ordinary ohms (dimensionless or in any unit).
 * Source: no gauge, sender or meter of this trade is known better.
 */
export const figure = (value: number): string => String(Number(value.toPrecision(4)));
