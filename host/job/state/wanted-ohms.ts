import type { GaugeCurve, MarkResult } from '../../core/curve/types';
import type { Gauge } from '../schema/gauge';

/** A mark of the dial and the resistance a sender must have there: what a sender is ordered, or looked for, by. */
export type WantedOhm = {
  readonly label: string;
  readonly reading: number;
  /** Left out where no resistance puts the needle there. */
  readonly at?: MarkResult;
};

/** What each mark rests on, for a person. */
export const GROUND_WORDS: Readonly<Record<MarkResult['note'], string>> = {
  measured: 'measured',
  between: 'between',
  beyond: 'beyond what was measured',
  plateau: 'flat stretch',
  'at stop': 'at the stop',
};

/** Every mark of a job's dial, low reading first. It takes the gauge's curve alone: no sender is needed. */
export const wantedOhms = ({ marks }: Pick<Gauge, 'marks'>, curve: Pick<GaugeCurve, 'marks'>): WantedOhm[] =>
  [...marks]
    .sort((one, other) => one.reading - other.reading)
    .map(({ label, reading }) => {
      const at = curve.marks.find((mark) => mark.reading === reading);
      return { label, reading, ...(at === undefined ? {} : { at }) };
    });
