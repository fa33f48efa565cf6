import type { JSX } from 'preact';

/** Quarters of an arc: long strokes; eighths between them. */
const STROKES = Array.from({ length: 17 }, (_, index) => ({ at: index / 16, isMark: index % 4 === 0 }));
const STEPS = 200;

type StripProps = {
  readonly label: string;
  /** Place of the needle, 0 at the low end of the arc, 1 at the high end; undefined until it was put down. */
  readonly place: number | undefined;
  readonly onPlace: (place: number) => void;
};

/** A dial laid flat on which the needle is put by finger, mouse or arrow keys. */
export function NeedleStrip({ label, place, onPlace }: StripProps): JSX.Element {
  return (
    <div class={`needle-strip ${place === undefined ? 'needle-strip-empty' : ''}`}>
      <div class="needle-strip-glass" aria-hidden="true">
        {STROKES.map(({ at, isMark }) => (
          <i key={at} class={isMark ? 'long' : ''} style={{ '--at': at }} />
        ))}
        {place === undefined ? <span>put the needle here</span> : <b style={{ '--at': place }} />}
      </div>
      <input
        type="range"
        aria-label={label}
        aria-valuetext={place === undefined ? 'not put down yet' : `${Math.round(100 * place)} % of the arc`}
        min={0}
        max={STEPS}
        step={1}
        value={Math.round((place ?? 0.5) * STEPS)}
        onInput={(event) => onPlace(Number(event.currentTarget.value) / STEPS)}
        onPointerUp={(event) => onPlace(Number(event.currentTarget.value) / STEPS)}
      />
    </div>
  );
}
