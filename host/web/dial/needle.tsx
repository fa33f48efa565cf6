import type { JSX } from 'preact';
import { degreesFromFraction } from './dial-geometry';

const BLADE = 'M-2.6 12L-1 -96L0 -99L1 -96L2.6 12Z';
const GHOST = 'M0 -60L0 -98';

export type NeedleKind = 'live' | 'ghost' | 'settled';

/** A needle at a fraction of the arc; the ghost shows where the last reading or a wanted mark is. */
export function Needle(props: { fraction: number; arcDegrees: number; kind: NeedleKind }): JSX.Element {
  const turn = `rotate(${degreesFromFraction(props.fraction, props.arcDegrees).toFixed(2)})`;
  return props.kind === 'ghost' ? (
    <path class="needle-ghost" d={GHOST} transform={turn} />
  ) : (
    <g class={`needle needle-${props.kind}`} transform={turn}>
      <path d={BLADE} />
      <circle r="9" />
    </g>
  );
}
