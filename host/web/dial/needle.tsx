import type { JSX } from 'preact';
import { degreesFromFraction } from './dial-geometry';

/** Tapered, with a tail. */
const BLADE = 'M-2.7 15L-0.9 -98L0.9 -98L2.7 15Z';
/** A ring to take hold of, and on it that it goes both ways. */
const GRIP_AT = -64;
const GRIP_WAYS = 'M-2.5 -67L-5 -64L-2.5 -61M2.5 -67L5 -64L2.5 -61';

/** From inside, so that the number printed at the mark stays free; the shaft is where a needle would lie. */
const TARGET = 'M0 -80L-8 -62L-3 -62L-3 -20L3 -20L3 -62L8 -62Z';

/** `live` is to be put by hand, `settled` moves by itself, `last` is where it was read last, `target` a wanted mark. */
export type NeedleKind = 'live' | 'settled' | 'last' | 'target';

/** A needle at a fraction of the arc. */
export function Needle(props: { fraction: number; arcDegrees: number; kind: NeedleKind }): JSX.Element {
  const { kind } = props;
  const turn = `rotate(${degreesFromFraction(props.fraction, props.arcDegrees).toFixed(2)})`;
  if (kind === 'target') return <path class="needle-target" d={TARGET} transform={turn} />;
  return (
    <g class={`needle needle-${kind}`} transform={turn}>
      <path class="needle-blade" d={BLADE} />
      {kind === 'live' ? (
        <g class="needle-grip">
          <circle cy={GRIP_AT} r="8" />
          <path d={GRIP_WAYS} />
        </g>
      ) : null}
      <circle class="needle-hub" r="9" />
    </g>
  );
}
