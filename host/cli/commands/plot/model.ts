import { curvesQuestion, drawnSpecimens, lettered, middleQuestion } from '../../../scene/part-question';
import { partInCatalogue } from '../../../store/catalogue';
import { simulatedLeftOut } from '../../../words/catalogue';
import { PLOT_WORDS } from '../../../words/plot';
import type { Surroundings } from '../../command';
import { withCatalogue } from '../../input/catalogue-place';
import { RefusedError, refusedError } from '../../input-error';
import type { Arguments } from '../../options';
import type { Drawn } from './curves';

/** More names below a plot are a table. */
const MOST_LISTED = 6;

/** A model of the catalogue: its curves one over the other, or how far each specimen reads from the middle. */
export const modelPlot = (
  name: string,
  of: 'curve' | 'errors',
  given: Arguments,
  surroundings: Surroundings,
): Promise<Drawn> =>
  withCatalogue(given, surroundings, (catalogue) => {
    catalogue.workOut();
    const part = partInCatalogue(catalogue, {
      ...{ kind: 'model', name },
      withSimulated: given.flag('simulated'),
    });
    if (part.kind === 'refused') throw refusedError(part);
    const drawn = drawnSpecimens(lettered(part.specimens));
    const left = part.leftOut === 0 ? [] : [simulatedLeftOut(part.leftOut)];
    const isOfErrors = of === 'errors';
    if (drawn.length === 0 || (isOfErrors && (part.part === 'sender' || drawn.length === 1)))
      throw new RefusedError(
        'NOTHING_TO_DRAW',
        [`${part.name} has nothing to show of ${of} yet`, ...left].join('; '),
      );
    const names = drawn.map(
      ({ letter, specimen: { description, measuredAt, id } }) =>
        `${letter}: ${[description ?? id, ...(measuredAt === undefined ? [] : [measuredAt.slice(0, 10)])].join(', ')}.`,
    );
    return {
      plotted: {
        title: given.text('title') ?? part.name,
        subtitle: isOfErrors ? PLOT_WORDS.fromMiddle : PLOT_WORDS.curves,
        says: [
          ...(isOfErrors ? [PLOT_WORDS.nextBand] : []),
          ...(drawn.length <= MOST_LISTED ? names : [PLOT_WORDS.specimens(drawn.length)]),
        ],
        isSimulated: drawn.some(({ specimen }) => specimen.isSimulated),
        picture: isOfErrors
          ? { kind: 'errors', question: middleQuestion(part, drawn) }
          : { kind: 'ohms', question: curvesQuestion(part, drawn) },
      },
      warnings: left,
    };
  });
