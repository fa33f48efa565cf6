import { it } from 'vitest';

/**
 * A rule whose proof takes long is tried on a few cases by `npm test` and on all of them by `npm run soak`, which runs
 * every file that imports this one once more.
 */
export const isDeep = process.env['DEEP'] === 'true';

/** All the cases of one rule in the soak; otherwise the first and each `step`th after it. */
export const someOf = <Case>(cases: readonly Case[], step: number): readonly Case[] =>
  isDeep ? cases : cases.filter((_, index) => index % step === 0);

/** A test of the soak alone: what it guards, a shorter test guards too. */
export const inSoak = (title: string, run: () => void | Promise<void>): void => {
  if (isDeep) it(title, run);
};
