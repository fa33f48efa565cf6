import {
  constructions,
  elementLimitMilliwatt,
  elements,
  path,
  usableRatingFraction,
} from '../board/reference-design';
import { bitOfRow, elementCount, isInserted, limiterRow } from '../ladder/table';
import type { ElementTable } from '../ladder/table';
import type { Guard, GuardContext, GuardView, Trip } from './guard';
import type { JobLimits } from './job-limits';

/** Looked up in every turn: reckoned once. */
const rated: Readonly<Float64Array> = Float64Array.from({ length: elementCount + 1 }, (_, row) =>
  row === limiterRow
    ? path.limiter.ratedMilliwatt * usableRatingFraction
    : elementLimitMilliwatt(elements[row]!),
);

/** What each resistor may carry for good, milliwatt. */
export const ratedLimitMilliwatt = (row: number): number => rated[row]!;

const timeConstantMs = (row: number): number =>
  row === limiterRow
    ? constructions.wirewound.timeConstantMs
    : constructions[elements[row]!.construction].timeConstantMs;

/** The enclosure follows its resistors in about a minute: from memory, to be measured on the first build. */
const BOX_TIME_CONSTANT_MS = 60_000;
/** No resistor bears more than this many times its limit, however short. Common practice, no source. */
export const SHORT_OVERLOAD = 6;

const MICROAMP_PER_AMP = 1e6;
const ROWS = elementCount + 1;
/** What was not measured counts as so much current, squared, where no resistor in the path says less. */
const UNKNOWN_AMP_SQUARED = 1;

/** First-order heating: what a resistor feels of a power that comes and goes. */
const heated = (heat: number, power: number, part: number): number =>
  heat + (power - heat) * (part < 1 ? part : 1);

function ampSquaredOf({ isOutputClosed, currentMicroamp }: Readonly<GuardView>): number {
  if (!isOutputClosed) return 0;
  const amp = currentMicroamp / MICROAMP_PER_AMP;
  return amp * amp;
}

/** What a row may carry, milliwatt: its own rating and what the job allows. */
export const rowLimitMilliwatt = (row: number, limits: JobLimits): number =>
  Math.min(limits.elementPowerLimitMilliwatt, ratedLimitMilliwatt(row));

/**
 * Opens when a resistor has been heated above its limit, or is far above it at this instant.
 *
 * One current flows through all of them, so one account of it is kept: the integral of its square. A row's share since it
 * was last looked at is that integral's growth times its ohms, if it was in the path. The rows are looked at in turn;
 * when contacts move every account is closed first, so that no row is charged for a path it was not in.
 */
class ElementPower implements Guard {
  readonly #heat = new Float64Array(ROWS);
  readonly #limit = new Float64Array(ROWS);
  /** The bit that shorts each row. */
  readonly #contact = Int32Array.from({ length: ROWS }, (_, row) => 1 << bitOfRow(row));
  readonly #timeConstantMs = Float64Array.from({ length: ROWS }, (_, row) => timeConstantMs(row));
  /** Integral of the squared current, A2 ms, and the time, ms; and both when each row was last looked at. */
  #charge = 0;
  #nowMs = 0;
  readonly #chargeAt = new Float64Array(ROWS);
  readonly #lookedAtMs = new Float64Array(ROWS);
  #limits: JobLimits | undefined;
  #milliohm = new Float64Array(ROWS);
  #contactMask = -1;
  /** The least squared current that is far too much for some row of the path. */
  #overloadAmpSquared = 0;
  #next = 0;

  check(view: Readonly<GuardView>, { limits, table }: GuardContext): Trip | undefined {
    if (limits !== this.#limits || view.contactMask !== this.#contactMask)
      this.#rearrange(view, limits, table);
    const ampSquared = ampSquaredOf(view);
    const isKnown = ampSquared >= 0 && ampSquared < Infinity;
    const counted = isKnown ? ampSquared : Math.min(UNKNOWN_AMP_SQUARED, this.#overloadAmpSquared);
    this.#charge += counted * view.elapsedMs;
    this.#nowMs += view.elapsedMs;
    let trip: Trip | undefined;
    // One row each time: all of them in a quarter of a second, a fortieth of the shortest time constant.
    const row = this.#next;
    this.#next = row + 1 < ROWS ? row + 1 : 0;
    this.#look(row, row + 1);
    const heat = this.#heat[row]!;
    const limit = this.#limit[row]!;
    if (!(heat <= limit)) trip = { fault: 'ELEMENT_POWER', measured: heat, limit };
    if (isKnown && ampSquared > this.#overloadAmpSquared) trip = this.#overload(ampSquared, table);
    return view.isArmed ? trip : undefined;
  }

  reset(): void {
    // A resistor does not cool by being armed.
  }

  /** Contacts have moved, or another job has other limits. */
  #rearrange({ contactMask }: Readonly<GuardView>, limits: JobLimits, table: ElementTable): void {
    this.#look(0, ROWS);
    const { milliohm } = table;
    const isOtherJob = limits !== this.#limits;
    this.#contactMask = contactMask;
    this.#milliohm = milliohm;
    this.#limits = limits;
    const most = limits.elementPowerLimitMilliwatt;
    const limit = this.#limit;
    const contact = this.#contact;
    let least = Infinity;
    for (let row = 0; row < ROWS; row += 1) {
      if (isOtherJob) limit[row] = rated[row]! < most ? rated[row]! : most;
      if ((contactMask & contact[row]!) !== 0) continue;
      const bearable = limit[row]! / milliohm[row]!;
      if (!(bearable >= least)) least = bearable;
    }
    this.#overloadAmpSquared = SHORT_OVERLOAD * least;
  }

  /** Brings the heat of some rows up to date. */
  #look(from: number, to: number): void {
    const nowMs = this.#nowMs;
    const charge = this.#charge;
    const lookedAtMs = this.#lookedAtMs;
    const chargeAt = this.#chargeAt;
    for (let row = from; row < to; row += 1) {
      const elapsedMs = nowMs - lookedAtMs[row]!;
      if (elapsedMs <= 0) continue;
      const isIn = (this.#contactMask & this.#contact[row]!) === 0;
      const power = isIn ? ((charge - chargeAt[row]!) / elapsedMs) * this.#milliohm[row]! : 0;
      lookedAtMs[row] = nowMs;
      chargeAt[row] = charge;
      this.#heat[row] = heated(this.#heat[row]!, power, elapsedMs / this.#timeConstantMs[row]!);
    }
  }

  #overload(ampSquared: number, table: ElementTable): Trip | undefined {
    for (let row = 0; row < ROWS; row += 1) {
      const measured = ampSquared * table.milliohm[row]!;
      const limit = this.#limit[row]!;
      if (isInserted(this.#contactMask, row) && !(measured <= SHORT_OVERLOAD * limit))
        return { fault: 'ELEMENT_POWER', measured, limit };
    }
    return undefined;
  }
}

export const elementPowerGuard = (): Guard => new ElementPower();

/** Opens when the box as a whole has been heated above its limit. */
export function totalPowerGuard(): Guard {
  let heat = 0;
  return {
    check: (view, { limits }) => {
      const limit = limits.totalPowerLimitMilliwatt;
      const power = ampSquaredOf(view) * view.madeMilliohm;
      const known = power >= 0 && power < Infinity ? power : SHORT_OVERLOAD * limit;
      heat = heated(heat, known, view.elapsedMs / BOX_TIME_CONSTANT_MS);
      if (heat <= limit && known <= SHORT_OVERLOAD * limit) return undefined;
      const measured = known > SHORT_OVERLOAD * limit ? known : heat;
      return view.isArmed ? { fault: 'TOTAL_POWER', measured, limit } : undefined;
    },
    reset: () => undefined,
  };
}
