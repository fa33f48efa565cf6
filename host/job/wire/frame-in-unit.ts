import type { JobState } from '../state/state';
import type { LiveFrame } from './job-messages';
import { turnOf, turned } from '../state/shown-unit';

/** The present moment in the unit of a shown state: the mark that is sought, the step. */
export const frameInUnit = (frame: LiveFrame, shown: JobState | undefined): LiveFrame => {
  const turn = shown?.printed === undefined ? undefined : turnOf(shown.printed.unit, shown.gauge.unit);
  if (turn === undefined) return frame;
  const { waiting, step } = frame;
  return {
    ...frame,
    waiting: waiting.kind === 'answer' ? turned(turn, waiting, { values: ['mark'] }) : waiting,
    ...(step?.aim.kind === 'mark'
      ? { step: { ...step, aim: turned(turn, step.aim, { values: ['reading'] }) } }
      : {}),
  };
};
