import type { JSX, TargetedEvent } from 'preact';
import { useLayoutEffect, useMemo, useRef } from 'preact/hooks';
import type { Gauge } from '../../job/schema/gauge';
import {
  faceOf,
  fixed,
  fractionOnArc,
  pointAt,
  USUAL_ARC_DEGREES,
  type DialFace,
  type Point,
} from './dial-geometry';
import { DialPlate, plateBox } from './dial-plate';
import { markAfter, markAt } from './edit-marks';
import { gripsOf, moveGrip, nearestGrip, removeGrip, sameGrip, type Grip, type PlacedGrip } from './grips';

type MarkPadProps = {
  readonly gauge: Gauge;
  readonly chosen: Grip | undefined;
  readonly onChoose: (grip: Grip | undefined) => void;
  readonly onGauge: (gauge: Gauge) => void;
};

/** A finger covers this much around the place it means. */
const REACH_PIXEL = 24;
/** Where a tap on the drawing adds a mark: around the scale, not at the pivot. */
const NEAREST_RADIUS = 62;

const KEY_STEPS: Readonly<Record<string, number>> = {
  ArrowRight: 0.005,
  ArrowUp: 0.005,
  ArrowLeft: -0.005,
  ArrowDown: -0.005,
  PageUp: 0.05,
  PageDown: -0.05,
};

type PadEvent = TargetedEvent<SVGSVGElement, PointerEvent | MouseEvent>;

/** The place of a pointer in the drawing's own units, and how many of them a pixel is. */
function placeIn(event: PadEvent): { readonly point: Point; readonly unitsPerPixel: number } | undefined {
  const toDrawing = event.currentTarget.getScreenCTM()?.inverse();
  if (toDrawing === undefined) return undefined;
  const { x, y } = new DOMPoint(event.clientX, event.clientY).matrixTransform(toDrawing);
  return { point: { x, y }, unitsPerPixel: Math.hypot(toDrawing.a, toDrawing.b) };
}

const isOnGrip = (event: PadEvent): boolean =>
  event.target instanceof Element && event.target.closest('.grip') !== null;

/** What a pointer does on the pad: it takes hold of a mark or a zone's end and drags it, or adds a mark with a tap. */
function usePointer({ gauge, onGauge }: MarkPadProps, choose: Choose, add: Add) {
  const held = useRef<Grip | undefined>(undefined);
  const wasOnGrip = useRef(false);
  const arcDegrees = gauge.arcDegrees ?? USUAL_ARC_DEGREES;
  const letGo = (): void => {
    held.current = undefined;
  };
  return {
    onPointerDown: (event: TargetedEvent<SVGSVGElement, PointerEvent>): void => {
      const place = placeIn(event);
      wasOnGrip.current = isOnGrip(event);
      if (event.button !== 0 || place === undefined || !wasOnGrip.current) return;
      const grip = nearestGrip(gripsOf(gauge), place.point, REACH_PIXEL * place.unitsPerPixel);
      if (grip === undefined) return;
      held.current = grip;
      event.currentTarget.setPointerCapture(event.pointerId);
      choose(grip);
    },
    onPointerMove: (event: TargetedEvent<SVGSVGElement, PointerEvent>): void => {
      const place = held.current === undefined ? undefined : placeIn(event);
      if (held.current !== undefined && place !== undefined)
        onGauge(moveGrip(gauge, held.current, fractionOnArc(place.point, arcDegrees)));
    },
    onPointerUp: letGo,
    onPointerCancel: letGo,
    onClick: (event: TargetedEvent<SVGSVGElement, MouseEvent>): void => {
      const place = placeIn(event);
      if (wasOnGrip.current || place === undefined) return;
      const { x, y } = place.point;
      if (Math.hypot(x, y) >= NEAREST_RADIUS)
        add(markAt(gauge.marks, fractionOnArc(place.point, arcDegrees)));
    },
  };
}

type Choose = (grip: Grip | undefined) => void;
type Add = (added: ReturnType<typeof markAt>) => void;

/**
 * The dial as it is being made: a tap on the arc adds a mark, a drag moves it; with the keyboard each mark is a slider,
 * Insert adds one after it and Delete takes it away.
 */
export function MarkPad(props: MarkPadProps): JSX.Element {
  const { gauge, chosen, onChoose, onGauge } = props;
  const face = useMemo(() => faceOf(gauge), [gauge]);
  const plate = useMemo(() => <DialPlate face={face} />, [face]);
  const pad = useRef<SVGSVGElement>(null);
  // The handle that was asked for may not be drawn yet, and the chosen one may still be the one before.
  const wanted = useRef<Grip | undefined>(undefined);
  useLayoutEffect(() => {
    if (wanted.current === undefined || chosen === undefined || !sameGrip(wanted.current, chosen)) return;
    wanted.current = undefined;
    pad.current?.querySelector<SVGElement>('.grip-chosen')?.focus();
  });
  const choose: Choose = (grip) => {
    wanted.current = grip;
    onChoose(grip);
  };
  const add: Add = (added) => {
    if (added === undefined) return;
    onGauge({ ...gauge, marks: added.marks });
    choose({ kind: 'mark', index: added.index });
  };
  const pointer = usePointer(props, choose, add);
  const onKeyDown = (event: KeyboardEvent, { grip, fraction }: PlacedGrip): void => {
    const step = KEY_STEPS[event.key];
    if (step !== undefined) onGauge(moveGrip(gauge, grip, fraction + step));
    else if (event.key === 'Delete' || event.key === 'Backspace') {
      const left = removeGrip(gauge, grip);
      onGauge(left.gauge);
      choose(left.next);
    } else if (event.key === 'Insert' && grip.kind === 'mark') add(markAfter(gauge.marks, grip.index));
    else return;
    event.preventDefault();
  };
  return (
    <div class="dial mark-pad">
      <svg
        ref={pad}
        class="dial-face"
        role="group"
        aria-label="The arc with its marks: tap to add one, drag to move it"
        viewBox={viewBoxOf(face)}
        {...pointer}
      >
        {plate}
        {gripsOf(gauge).map((placed) => (
          <Handle
            key={JSON.stringify(placed.grip)}
            placed={placed}
            isChosen={chosen !== undefined && sameGrip(placed.grip, chosen)}
            onFocus={() => onChoose(placed.grip)}
            onKeyDown={(event) => onKeyDown(event, placed)}
          />
        ))}
      </svg>
    </div>
  );
}

const viewBoxOf = (face: DialFace): string => {
  const box = plateBox(face.arcDegrees);
  return [box.x, box.y, box.width, box.height].map((value) => value.toFixed(1)).join(' ');
};

type HandleProps = {
  readonly placed: PlacedGrip;
  readonly isChosen: boolean;
  readonly onFocus: () => void;
  readonly onKeyDown: (event: KeyboardEvent) => void;
};

/** Wide enough for a thumb; what is drawn of it is small. */
const MARK_HANDLE = { reach: 15, ring: 6 } as const;
const ZONE_HANDLE = { reach: 11, ring: 5 } as const;

function Handle({ placed, isChosen, onFocus, onKeyDown }: HandleProps): JSX.Element {
  const { grip, fraction, radius, arcDegrees, words, shown } = placed;
  const at = pointAt(fraction, arcDegrees, radius);
  const size = grip.kind === 'mark' ? MARK_HANDLE : ZONE_HANDLE;
  return (
    <g
      class={`grip grip-${grip.kind} ${isChosen ? 'grip-chosen' : ''}`}
      role="slider"
      tabIndex={0}
      aria-label={words}
      aria-valuemin={0}
      aria-valuemax={100}
      aria-valuenow={Math.round(1000 * fraction) / 10}
      aria-valuetext={shown}
      transform={`translate(${fixed(at.x)} ${fixed(at.y)})`}
      onFocus={onFocus}
      onKeyDown={onKeyDown}
    >
      <circle class="grip-reach" r={size.reach} />
      <circle class="grip-ring" r={size.ring} />
    </g>
  );
}
