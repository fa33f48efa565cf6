import type { JSX } from 'preact';
import { useState } from 'preact/hooks';
import type { LinePoint, SenderFinding } from '../../../job/findings';
import type { Gauge } from '../../../job/schema/gauge';
import { turnOf } from '../../../job/state/shown-unit';
import type { JobState } from '../../../job/state/state';
import { shownOhm, shownUnit } from '../../parts/words';
import { evenScale, type Scale } from '../../../scene/dial-strip';
import { OhmsPlot } from '../../plot/ohms-plot';
import type { OhmLine, OhmPoint } from '../../../scene/ohms-scene';
import { roundValues } from '../../../scene/value-axis';
import { isByRatio } from '../../../scene/curve-question';

type SenderPlotProps = {
  readonly state: JobState;
  readonly findings: readonly SenderFinding[];
  readonly shown: string;
  /** What the gauge wants, in the dial's unit, where it was swept. */
  readonly wanted: readonly LinePoint[];
};

type Point = JobState['senderPoints'][number];
const MOST_MARKS = 7;

/** The dial of the job where the sender's unit can be turned into the dial's; else round figures of its own. */
function scaleFor(
  gauge: Gauge,
  unit: string,
  values: readonly number[],
): { readonly scale: Scale; readonly turn: (value: number) => number } {
  const turn = turnOf(unit, gauge.unit);
  if (turn !== undefined) return { scale: gauge, turn: turn.value };
  const [from, to] = [Math.min(...values), Math.max(...values)];
  const round = roundValues(from, to > from ? to : from + 1, MOST_MARKS);
  return { scale: evenScale(round.length < 2 ? [from, from + 1] : round, unit), turn: (value) => value };
}

/** The ohms of the sender at hand over the dial, the other senders beside it, and what the gauge wants of them all. */
export function SenderPlot({ state, findings, shown, wanted }: SenderPlotProps): JSX.Element {
  const [chosen, setChosen] = useState<string | undefined>(undefined);
  const points = state.senderPoints.filter(
    (point) => point.struckBecause === undefined && point.senderId === shown,
  );
  const unit = unitOf(state, shown);
  const { scale, turn } = scaleFor(
    state.gauge,
    unit,
    points.map(({ value }) => value),
  );
  if (points.length === 0) return <p class="soft">The curve draws itself here as points come in.</p>;
  const at = ({ x, y }: Pick<LinePoint, 'x' | 'y'>): OhmPoint => ({ value: turn(x), ohm: y });
  const comparable = findings.filter(({ senderId }) => unitOf(state, senderId) === unit);
  const senders = comparable.map((each): OhmLine => ({
    id: each.senderId,
    name: titleOf(state, each.senderId),
    look: 'sender',
    points: each.line.map(at),
    isAside: each.senderId !== shown,
  }));
  const isOnDial = scale === state.gauge;
  return (
    <OhmsPlot
      label={`Ohms of the sender over the dial: ${points.length} points. The table below holds the same figures.`}
      question={{
        scale,
        isRatio: isByRatio(state.gauge),
        lines: [...senders, ...toleranceLines(findings, shown, at), ...(isOnDial ? wantedLine(wanted) : [])],
        dots: points.map((point) => ({
          id: point.pointId,
          kind: 'up',
          ...at({ x: point.value, y: point.resistanceOhm }),
        })),
        naming: 'list',
      }}
      hands={{
        points: points.map((point) => ({ id: point.pointId, words: pointWords(point, unit) })),
        chosen,
        onChoose: setChosen,
      }}
    />
  );
}

const unitOf = (state: JobState, senderId: string): string =>
  state.senders.find((each) => each.senderId === senderId)?.unit ?? state.gauge.unit;
const titleOf = (state: JobState, senderId: string): string =>
  state.senders.find((each) => each.senderId === senderId)?.title ?? senderId;

const pointWords = (point: Point, unit: string): string =>
  `${shownOhm(point.resistanceOhm)} at ${point.value} ${shownUnit(unit)}`;

const wantedLine = (wanted: readonly LinePoint[]): OhmLine[] =>
  wanted.length === 0
    ? []
    : [
        {
          id: 'wanted',
          name: 'What this gauge wants',
          look: 'curve',
          points: wanted.map(({ x, y }) => ({ ohm: x, value: y })),
          isAside: true,
        },
      ];

/** Two thin lines at the ends of a stated tolerance; none where none is stated. */
function toleranceLines(
  findings: readonly SenderFinding[],
  shown: string,
  at: (point: Pick<LinePoint, 'x' | 'y'>) => OhmPoint,
): OhmLine[] {
  const band = findings.find((each) => each.senderId === shown)?.tolerance ?? [];
  if (band.length === 0) return [];
  return (['low', 'high'] as const).map((end) => ({
    id: `tolerance ${end}`,
    name: `tolerance, ${end} end`,
    look: 'edge',
    points: band.map((point) => at({ x: point.x, y: point[end] })),
  }));
}
