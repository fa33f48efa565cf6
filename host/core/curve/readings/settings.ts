import { axisPosition } from './log-axis';
import type { Row } from './observations';
import type { LogAxis } from '../types';

/** All readings of one setting of the box, taken together. */
export type Setting = {
  readonly ohm: number;
  readonly position: number;
  /** Mean reading, the half difference of the legs taken out. */
  readonly reading: number;
  readonly count: number;
  readonly rows: readonly Row[];
};

/** Means per setting, in order of resistance. Source: definition. */
export function settingsOf(rows: readonly Row[], half: number, axis: LogAxis): Setting[] {
  const groups = new Map<number, Row[]>();
  for (const row of rows) groups.set(row.setting, [...(groups.get(row.setting) ?? []), row]);
  return [...groups.values()].map((group) => {
    const ohm = meanOf(group.map((row) => row.ohm));
    return {
      ohm,
      position: axisPosition(axis, ohm),
      reading: meanOf(group.map((row) => row.reading - half * row.legSign)),
      count: group.length,
      rows: group,
    };
  });
}

const meanOf = (values: readonly number[]): number => values.reduce((a, b) => a + b, 0) / values.length;
