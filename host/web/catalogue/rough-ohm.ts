import { shownPart } from '../parts/words';

const FIGURES = 3;

/** Ohms to put on, or that hang on a spread: a fourth figure is never known. */
export const roughOhm = (resistanceOhm: number): string =>
  shownPart(Number(resistanceOhm.toPrecision(FIGURES)));
