import { ladderFromRows, largestStepOhm, type LadderRow } from '../../core/ladder';
import { LIMITER_ROW, RESIDUAL_ROW, printedOhm, type TableRow } from './element-table';

/** Within what a row of a sound box must lie. The same numbers stand in hardware-notes/calibration.md. */
export type Band = {
  readonly lowestOhm: number;
  readonly highestOhm: number;
  readonly highestUncertaintyOhm: number;
};

/** A 1 % part, the reference's 0.1 %, the divider's 0.05 % and some ageing; the box itself accepts 3 %. */
const ELEMENT_FRACTION = 0.015;
const LIMITER_FRACTION = 0.06;
/** A row is what its part adds: the closed contact that was there before takes off up to this at its end of life. */
const CONTACT_OHM = 0.1;
const NOISE_OHM = 0.03;
/** Fuse 0.35, shunt 0.5, leads 0.06 and sixteen contacts of 25 milliohm make 1.3 ohm; worn contacts and a cold day more. */
const RESIDUAL = { lowestOhm: 0.8, highestOhm: 2, highestUncertaintyOhm: 0.05 } as const;
const UNCERTAINTY_FRACTION = 0.0008;
const UNCERTAINTY_OHM = 0.01;

export function bandOf(index: number): Band {
  const printed = printedOhm(index);
  if (printed === undefined) return RESIDUAL;
  const fraction = index === LIMITER_ROW ? LIMITER_FRACTION : ELEMENT_FRACTION;
  return {
    lowestOhm: printed * (1 - fraction) - CONTACT_OHM,
    highestOhm: printed * (1 + fraction) + NOISE_OHM,
    highestUncertaintyOhm: UNCERTAINTY_OHM + printed * UNCERTAINTY_FRACTION,
  };
}

/** What to look at when a row reads too low, too high, or scatters. */
export function whatToCheck(index: number, trouble: 'low' | 'high' | 'scatter'): string {
  if (trouble === 'scatter') return 'a loose clip or a noisy supply: scrape the jaws bright, clip again';
  if (index === RESIDUAL_ROW) {
    return trouble === 'high'
      ? 'a dirty clip, a loose fuse F1, or a contact that does not close: scrape the jaws, reseat F1'
      : 'the clips touch each other, or SENDER is not on CAL +';
  }
  const contact = `K${index + 1}`;
  const part = `R${index + 1}`;
  return trouble === 'high'
    ? `the wrong resistor or a bad joint at ${part}: check what is printed on it, solder it anew`
    : `the wrong resistor or a solder bridge at ${part}, or the contact of ${contact} that does not open`;
}

/** Why a row cannot be right, with what to check; undefined when it can. */
export function objectionTo({ index, name, ohm, uncertaintyOhm }: TableRow): string | undefined {
  const { lowestOhm, highestOhm, highestUncertaintyOhm } = bandOf(index);
  const printed = printedOhm(index);
  const of = printed === undefined ? '' : ` (${printed} ohm printed)`;
  if (!(ohm >= lowestOhm && ohm <= highestOhm)) {
    const check = whatToCheck(index, ohm > highestOhm ? 'high' : 'low');
    return `${name} measures ${ohm.toFixed(3)} ohm, must be ${lowestOhm.toFixed(3)} to ${highestOhm.toFixed(3)}${of}; check ${check}`;
  }
  if (!(uncertaintyOhm <= highestUncertaintyOhm)) {
    return `${name} is uncertain by ${uncertaintyOhm.toFixed(3)} ohm, at most ${highestUncertaintyOhm.toFixed(3)} is sound; check ${whatToCheck(index, 'scatter')}`;
  }
  return undefined;
}

/** From one calibration to the next a sound box moves by less: resistors, contacts, and the reference's own drift. */
const DRIFT_FRACTION = 0.003;
const DRIFT_OHM = 0.05;
const COMMON_DRIFT_FRACTION = 0.0015;
/** Rows small enough to be ruled by contacts tell nothing about a common drift. */
const COMMON_FROM_OHM = 20;

/** What is worth a look though it can be right: rows that moved, and all rows moving together. */
export function driftWarnings(rows: readonly TableRow[], old: readonly TableRow[]): string[] {
  const warnings: string[] = [];
  const fractions: number[] = [];
  for (const { index, name, ohm } of rows) {
    const before = old.find((row) => row.index === index);
    if (before === undefined) continue;
    const moved = ohm - before.ohm;
    if (Math.abs(moved) > DRIFT_OHM + DRIFT_FRACTION * before.ohm)
      warnings.push(
        `${name} has moved from ${before.ohm.toFixed(3)} to ${ohm.toFixed(3)} ohm since the table before`,
      );
    if (before.ohm >= COMMON_FROM_OHM && index < LIMITER_ROW) fractions.push(moved / before.ohm);
  }
  fractions.sort((a, b) => a - b);
  const common = fractions[Math.floor(fractions.length / 2)] ?? 0;
  if (Math.abs(common) > COMMON_DRIFT_FRACTION)
    warnings.push(
      `all rows moved together by ${(common * 100).toFixed(2)} %: it is the reference resistor or the divider that has changed; check against an outside standard (--standard-ohm)`,
    );
  return warnings;
}

const LOWEST_USE_OHM = 5;
const HIGHEST_USE_OHM = 6000;

/** Largest step between neighbouring resistances the measured chain can make from 5 to 6000 ohm, or to its end, ohm. */
export function largestStepOf(rows: readonly TableRow[]): number {
  const ladderRows: LadderRow[] = rows.map(({ index, ohm, uncertaintyOhm }) => ({
    kind: index === RESIDUAL_ROW ? 2 : index === LIMITER_ROW ? 1 : 0,
    contactBit: index === RESIDUAL_ROW ? 255 : index,
    milliohm: ohm * 1000,
    uncertaintyMilliohm: uncertaintyOhm * 1000,
  }));
  const built = ladderFromRows(ladderRows);
  const mostOhm = rows.reduce((sum, { index, ohm }) => (index === LIMITER_ROW ? sum : sum + ohm), 0);
  return built.kind === 'refused'
    ? 0
    : largestStepOhm(built.ladder, LOWEST_USE_OHM, Math.min(HIGHEST_USE_OHM, mostOhm));
}
