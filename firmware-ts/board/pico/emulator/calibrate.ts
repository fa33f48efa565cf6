import { said } from './drive';
import type { Rig } from './rig';

/** Rows: fourteen elements, the limiter, the residual, which comes first and four times. */
const RESIDUAL_ROW = 15;
const ROWS = [15, 15, 15, 15, 0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14] as const;

export type Calibrated = {
  readonly refused: string | undefined;
  readonly tookMs: number;
  readonly rows: readonly { readonly row: number; readonly ohm: number }[];
  readonly goodCopyCount: number;
};

/** The whole procedure of calibration.md with every clip in its place, and the storing. */
export function calibrate(rig: Rig, calibrationId = 7): Calibrated {
  const { chip, box, line } = rig;
  box.hookup = { kind: 'posts' };
  rig.pass(300);
  const startMs = chip.nowMs;
  const rows: { row: number; ohm: number }[] = [];
  const end = (refused: string | undefined, goodCopyCount = 0): Calibrated => ({
    refused,
    tookMs: chip.nowMs - startMs,
    rows,
    goodCopyCount,
  });
  if (!rig.greet()) return end('no greeting');
  for (const row of ROWS) {
    const outcome = line.ask({ name: 'calibrateElement', fields: { channel: 0, index: row } }, 3000);
    if (outcome?.kind !== 'answer' || outcome.name !== 'calibrateElement') {
      return end(`${row === RESIDUAL_ROW ? 'residual' : `row ${row}`}: ${said(outcome)}`);
    }
    rows.push({ row, ohm: outcome.fields.milliohm / 1000 });
  }
  const fields = { channel: 0, calibrationId, validDayCount: 365 };
  const stored = line.ask({ name: 'calibrateStore', fields }, 3000);
  if (stored?.kind !== 'answer' || stored.name !== 'calibrateStore') return end(`store: ${said(stored)}`);
  return end(undefined, stored.fields.goodCopyCount);
}
