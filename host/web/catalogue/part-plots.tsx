import type { JSX } from 'preact';
import type { ModelMark, PartInCatalogue } from '../../job/wire/catalogue-messages';
import { shownSpread, shownUnit } from '../parts/words';
import { ErrorPlot } from '../plot/error-plot';
import { OhmsPlot } from '../plot/ohms-plot';
import { curvesQuestion, drawnSpecimens, middleQuestion, type Lettered } from '../../scene/part-question';
import type { Tile } from '../plot/tiles';
import { roughOhm } from './rough-ohm';

type PlotsProps = { readonly part: PartInCatalogue; readonly specimens: readonly Lettered[] };

/** The curves one over the other; and, since those of one model look like one line, how far each reads from the middle. */
export function PartPlots({ part, specimens }: PlotsProps): JSX.Element | null {
  const drawn = drawnSpecimens(specimens);
  if (drawn.length === 0) return null;
  const isGauge = part.part === 'gauge';
  return (
    <div class={isGauge && drawn.length > 1 ? 'catalogue-plots' : ''}>
      <figure>
        <figcaption class="hint">
          {drawn.length > 1 ? 'The curves, one over the other' : 'Its curve'}
        </figcaption>
        <OhmsPlot
          label="Ohms over the dial, one line a specimen. The tables below hold the same figures."
          question={curvesQuestion(part, drawn)}
          tiles={part.marks.map(tileOf(part))}
        />
      </figure>
      {isGauge && drawn.length > 1 ? (
        <figure>
          <figcaption class="hint">
            How far each reads from the middle; the band holds the next one 95 times of 100
          </figcaption>
          <ErrorPlot
            label="How far each specimen reads from the middle of all, over the dial."
            unit={shownUnit(part.unit)}
            question={middleQuestion(part, drawn)}
          />
        </figure>
      ) : null}
    </div>
  );
}

/** What the next specimen will want at a mark, and how far it may be off. */
const tileOf =
  ({ part, unit, dial }: PartInCatalogue) =>
  ({ label, at, middle, next }: ModelMark): Tile => {
    const half = (next.to - next.from) / 2;
    return part === 'gauge'
      ? {
          reading: middle,
          at: label,
          value: roughOhm(at),
          sure: shownSpread(half, { unit, marks: dial.marks }),
        }
      : {
          reading: at,
          at: String(at),
          value: roughOhm(middle),
          sure: `\u00b1${roughOhm(half)}`,
        };
  };
