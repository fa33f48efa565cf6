import type { Step } from '../job/schema/sweep';
import type { SweepSize } from '../job/state/sweep-size';

const many = (count: number, one: string): string => `${count} ${count === 1 ? one : `${one}s`}`;

/** What a sweep will take, before it starts: "14 readings, about 16 min. It may add 1 setting ...". */
export function sweepSizeWords({ readings, mayAdd, minutes, mostMinutes }: SweepSize): string {
  const sure = `${many(readings, 'reading')}, about ${minutes} min.`;
  return mayAdd === 0
    ? sure
    : `${sure} It may add ${many(mayAdd, 'setting')} where the curve is least known: then up to ${mostMinutes} min.`;
}

const WHY: Readonly<Record<Step['why'], string | undefined>> = {
  plan: undefined,
  repeat: undefined,
  refine: 'Added: of all settings this one tells most about the marks.',
  model: 'The short way: this setting tells most between the models that remain.',
  edge: 'Added: the needle begins or stops to move near here.',
};

/** Why the sweep added a step; undefined for one of its plan. */
export const stepWhyWords = (why: Step['why']): string | undefined => WHY[why];
