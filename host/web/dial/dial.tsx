import type { JSX, TargetedEvent } from 'preact';
import { useMemo } from 'preact/hooks';
import { fractionFromPoint, heldBetweenStops, type DialFace } from './dial-geometry';
import { DialPlate, plateBox } from './dial-plate';
import { Needle } from './needle';

type DialProps = {
  readonly face: DialFace;
  /** Where the needle stands; undefined: no needle is drawn. */
  readonly fraction: number | undefined;
  /** Spoken name, and the reading in words. */
  readonly label: string;
  readonly valueText: string;
  /** Where the needle stood when it was last read: dimmed, while nothing is asked. */
  readonly lastFraction?: number | undefined;
  /** A mark that is sought: an arrow points at it. */
  readonly targetFraction?: number | undefined;
  /** Left out: the dial only shows. */
  readonly onTurn?: ((fraction: number) => void) | undefined;
  readonly onConfirm?: (() => void) | undefined;
};

/** One press of an arrow key, and of Page Up/Down, in fractions of the arc. */
export const FINE_STEP = 0.002;
export const COARSE_STEP = 0.02;

const KEY_STEPS: Readonly<Record<string, number>> = {
  ArrowRight: FINE_STEP,
  ArrowUp: FINE_STEP,
  ArrowLeft: -FINE_STEP,
  ArrowDown: -FINE_STEP,
  PageUp: COARSE_STEP,
  PageDown: -COARSE_STEP,
};
const SHIFT_FACTOR = 5;

function stepOfKey(event: KeyboardEvent): number | undefined {
  const step = KEY_STEPS[event.key];
  return step === undefined || event.ctrlKey || event.metaKey || event.altKey
    ? undefined
    : step * (event.shiftKey ? SHIFT_FACTOR : 1);
}

/** A dial drawn from the person's marks. With `onTurn` its needle is dragged, or moved with the arrow keys. */
export function Dial(props: DialProps): JSX.Element {
  const { face, fraction, onTurn } = props;
  const box = plateBox(face.arcDegrees);
  const plate = useMemo(() => <DialPlate face={face} />, [face]);
  const picture = (
    <svg
      class="dial-face"
      viewBox={`${box.x.toFixed(1)} ${box.y.toFixed(1)} ${box.width.toFixed(1)} ${box.height.toFixed(1)}`}
      aria-hidden="true"
      onPointerDown={onTurn && ((event) => grab(event, face.arcDegrees, onTurn))}
      onPointerMove={onTurn && ((event) => drag(event, face.arcDegrees, onTurn))}
    >
      {plate}
      {props.lastFraction === undefined ? null : (
        <Needle kind="last" fraction={props.lastFraction} arcDegrees={face.arcDegrees} />
      )}
      {props.targetFraction === undefined ? null : (
        <Needle kind="target" fraction={props.targetFraction} arcDegrees={face.arcDegrees} />
      )}
      {fraction === undefined ? null : (
        <Needle kind={onTurn ? 'live' : 'settled'} fraction={fraction} arcDegrees={face.arcDegrees} />
      )}
    </svg>
  );
  if (onTurn === undefined || fraction === undefined) {
    return (
      <div class="dial" role="img" aria-label={`${props.label}: ${props.valueText}`}>
        {picture}
      </div>
    );
  }
  const onKeyDown = (event: KeyboardEvent): void => {
    const step = stepOfKey(event);
    if (event.key === 'Enter') props.onConfirm?.();
    else if (step !== undefined) onTurn(heldBetweenStops(fraction + step));
    else return;
    event.preventDefault();
  };
  return (
    <div
      class="dial dial-turns"
      role="slider"
      tabIndex={0}
      aria-label={props.label}
      aria-valuemin={0}
      aria-valuemax={100}
      aria-valuenow={Math.round(fraction * 1000) / 10}
      aria-valuetext={props.valueText}
      onKeyDown={onKeyDown}
    >
      {picture}
    </div>
  );
}

type DialPointer = TargetedEvent<SVGSVGElement, PointerEvent>;

function grab(event: DialPointer, arcDegrees: number, onTurn: (fraction: number) => void): void {
  if (event.button !== 0) return;
  event.currentTarget.setPointerCapture(event.pointerId);
  turnTo(event, arcDegrees, onTurn);
}

function drag(event: DialPointer, arcDegrees: number, onTurn: (fraction: number) => void): void {
  if (event.currentTarget.hasPointerCapture(event.pointerId)) turnTo(event, arcDegrees, onTurn);
}

/** The finger's place in the drawing's own units, so that zoom and layout do not matter. */
function turnTo(event: DialPointer, arcDegrees: number, onTurn: (fraction: number) => void): void {
  const toDrawing = event.currentTarget.getScreenCTM()?.inverse();
  if (toDrawing === undefined) return;
  const point = new DOMPoint(event.clientX, event.clientY).matrixTransform(toDrawing);
  onTurn(fractionFromPoint({ x: point.x, y: point.y }, arcDegrees));
}
