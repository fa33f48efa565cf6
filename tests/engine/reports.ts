// What a run comes to, as numbers in a fixed order: two engines that do the same say the same.
import { figuresOf, settingsOf } from './accuracy';
import { told } from './bench';
import { walkKinds, walkMany } from './moves';

const WALK_SEED = 1;

/** Walks of one kind: how many were tried, how many passed below the lower of their ends, sum of the lowest ohms. */
export function reportWalks(kind: number, count: number): string {
  const { tried, below, sumOhm } = walkMany(walkKinds[kind] ?? 'single', { seed: WALK_SEED, count });
  return [tried, below, sumOhm].join();
}

/** The figures of one box with so many settings. */
export function reportFigures(seed: number, count: number): string {
  const figures = figuresOf(settingsOf(seed, count));
  return [
    figures.madeAgainstAskedP99,
    figures.statedAgainstTrueWorst,
    figures.coveredFraction,
    figures.measuredWorstFraction,
  ].join();
}

const ascending = (codes: ReadonlySet<number>): string => [...codes].sort((a, b) => a - b).join();

/** Numbers of the refusals and of the faults that were told so far. */
export const reportCodes = (): string => `${ascending(told.refusals)}/${ascending(told.faults)}`;

/** Codes that no behaviour of this box can bring about, and why. */
export const neverTold: Readonly<Record<string, string>> = {
  CONTACTS: 'all sixteen bits of the mask are contacts of this box; one with a shorter chain says it',
};
