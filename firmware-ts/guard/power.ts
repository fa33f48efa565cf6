import {
  constructions,
  elementLimitMilliwatt,
  elements,
  path,
  usableRatingFraction,
} from '../board/reference-design';
import { elementCount, isInserted, limiterRow } from '../ladder/table';
import type { ElementTable } from '../ladder/table';
import type { Guard, GuardView } from './guard';

/** What each resistor may carry for good, milliwatt. */
export const ratedLimitMilliwatt = (row: number): number =>
  row === limiterRow
    ? path.limiter.ratedMilliwatt * usableRatingFraction
    : elementLimitMilliwatt(elements[row]!);

const timeConstantMs = (row: number): number =>
  row === limiterRow
    ? constructions.wirewound.timeConstantMs
    : constructions[elements[row]!.construction].timeConstantMs;

/** The enclosure follows its resistors in about a minute: from memory, to be measured on the first build. */
const BOX_TIME_CONSTANT_MS = 60_000;
/** No resistor bears more than this many times its limit, however short. Common practice, no source. */
const SHORT_OVERLOAD = 6;

const MICROAMP_PER_AMP = 1e6;

const rowMilliwatt = (view: Readonly<GuardView>, table: ElementTable, row: number): number => {
  const amp = view.currentMicroamp / MICROAMP_PER_AMP;
  return isInserted(view.contactMask, row) ? amp * amp * table.milliohm[row]! : 0;
};

/** First-order heating: what a resistor feels of a power that comes and goes. */
const heated = (heat: number, power: number, part: number): number =>
  heat + (power - heat) * Math.min(1, part);

/** Opens when a resistor has been heated above its limit, or is far above it at this instant. */
export function elementPowerGuard(): Guard {
  const heat = new Float64Array(elementCount + 1);
  return {
    check: (view, { limits, table }) => {
      for (let row = 0; row <= limiterRow; row += 1) {
        const limit = Math.min(limits.elementPowerLimitMilliwatt, ratedLimitMilliwatt(row));
        const power = view.isOutputClosed ? rowMilliwatt(view, table, row) : 0;
        // What was not measured counts as far too much.
        const known = Number.isFinite(power) ? power : SHORT_OVERLOAD * limit;
        heat[row] = heated(heat[row]!, known, view.elapsedMs / timeConstantMs(row));
        const measured = power > SHORT_OVERLOAD * limit ? power : heat[row]!;
        if (view.isArmed && !(measured <= limit)) return { fault: 'ELEMENT_POWER', measured, limit };
      }
      return undefined;
    },
    reset: () => undefined,
  };
}

/** Opens when the box as a whole has been heated above its limit. */
export function totalPowerGuard(): Guard {
  let heat = 0;
  return {
    check: (view, { limits }) => {
      const power = view.isOutputClosed
        ? (view.currentMicroamp / MICROAMP_PER_AMP) ** 2 * view.madeMilliohm
        : 0;
      const limit = limits.totalPowerLimitMilliwatt;
      heat = heated(
        heat,
        Number.isFinite(power) ? power : SHORT_OVERLOAD * limit,
        view.elapsedMs / BOX_TIME_CONSTANT_MS,
      );
      const measured = power > SHORT_OVERLOAD * limit ? power : heat;
      return view.isArmed && !(measured <= limit) ? { fault: 'TOTAL_POWER', measured, limit } : undefined;
    },
    reset: () => undefined,
  };
}
