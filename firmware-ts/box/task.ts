import type { Reply } from './wire';

/** Something that takes more than one tick and ends in a reply. */
export type Task = {
  /** The reply when it is done. */
  readonly tick: (nowMs: number, isFresh: boolean) => Reply | undefined;
  /** Needs relay coils although nothing is armed. */
  readonly wantsCoils: boolean;
  /** The output may be closed meanwhile, so the guards look as if armed. */
  readonly isGuarded: boolean;
  /** Puts back what it has touched, when it ends and when it is broken off. */
  readonly end: () => void;
};
