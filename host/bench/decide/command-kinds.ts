import type { JobCommand } from '../../job';

/** Needs no journal that can be written: it only lets go of the box. */
export const endsWatching = (command: JobCommand): boolean =>
  command.kind === 'pause-watch' || command.kind === 'end-watch';

/** After it the output may close. */
export const allowsDriving = (command: JobCommand): boolean =>
  command.kind === 'start-sweep' || command.kind === 'resume-sweep';
