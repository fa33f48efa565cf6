import type { Refused } from '../../core/result';
import { refuse } from '../../refusals';
import { openSweep, type CommandOf, type EventBody, type JobState, type Leg } from '../../job';
import { settleMsOf } from '../rules';
import type { Decision } from './decision';
import { measuredOhms } from './decide-hand';
import { offScale } from './off-scale';

type Rows = CommandOf<'import-readings'>['readings'];

/** Where nobody said which way the needle went, the row before tells it: rows stand in the order they were read. */
const legsOf = (rows: Rows): readonly Leg[] =>
  rows.map(({ leg, reading }, index): Leg => {
    if (leg !== undefined) return leg;
    const before = rows[index - 1];
    const other = before ?? rows[1];
    if (other === undefined || other.reading === reading) return 'up';
    return other.reading < reading === (before !== undefined) ? 'up' : 'down';
  });

const offDial = (state: JobState, rows: Rows): Refused | undefined => {
  for (const { row, reading } of rows) {
    const off = offScale(state, reading);
    if (off !== undefined) return { ...off, message: `Row ${row}: ${off.message}` };
  }
  return undefined;
};

const UNNAMED = 'not named';

/**
 * A table that somebody measured without this program, as a sweep that is finished. Each row keeps its ohms less those of
 * the leads. Refuses: SWEEP_RUNNING while another is open, READING_OFF_SCALE with the row.
 */
export const decideImport = (state: JobState, command: CommandOf<'import-readings'>): Decision => {
  if (openSweep(state) !== undefined) return refuse('SWEEP_RUNNING');
  const { readings: rows, from, ohmmeter = { name: UNNAMED } } = command;
  const off = offDial(state, rows);
  if (off !== undefined) return off;
  const sweepId = `w${state.sweeps.length + 1}`;
  const legs = legsOf(rows);
  const ohms = rows.map(({ resistanceOhm }) => measuredOhms(resistanceOhm, ohmmeter));
  const above = ohms.map(({ resistanceOhm }) => Math.max(0.01, resistanceOhm));
  const stepId = (index: number): string => `${sweepId}s${index + 1}`;
  const sides = rows.map((row, index) => ({ ...row, leg: legs[index] ?? 'up', ...ohms[index]! }));
  const readings = sides.map(({ row, resistanceUncertaintyOhm, ...read }, index): EventBody => ({
    kind: 'reading',
    readingId: `r${state.lastN + 2 + index}`,
    sweepId,
    stepId: stepId(index),
    ...read,
    ...(resistanceUncertaintyOhm === undefined ? {} : { uncertaintyOhm: resistanceUncertaintyOhm }),
    waitedMs: 0,
    method: 'step',
    source: 'hand',
    ohmmeter,
  }));
  return [
    {
      kind: 'sweep-started',
      sweepId,
      mode: 'step-and-read',
      steps: sides.map(({ leg, resistanceOhm }, index) => ({
        stepId: stepId(index),
        leg,
        aim: { kind: 'resistance', resistanceOhm },
        why: 'plan',
      })),
      fromOhm: Math.max(...above),
      toOhm: Math.min(...above),
      refinements: 0,
      settleMs: settleMsOf(state.gauge.mechanism),
      fromTable: from,
    },
    ...readings,
    { kind: 'sweep-finished', sweepId, complete: true },
  ];
};
