import type { JSX } from 'preact';
import { useRef } from 'preact/hooks';
import type { Gauge } from '../../job/schema/gauge';
import { senderPlaceWords, wiringWords } from '../../words/network';
import { shownPart } from '../parts/words';
import { useWidth } from '../plot/use-width';
import {
  circuitLayout,
  type CircuitLayout,
  type CircuitQuestion,
  type DrawnPart,
} from '../../scene/circuit-layout';

type CircuitProps = {
  readonly network: CircuitQuestion;
  readonly quantity: Gauge['quantity'];
  /** For print: drawn for this width and not for its frame's. */
  readonly widthPixel?: number;
};

/** The circuit as it will be: what there is in ink, what is added in blue, what lies behind the dash framed. */
export function Circuit({ network, quantity, widthPixel }: CircuitProps): JSX.Element {
  const frame = useRef<HTMLDivElement>(null);
  const measured = useWidth(frame);
  const width = widthPixel ?? measured?.width;
  return (
    <div class="circuit-frame" ref={frame}>
      {width === undefined ? null : (
        <CircuitDrawing
          layout={circuitLayout(network, width)}
          words={wiringWords[network.topology]}
          where={senderPlaceWords[quantity]}
          isThermistor={quantity === 'temperature'}
        />
      )}
    </div>
  );
}

type DrawingProps = {
  readonly layout: CircuitLayout;
  readonly words: string;
  readonly where: string | undefined;
  readonly isThermistor: boolean;
};

function CircuitDrawing({ layout, words, where, isThermistor }: DrawingProps): JSX.Element {
  const { width, height, leadY, feedX, gauge, sender, dash, textPixel } = layout;
  return (
    <svg
      class="circuit"
      role="img"
      aria-label={words}
      width={width}
      height={height}
      viewBox={`0 0 ${width} ${height}`}
      font-size={textPixel}
      text-anchor="middle"
    >
      <rect class="behind-dash" x={dash.x} y={dash.y} width={dash.width} height={dash.height} />
      <text class="soft" x={dash.x + dash.width / 2} y={dash.y + dash.height + textPixel * 1.3}>
        behind the dash
      </text>
      <path class="wire" d={`M${feedX} ${leadY}H${sender.x}V${sender.top}`} />
      <circle class="joint" cx={feedX} cy={leadY} r="4.5" />
      <text class="soft" x={feedX - 5} y={leadY - textPixel * 0.7} text-anchor="start">
        feed
      </text>
      <GaugeSign layout={layout} />
      <text x={gauge.x} y={leadY + gauge.radius + textPixel * 1.35}>
        gauge
      </text>
      {layout.parts.map((each) => (
        <Part key={each.part.place} drawn={each} layout={layout} />
      ))}
      <SenderSign layout={layout} isThermistor={isThermistor} />
      <text x={sender.x} y={leadY - textPixel * (where === undefined ? 0.8 : 2)}>
        sender
      </text>
      {where === undefined ? null : (
        <text class="soft" x={sender.x} y={leadY - textPixel * 0.8}>
          {where}
        </text>
      )}
    </svg>
  );
}

function GaugeSign({ layout: { gauge, leadY } }: { readonly layout: CircuitLayout }): JSX.Element {
  const { x, radius: r } = gauge;
  return (
    <>
      <circle class="wire face" cx={x} cy={leadY} r={r} />
      <path
        class="wire"
        d={`M${x - r * 0.62} ${leadY + r * 0.28}a${r * 0.78} ${r * 0.78} 0 0 1 ${r * 1.24} 0M${x} ${leadY + r * 0.42}l${r * 0.36} ${-r * 0.82}`}
      />
    </>
  );
}

const groundPath = (x: number, y: number): string =>
  `M${x - 19} ${y}h38M${x - 12} ${y + 8}h24M${x - 5} ${y + 16}h10`;

/** A slash through its body: it goes with heat. An arrow: it goes with a float or a membrane. */
function SenderSign(props: { readonly layout: CircuitLayout; readonly isThermistor: boolean }): JSX.Element {
  const { x, top, height } = props.layout.sender;
  const bottom = top + height;
  const foot = bottom + 14;
  return (
    <>
      <rect class="wire face" x={x - 16} y={top} width={32} height={height} />
      <path class="wire" d={`M${x} ${bottom}V${foot}${groundPath(x, foot)}`} />
      {props.isThermistor ? (
        <path class="wire" d={`M${x - 30} ${bottom - 2}h11L${x + 22} ${top - 6}`} />
      ) : (
        <path class="wire" d={`M${x - 28} ${bottom - 6}L${x + 24} ${top + 6}m-11 1l11 -1l-4 10`} />
      )}
    </>
  );
}

function Part({ drawn, layout }: { readonly drawn: DrawnPart; readonly layout: CircuitLayout }): JSX.Element {
  const { part, body, way, value, bag } = drawn;
  const { leadY, textPixel, bigPixel, gauge } = layout;
  const middle = body.x + body.width / 2;
  const foot = body.y + body.height + textPixel * 0.9;
  return (
    <g class="new">
      {way === 'to-ground' ? (
        <path
          d={`M${middle} ${leadY}V${body.y}M${middle} ${body.y + body.height}V${foot}${groundPath(middle, foot)}`}
        />
      ) : null}
      {way === 'over-gauge' ? (
        <path
          d={`M${gauge.x - gauge.radius - 6} ${leadY}V${body.y + body.height / 2}H${body.x}M${body.x + body.width} ${body.y + body.height / 2}H${gauge.x + gauge.radius + 6}V${leadY}`}
        />
      ) : null}
      {way === 'to-ground' ? <circle class="joint" cx={middle} cy={leadY} r="4.5" /> : null}
      <rect x={body.x} y={body.y} width={body.width} height={body.height} />
      <text class="big" x={value.x} y={value.y} font-size={bigPixel} text-anchor={value.anchor}>
        {shownPart(part.resistanceOhm)}
      </text>
      {bag === undefined ? null : (
        <text class="bag" x={bag.x} y={bag.y} text-anchor={bag.anchor}>
          {bag.text}
        </text>
      )}
    </g>
  );
}
