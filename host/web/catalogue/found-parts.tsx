import type { JSX } from 'preact';
import { ARC_UNIT } from '../../core/catalogue/arc-scale';
import type { CatalogueAsk, FoundInCatalogue, FoundPart } from '../../job/wire/catalogue-messages';
import { LEFT_SHARE, likelyWords } from '../../words/catalogue';
import { Icon } from '../parts/icon';
import { MECHANISM_WORDS, QUANTITY_WORDS, shownUnit } from '../parts/words';
import { OhmsPlot } from '../plot/ohms-plot';
import type { OhmsQuestion } from '../../scene/ohms-scene';
import { addressOf } from './address';
import { roughOhm } from './rough-ohm';

/** An unknown dial: quarters of its arc. */
const ARC_SCALE: OhmsQuestion['scale'] = {
  unit: '',
  marks: ['low', '\u00bc', '\u00bd', '\u00be', 'high'].map((label, index) => ({
    label,
    reading: index / 4,
    angleFraction: index / 4,
  })),
};
/** More lines are a tangle. */
const MOST_LINES = 5;

/** So many are shown even where they hardly fit. */
const FEWEST_SHOWN = 3;

type FoundProps = {
  readonly found: FoundInCatalogue;
  readonly ask: CatalogueAsk;
};

/** What fits, best first: its curve beside the readings, how far it is off, how likely it is. */
export function FoundParts({ found, ask }: FoundProps): JSX.Element {
  const { parts, next, waiting } = found;
  if (parts.length === 0) return <p class="soft">{nothingWords(found, ask)}</p>;
  const near = parts.filter(
    ({ share }, index) => share === undefined || share >= LEFT_SHARE || index < FEWEST_SHOWN,
  );
  const far = parts.filter((part) => !near.includes(part));
  const drawn = near.slice(0, MOST_LINES);
  return (
    <>
      {ask.points.length > 0 && drawn.some(({ line }) => line.length > 1) ? (
        <OhmsPlot
          label="Ohms over the dial: the readings, and the parts that come nearest. The list below says the same."
          question={questionOf(drawn, ask, next?.at)}
        />
      ) : null}
      {next === undefined ? null : <NextWords next={next} ask={ask} />}
      <ul class="rack found-parts">
        {near.map((part) => (
          <PartRow key={`${part.name} ${part.cards[0] ?? ''}`} part={part} />
        ))}
      </ul>
      {far.length === 0 ? null : <p class="hint">{farWords(far)}</p>}
      {waiting === 0 ? null : (
        <p class="hint">
          {waiting} {waiting === 1 ? 'card is' : 'cards are'} not worked out yet and not among these.
        </p>
      )}
    </>
  );
}

const farWords = (far: readonly FoundPart[]): string => `Hardly: ${far.map(({ name }) => name).join(', ')}.`;

function nothingWords({ holds, leftOut }: FoundInCatalogue, { kind, points, words }: CatalogueAsk): string {
  if (holds.gauges + holds.senders === 0 && leftOut === 0)
    return 'The catalogue is empty. Keep a curve in it after a sweep.';
  if (points.length === 0 && words === '') return `It holds no ${kind} yet.`;
  return `No ${kind} here can be compared with that.`;
}

function questionOf(
  parts: readonly FoundPart[],
  ask: CatalogueAsk,
  nextAt: number | undefined,
): OhmsQuestion {
  // The plot of a gauge lies over the arc: figures of an unknown dial have no place on it.
  const dots = ask.kind === 'sender' || ask.unit === ARC_UNIT ? ask.points : [];
  const values = [
    ...parts.flatMap(({ line }) => line.map(([, value]) => value)),
    ...ask.points.map(({ value }) => value),
  ];
  return {
    scale: ask.kind === 'gauge' ? ARC_SCALE : evenScale(Math.min(...values), Math.max(...values), ask.unit),
    isRatio: true,
    lines: parts.map(({ name, cards, line, share }, index) => ({
      id: `${index} ${cards[0] ?? ''}`,
      name,
      look: index === 0 && share !== undefined ? 'curve' : 'sender',
      points: line.map(([ohm, value]) => ({ ohm, value })),
    })),
    dots: dots.map(({ resistanceOhm, value }, index) => ({
      id: String(index),
      ohm: resistanceOhm,
      value,
      kind: 'up',
    })),
    ...(nextAt === undefined || ask.kind === 'sender' ? {} : { alsoOhms: [nextAt] }),
    naming: 'lines',
  };
}

const EVEN_PARTS = 4;

/** Five even marks over what is in sight. */
function evenScale(from: number, to: number, unit: string): OhmsQuestion['scale'] {
  const span = to - from || 1;
  return {
    unit,
    marks: Array.from({ length: EVEN_PARTS + 1 }, (_, index) => {
      const reading = from + (span * index) / EVEN_PARTS;
      return { label: String(Number(reading.toPrecision(3))), reading, angleFraction: index / EVEN_PARTS };
    }),
  };
}

type NextProps = { readonly next: NonNullable<FoundInCatalogue['next']>; readonly ask: CatalogueAsk };

/** Where the next reading parts them, and what each would show. */
function NextWords({ next, ask }: NextProps): JSX.Element {
  const at =
    ask.kind === 'gauge' ? roughOhm(next.at) : `${Number(next.at.toPrecision(3))} ${shownUnit(ask.unit)}`;
  const shows = next.expected.map(({ name, value, unit }) =>
    ask.kind === 'gauge'
      ? `${name} puts the needle at ${unit === ARC_UNIT ? arcWords(value) : `${Number(value.toPrecision(3))} ${shownUnit(unit)}`}`
      : `${name} has ${roughOhm(value)}`,
  );
  return (
    <p>
      At {at} they part: {shows.join('; ')}.
    </p>
  );
}

/** A place on the arc, in words: "62 % of the arc". */
const arcWords = (place: number): string =>
  place <= 0 ? 'its low end' : place >= 1 ? 'its high end' : `${Math.round(100 * place)} % of the arc`;

function PartRow({ part }: { readonly part: FoundPart }): JSX.Element {
  const { name, cards, quantity, unit, mechanism, share, offBy, because } = part;
  const about = [
    QUANTITY_WORDS[quantity].toLowerCase(),
    ...(mechanism === undefined || mechanism === 'unknown' ? [] : [MECHANISM_WORDS[mechanism]]),
    ...(unit === '' ? [] : [shownUnit(unit)]),
    cards.length === 1 ? '1 specimen' : `${cards.length} specimens`,
    ...(because.length === 0 ? [] : [`bears: ${because.join(', ')}`]),
  ];
  return (
    <li>
      <a href={addressOf(part)}>
        <span class="rack-name">
          <b>{name}</b>
          <span>{about.join(', ')}</span>
        </span>
        <span class="rack-when">
          {part.isDemo ? <span class="simulated-tag">DEMO</span> : null}
          {part.isSimulated && !part.isDemo ? <span class="simulated-tag">SIMULATED</span> : null}
        </span>
        <span class="rack-state">
          {offBy === undefined || share === undefined ? null : (
            <>
              <em>
                {share >= LEFT_SHARE ? 'fits within' : 'off by'} {percent(offBy)}
              </em>
              <span>{likelyWords(share)}</span>
              <meter class="unseen" min={0} max={1} value={share} />
            </>
          )}
        </span>
        <Icon of="right" />
      </a>
    </li>
  );
}

const percent = (part: number): string => `${(100 * part).toFixed(100 * part < 10 ? 1 : 0)} %`;
