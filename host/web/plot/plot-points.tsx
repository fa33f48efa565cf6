import type { JSX } from 'preact';
import { useRef } from 'preact/hooks';

/** One point that can be looked at and chosen. */
export type LivePoint = {
  readonly id: string;
  /** Spoken in full: what was read, where, on which leg. */
  readonly words: string;
};

export type PointHands = {
  readonly points: readonly LivePoint[];
  readonly chosen: string | undefined;
  readonly onChoose: (id: string) => void;
  /** Under the pointer now; undefined: none. */
  readonly onLook?: (id: string | undefined) => void;
};

/** Where a point has come to lie, in CSS pixels from the corner of the plot. */
type Place = { readonly id: string; readonly left: number; readonly top: number };

/** A finger is this wide: the nearest point within it is meant. */
const REACH_PIXEL = 28;

const nearest = (places: readonly Place[], x: number, y: number): string | undefined => {
  const near = places
    .map((place) => ({ id: place.id, away: Math.hypot(place.left - x, place.top - y) }))
    .filter(({ away }) => away <= REACH_PIXEL)
    .sort((one, other) => one.away - other.away);
  return near[0]?.id;
};

type Layer = PointHands & { readonly places: readonly Place[] };

const KEY_MOVES: Readonly<Record<string, number>> = {
  ArrowRight: 1,
  ArrowDown: 1,
  ArrowLeft: -1,
  ArrowUp: -1,
};

/**
 * The points of a plot as buttons over the drawing: one stop of the Tab key, arrows from point to point in the order of
 * the axis, Enter or a tap to choose. A pointer need not hit the dot, only come near it.
 */
export function PlotPoints({ points, places, chosen, onChoose, onLook }: Layer): JSX.Element | null {
  const layer = useRef<HTMLDivElement>(null);
  const ordered = [...places].sort((one, other) => one.left - other.left);
  if (ordered.length === 0) return null;
  const reachable = ordered.some((place) => place.id === chosen) ? chosen : ordered[0]?.id;
  const under = (event: PointerEvent | MouseEvent): string | undefined => {
    const box = layer.current?.getBoundingClientRect();
    return box && nearest(places, event.clientX - box.left, event.clientY - box.top);
  };
  const focus = (id: string): void => {
    onChoose(id);
    layer.current?.querySelector<HTMLElement>(`[data-point="${CSS.escape(id)}"]`)?.focus();
  };
  const onKeyDown = (event: KeyboardEvent): void => {
    const move = KEY_MOVES[event.key];
    if (move === undefined) return;
    event.preventDefault();
    const at = ordered.findIndex((place) => place.id === reachable);
    const next = ordered[Math.min(ordered.length - 1, Math.max(0, at + move))];
    if (next !== undefined) focus(next.id);
  };
  return (
    <div
      ref={layer}
      class="plot-points"
      role="group"
      aria-label="Points of the plot; arrows go from point to point"
      onPointerMove={(event) => event.pointerType === 'mouse' && onLook?.(under(event))}
      onPointerLeave={() => onLook?.(undefined)}
      onClick={(event) => {
        const id = under(event);
        if (id !== undefined && event.detail > 0) focus(id);
      }}
      onKeyDown={onKeyDown}
    >
      {ordered.map((place) => (
        <button
          key={place.id}
          type="button"
          class="plot-point"
          data-point={place.id}
          aria-pressed={place.id === chosen}
          aria-label={points.find((point) => point.id === place.id)?.words}
          tabIndex={place.id === reachable ? 0 : -1}
          style={{ left: `${place.left}px`, top: `${place.top}px` }}
          onFocus={() => onChoose(place.id)}
        />
      ))}
    </div>
  );
}
