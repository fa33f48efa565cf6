import type { JSX } from 'preact';
import { degreesFromFraction } from './dial-geometry';

const BLADE = 'M-2.6 12L-1 -96L0 -99L1 -96L2.6 12Z';
const GHOST = 'M0 -60L0 -98';

/** From inside, so that the number printed at the mark stays free; the shaft is where a needle would lie. */
const TARGET = 'M0 -80L-8 -62L-3 -62L-3 -20L3 -20L3 -62L8 -62Z';

export type NeedleKind = 'live' | 'ghost' | 'settled' | 'target';

/** A needle at a fraction of the arc; the ghost shows where the last reading was, the target a wanted mark. */
export function Needle(props: { fraction: number; arcDegrees: number; kind: NeedleKind }): JSX.Element {
  const turn = `rotate(${degreesFromFraction(props.fraction, props.arcDegrees).toFixed(2)})`;
  if (props.kind === 'ghost' || props.kind === 'target') {
    const path = props.kind === 'ghost' ? GHOST : TARGET;
    return <path class={`needle-${props.kind}`} d={path} transform={turn} />;
  }
  return (
    <g class={`needle needle-${props.kind}`} transform={turn}>
      <path d={BLADE} />
      <circle r="9" />
    </g>
  );
}
