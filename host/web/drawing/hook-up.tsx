import type { JSX } from 'preact';
import { useRef } from 'preact/hooks';
import type { FarEnd, HookUp, Join } from '../../job/hook-up';
import { useWidth } from '../plot/use-width';
import { hookUpLayout, type HookUpLayout, type HookUpRow } from './hook-up-layout';

/** Which lead goes where, drawn: socket, lead with its colour, and what is at its far end. */
export function HookUpDrawing({ hookUp }: { readonly hookUp: HookUp }): JSX.Element {
  const frame = useRef<HTMLDivElement>(null);
  const measured = useWidth(frame);
  return (
    <div class="stack">
      <div ref={frame}>
        {measured === undefined ? null : (
          <Picture hookUp={hookUp} layout={hookUpLayout(hookUp, measured.width, measured.typeFactor)} />
        )}
      </div>
      <ul class="hook-up-notes">
        {hookUp.notes.map((note) => (
          <li key={note}>{note}</li>
        ))}
      </ul>
    </div>
  );
}

const NAMES: Readonly<Record<HookUp['of'], string>> = {
  box: 'box',
  resistor: 'resistor',
  potentiometer: 'potentiometer',
  switch: 'switch',
  ohmmeter: 'ohmmeter',
  meter: 'meter',
  gauge: 'gauge',
};

const joinWords = ({ from, colour, to }: Join): string =>
  `${from}${colour === 'any' ? '' : ` (${colour})`} to ${to}`;

function Picture({
  hookUp,
  layout,
}: {
  readonly hookUp: HookUp;
  readonly layout: HookUpLayout;
}): JSX.Element {
  const { width, height, box, rows, textPixel } = layout;
  return (
    <svg
      class="circuit hook-up"
      role="img"
      aria-label={hookUp.joins.map(joinWords).join('; ')}
      width={width}
      height={height}
      viewBox={`0 0 ${width} ${height}`}
      font-size={textPixel}
    >
      <rect class="wire face" x={box.x} y={box.y} width={box.width} height={box.height} rx="4" />
      <text class="soft" x={box.x + box.width / 2} y={box.y + textPixel * 1.3} text-anchor="middle">
        {NAMES[hookUp.of]}
      </text>
      {rows.map((row) => (
        <Lead key={row.join.from} row={row} layout={layout} />
      ))}
    </svg>
  );
}

function Lead({ row, layout }: { readonly row: HookUpRow; readonly layout: HookUpLayout }): JSX.Element {
  const { join, y, lines } = row;
  const { box, endX, textX, textPixel } = layout;
  const edge = box.x + box.width;
  const lineHeight = textPixel * 1.3;
  const firstY = y + textPixel * 0.35 - ((lines.length - 1) * lineHeight) / 2;
  const middle = (edge + endX) / 2;
  return (
    <g>
      <text x={edge - textPixel * 0.8} y={y + textPixel * 0.35} text-anchor="end">
        {join.from}
      </text>
      <circle class="joint" cx={edge} cy={y} r="4.5" />
      <path class={join.isThin ? 'wire thin' : 'wire'} d={`M${edge} ${y}H${endX}`} />
      {join.colour === 'any' ? null : (
        <>
          <rect
            class={`sleeve sleeve-${join.colour}`}
            x={middle - 13}
            y={y - 6}
            width="26"
            height="12"
            rx="2"
          />
          <text class="soft" x={middle} y={y - 11} text-anchor="middle" font-size={textPixel - 1}>
            {join.colour}
          </text>
        </>
      )}
      <EndSign end={join.end} x={endX} y={y} />
      {lines.map((line, index) => (
        <text key={line} x={textX} y={firstY + index * lineHeight}>
          {line}
        </text>
      ))}
    </g>
  );
}

const SIGNS: Readonly<Record<FarEnd, string>> = {
  /** A bare end that hangs on nothing else. */
  wire: 'M0 0h12m3 -7v14m5 -7h8',
  terminal: 'M0 0h10m0 0a7 7 0 1 0 14 0a7 7 0 1 0 -14 0',
  ground: 'M0 0h10v-13v26m6 -20v14m6 -9v4',
  battery: 'M0 0h11v-12v24m6 -18v12',
  sender: 'M0 0h8v-10h18v20h-18v-10m-4 14l26 -28',
};

const EndSign = (props: { readonly end: FarEnd; readonly x: number; readonly y: number }): JSX.Element => (
  <path class="wire" transform={`translate(${props.x} ${props.y})`} d={SIGNS[props.end]} />
);
