import type { Column, TableProblem } from './columns';

type Point = { readonly row: number; readonly value: number; readonly resistanceOhm: number };

/** A step between neighbours that no sender makes, and how much smoother it must be once the small ones are kilohms. */
const LEAST_JUMP = 50;
const SMOOTHER = 5;
/** Of fewer points nobody can say which way the rest of the table runs. */
const LEAST_POINTS = 4;
const OHM_PER_KILOHM = 1000;

/**
 * Ohms and kilohms in one column that does not say so: neighbours (in order of value) jump by a factor of fifty or more,
 * and with the small figures read as kilohms the table falls or rises smoothly. Asked, never changed.
 * Source: derived here; a thermistor of B = 4000 K changes by a factor of 9 from 20 to 80 degC.
 */
export function mixedScales(points: readonly Point[], resistance: Column): TableProblem | undefined {
  const sorted = points.filter((point) => point.resistanceOhm > 0).sort((a, b) => a.value - b.value);
  const ohms = sorted.map((point) => point.resistanceOhm);
  if (ohms.length < LEAST_POINTS) return undefined;
  const jump = largestStep(ohms);
  if (!(jump.factor >= LEAST_JUMP)) return undefined;
  const limit = Math.sqrt(jump.low * jump.high);
  const scaled = ohms.map((ohm) => (ohm < limit ? ohm * OHM_PER_KILOHM : ohm));
  if (!isMonotone(scaled) || largestStep(scaled).factor * SMOOTHER > jump.factor) return undefined;
  const small = sorted.filter((point) => point.resistanceOhm < limit);
  const rows = small.map((point) => point.row).sort((a, b) => a - b);
  return {
    kind: 'problem',
    code: 'TABLE_UNITS_DIFFER',
    message: `from ${jump.low} to ${jump.high} ohm between neighbours: are the figures of row ${rows.join(', ')} kilohms? Write one unit for the whole column`,
    row: rows[0],
    column: resistance.title,
    ask: { stem: 'resistance', units: [resistance.unit?.name ?? 'ohm'] },
  };
}

function largestStep(ohms: readonly number[]): {
  readonly factor: number;
  readonly low: number;
  readonly high: number;
} {
  let largest = { factor: 1, low: 1, high: 1 };
  for (const [index, ohm] of ohms.entries()) {
    const before = ohms[index - 1];
    if (before === undefined) continue;
    const [low, high] = [Math.min(ohm, before), Math.max(ohm, before)];
    if (high / low > largest.factor) largest = { factor: high / low, low, high };
  }
  return largest;
}

const isMonotone = (ohms: readonly number[]): boolean => {
  const rises = ohms.slice(1).map((ohm, index) => Math.sign(ohm - (ohms[index] ?? ohm)));
  return !(rises.includes(1) && rises.includes(-1));
};
