import type { JSX } from 'preact';
import { useId } from 'preact/hooks';
import type { Candidate } from '../../../core/network';
import { wiringWords } from '../../../words/network';
import { shownPart } from '../../parts/words';

const WIDTH = 560;
const HEIGHT = 220;
const LINE_Y = 90;
const GROUND_Y = 180;
const GAUGE_X = 130;
const SENDER_X = 490;
/** Places along the lead: gauge side, joint of the shunt, sender side. */
const NEAR_GAUGE_X = 240;
const JOINT_X = 315;
const NEAR_SENDER_X = 390;

type Slots = {
  readonly nearGauge: number | undefined;
  readonly shunt: number | undefined;
  readonly nearSender: number | undefined;
  readonly acrossGauge: number | undefined;
};

/** Which slot of the drawing each part takes: in `series-then-shunt` the series part lies beyond the joint. */
function slotsOf(candidate: Pick<Candidate, 'topology' | 'parts'>): Slots {
  const ohmAt = (place: string): number | undefined =>
    candidate.parts.find((part) => part.place === place)?.resistanceOhm;
  const isBeyondJoint = candidate.topology === 'series-then-shunt';
  return {
    nearGauge: ohmAt('series-gauge-side') ?? (isBeyondJoint ? undefined : ohmAt('series')),
    shunt: ohmAt('shunt'),
    nearSender: ohmAt('series-sender-side') ?? (isBeyondJoint ? ohmAt('series') : undefined),
    acrossGauge: ohmAt('across-gauge'),
  };
}

/** Where the parts go, drawn: feed, gauge, lead, network, sender, ground. What is added is drawn in the needle's colour. */
export function WiringSketch({ candidate }: { readonly candidate: Candidate }): JSX.Element {
  const id = useId();
  const slots = slotsOf(candidate);
  return (
    <svg class="sketch" viewBox={`0 0 ${WIDTH} ${HEIGHT}`} role="img" aria-labelledby={id}>
      <title id={id}>Wiring: {wiringWords[candidate.topology]}</title>
      <path d={`M20 ${LINE_Y}H${GAUGE_X - 30}M${GAUGE_X + 30} ${LINE_Y}H${SENDER_X}V110`} />
      <text x="14" y={LINE_Y - 12}>
        feed
      </text>
      <circle cx={GAUGE_X} cy={LINE_Y} r="30" />
      <path d={`M${GAUGE_X} ${LINE_Y + 12}L${GAUGE_X + 14} ${LINE_Y - 14}`} />
      <text x={GAUGE_X} y={LINE_Y + 50} text-anchor="middle">
        gauge
      </text>
      <rect x={SENDER_X - 14} y="110" width="28" height="44" />
      <path d={`M${SENDER_X - 22} 160L${SENDER_X + 22} 104M${SENDER_X} 154V${GROUND_Y}`} />
      <text x={SENDER_X + 22} y="140">
        sender
      </text>
      <Ground x={SENDER_X} />
      {slots.nearGauge === undefined ? null : <Across x={NEAR_GAUGE_X} ohm={slots.nearGauge} />}
      {slots.nearSender === undefined ? null : <Across x={NEAR_SENDER_X} ohm={slots.nearSender} />}
      {slots.shunt === undefined ? null : <Down ohm={slots.shunt} />}
      {slots.acrossGauge === undefined ? null : <OverGauge ohm={slots.acrossGauge} />}
      <text class="soft" x={JOINT_X} y={HEIGHT - 8} text-anchor="middle">
        at the dash end of the sender lead
      </text>
    </svg>
  );
}

const Ground = ({ x }: { readonly x: number }): JSX.Element => (
  <path
    d={`M${x - 14} ${GROUND_Y}H${x + 14}M${x - 9} ${GROUND_Y + 6}H${x + 9}M${x - 4} ${GROUND_Y + 12}H${x + 4}`}
  />
);

const Label = (props: { readonly x: number; readonly y: number; readonly ohm: number }): JSX.Element => (
  <text class="title" x={props.x} y={props.y} text-anchor="middle">
    {shownPart(props.ohm)}
  </text>
);

const Across = ({ x, ohm }: { readonly x: number; readonly ohm: number }): JSX.Element => (
  <>
    <rect class="added plate-fill" x={x - 26} y={LINE_Y - 9} width="52" height="18" />
    <Label x={x} y={LINE_Y - 18} ohm={ohm} />
  </>
);

const Down = ({ ohm }: { readonly ohm: number }): JSX.Element => (
  <>
    <path class="added" d={`M${JOINT_X} ${LINE_Y}V112M${JOINT_X} 156V${GROUND_Y}`} />
    <rect class="added" x={JOINT_X - 9} y="112" width="18" height="44" />
    <circle class="added joint" cx={JOINT_X} cy={LINE_Y} r="4" />
    <text class="title" x={JOINT_X + 18} y="139">
      {shownPart(ohm)}
    </text>
    <Ground x={JOINT_X} />
  </>
);

const OverGauge = ({ ohm }: { readonly ohm: number }): JSX.Element => (
  <>
    <path class="added" d={`M70 ${LINE_Y}V36H104M156 36H190V${LINE_Y}`} />
    <rect class="added" x="104" y="27" width="52" height="18" />
    <Label x={GAUGE_X} y={20} ohm={ohm} />
  </>
);
