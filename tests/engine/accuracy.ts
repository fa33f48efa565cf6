import { contactsFor, ladderFromRows } from '../../host/core/ladder';
import type { Ladder, LadderRow } from '../../host/core/ladder';
import type { Bench } from './bench';
import { calibrated } from './scenarios/calibration';

/** One setting of one box: what was asked, what the box says it made, what was really there. */
export type Setting = {
  readonly seed: number;
  readonly askedOhm: number;
  readonly statedOhm: number;
  readonly uncertaintyOhm: number;
  readonly trueOhm: number;
  readonly measuredOhm: number;
};

const LOWEST_OHM = 5;
const HIGHEST_OHM = 6000;
const ROWS = 16;

export function ladderOf(bench: Bench): Ladder {
  const rows: LadderRow[] = Array.from({ length: ROWS }, (_, index) => {
    const {
      kind = 0,
      contactBit = 0,
      milliohm = 0,
      uncertaintyMilliohm = 0,
    } = bench.ask('element', { index });
    return { kind, contactBit, milliohm, uncertaintyMilliohm };
  });
  const made = ladderFromRows(rows);
  if (made.kind === 'refused') throw new Error(made.code);
  return made.ladder;
}

/** So many settings, evenly spread over the logarithm of the range, on a box that has calibrated itself. */
export function settingsOf(seed: number, count: number): Setting[] {
  const bench = calibrated(seed, 'electronic-temperature');
  const ladder = ladderOf(bench);
  if (bench.arm('electronic').refused !== undefined) throw new Error('not armed');
  bench.box.advance(200);
  return Array.from({ length: count }, (_, index) => {
    const askedOhm = LOWEST_OHM * (HIGHEST_OHM / LOWEST_OHM) ** (index / (count - 1));
    return settingAt(bench, ladder, { seed, askedOhm });
  });
}

function settingAt(
  bench: Bench,
  ladder: Ladder,
  { seed, askedOhm }: { seed: number; askedOhm: number },
): Setting {
  const wanted = contactsFor(ladder, askedOhm);
  if (wanted.kind === 'refused') throw new Error(wanted.code);
  const { contactMask, complementMask, madeMilliohm } = wanted;
  const resistanceMilliohm = Math.round(madeMilliohm);
  const made = bench.ask('set', {
    channel: 0,
    contactMask,
    complementMask,
    resistanceMilliohm,
    leaseMs: 1500,
  });
  if (made.refused !== undefined) throw new Error(`${askedOhm} ohm: ${made.refused} ${made.detail}`);
  const beat = bench.live(250);
  return {
    seed,
    askedOhm,
    statedOhm: (made.madeMilliohm ?? NaN) / 1000,
    uncertaintyOhm: (made.uncertaintyMilliohm ?? NaN) / 1000,
    trueOhm: bench.box.world.pathOhm,
    measuredOhm: (beat.measuredMilliohm ?? NaN) / 1000,
  };
}

/** The two figures of a set of settings, each as a part of what is allowed. */
export function figuresOf(settings: readonly Setting[]) {
  const ascending = (values: readonly number[]): number[] => [...values].sort((a, b) => a - b);
  const at = (values: readonly number[], part: number): number =>
    values[Math.ceil(part * values.length) - 1] ?? NaN;
  const madeGaps = ascending(
    settings.map(({ statedOhm, askedOhm }) => Math.abs(statedOhm - askedOhm) / (0.5 + 0.001 * askedOhm)),
  );
  const statedGaps = ascending(
    settings.map(({ statedOhm, trueOhm }) => Math.abs(statedOhm - trueOhm) / (0.15 + 0.002 * trueOhm)),
  );
  const covered = settings.filter(
    ({ statedOhm, trueOhm, uncertaintyOhm }) => Math.abs(statedOhm - trueOhm) <= 2 * uncertaintyOhm,
  );
  const measured = ascending(settings.map(({ measuredOhm, trueOhm }) => Math.abs(measuredOhm / trueOhm - 1)));
  return {
    madeAgainstAskedP99: at(madeGaps, 0.99),
    statedAgainstTrueWorst: at(statedGaps, 1),
    statedAgainstTrueP99: at(statedGaps, 0.99),
    coveredFraction: covered.length / settings.length,
    measuredWorstFraction: at(measured, 1),
  };
}
