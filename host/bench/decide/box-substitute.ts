import type { Refused } from '../../core/result';
import { refuse } from '../../refusals';
import type { CommandOf } from '../../job';
import type { Box } from '../box/box';
import type { SweepRun } from '../sweep/sweep-run';

const COVERAGE_FACTOR = 2;
const FIGURES = 4;
const figure = (value: number): string => String(Number(value.toPrecision(FIGURES)));

/**
 * Why the box cannot be what stands in the sender's place. It proves something only while its output makes these very
 * ohms, the box vouches for them, and the needle has come to rest.
 */
export const boxSubstituteHindrance = (
  box: Pick<Box, 'isLive'>,
  engine: Pick<SweepRun, 'output' | 'vital' | 'waitingNow'>,
  command: CommandOf<'add-proof-substitution'>,
): Refused | undefined => {
  if (command.with !== 'box') return undefined;
  const { made } = engine.output;
  if (!box.isLive || made === undefined || engine.vital?.isOutputMade !== true)
    return refuse('BOX_MAKES_NOTHING');
  const sureOhm = COVERAGE_FACTOR * Math.hypot(command.uncertaintyOhm ?? NaN, made.uncertaintyOhm);
  if (!(Math.abs(command.resistanceOhm - made.madeOhm) <= sureOhm))
    return refuse('BOX_MAKES_OTHER_OHMS', {
      makes: figure(made.madeOhm),
      given: figure(command.resistanceOhm),
    });
  return engine.waitingNow().kind === 'answer' ? undefined : refuse('NOT_SETTLED', {});
};
