import type { Guard, GuardContext, GuardView, Trip } from './guard';

type Look = {
  /** How many fresh samples in a row must show the trouble. */
  readonly samples: number;
  /** While this is false nothing is looked at and what was seen is forgotten. */
  readonly isWatching: (view: Readonly<GuardView>) => boolean;
  /** The trouble that one sample shows. */
  readonly troubleIn: (view: Readonly<GuardView>, context: GuardContext) => Trip | undefined;
};

/** A guard that trips when fresh samples show trouble several times in a row: one sample may be a spark. */
export function inARow({ samples, isWatching, troubleIn }: Look): Guard {
  let seen = 0;
  return {
    check: (view, context) => {
      if (!isWatching(view)) {
        seen = 0;
        return undefined;
      }
      if (!view.isFresh) return undefined;
      const trip = troubleIn(view, context);
      seen = trip === undefined ? 0 : seen + 1;
      return seen < samples ? undefined : trip;
    },
    reset: () => {
      seen = 0;
    },
  };
}
