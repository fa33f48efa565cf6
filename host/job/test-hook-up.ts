import type { TestName } from '../core/diagnosis/names';
import {
  resistorHookUp,
  senderMeterHookUp,
  standInHookUp,
  wireMeterHookUp,
  wireOffHookUp,
  onGroundedPost,
  type FarEnd,
  type HookUp,
  type Join,
} from './hook-up';
import { polarityOfJob } from './check/diagnosis-of-job';
import type { JobState } from './state/state';

type Job = Pick<JobState, 'place' | 'gauge'>;
type Tip = readonly [to: string, end: FarEnd];

const POST: Tip = ['battery negative, at the post', 'battery'];
const HEX: Tip = ['the hex of the sender', 'sender'];
const CASE: Tip = ['the gauge\u2019s own ground', 'ground'];

const meter = (socket: 'V' | '\u03a9', tip: Tip, common: Tip, notes: readonly string[]): HookUp => ({
  of: 'meter',
  joins: [
    { from: socket, colour: 'any', isThin: false, to: tip[0], end: tip[1] },
    {
      from: 'COM',
      colour: 'any',
      isThin: false,
      to: common[0],
      end: common[1],
    },
  ],
  notes,
});

const OFF = 'Ignition off: an ohmmeter on a live wire shows nonsense.';
const TIPS = 'Touch the tips together first and take off what they show.';
const VOLTS = 'Set to DC volts before its tips touch anything.';
const MILLIVOLTS = 'Set to DC millivolts.';
const NEGATIVE_OFF = 'Battery negative off before the dash is opened; wait for airbags as the manual says.';

type Picture = (job: Job, hasBox: boolean) => HookUp;

const load: Picture = (job, hasBox) => (hasBox ? standInHookUp(job) : resistorHookUp(job));
const openLead: Picture = (job, hasBox) => (hasBox ? standInHookUp(job) : wireMeterHookUp(job));
const ohms =
  (tip: Tip, common: Tip, notes: readonly string[]): Picture =>
  () =>
    meter('\u03a9', tip, common, notes);
const volts =
  (tip: Tip, notes: readonly string[]): Picture =>
  () =>
    meter('V', tip, POST, notes);

const HEX_NOTES = [MILLIVOLTS, 'Hands and leads clear of fan and belts.'];
const DASH_NOTES = [NEGATIVE_OFF, TIPS];
const BODY: Tip = ['bare metal of the body', 'ground'];
const terminal = (to: string): Tip => [to, 'terminal'];

/** Left out: nothing is clipped on. */
const PICTURES: Readonly<Partial<Record<TestName, Picture>>> = {
  'lead-off': wireOffHookUp,
  'middle-load': load,
  'lowest-load': load,
  lights: load,
  'both-ways': load,
  'flat-step': load,
  'open-volt': openLead,
  'open-pulses': openLead,
  'loaded-volt': wireMeterHookUp,
  'second-load': wireMeterHookUp,
  battery: volts(terminal('battery positive, at the post'), [VOLTS]),
  'hex-ohm': ohms(HEX, POST, [OFF, TIPS]),
  'hex-quiet': volts(HEX, HEX_NOTES),
  'hex-loaded': volts(HEX, HEX_NOTES),
  'sender-plug': ohms(['the sender\u2019s terminal, its wire off', 'sender'], POST, [OFF, TIPS]),
  'sender-body': senderMeterHookUp,
  'sender-warm': senderMeterHookUp,
  feed: volts(terminal('the gauge\u2019s feed terminal'), [VOLTS]),
  'case-quiet': volts(CASE, [MILLIVOLTS]),
  'case-loaded': volts(CASE, [MILLIVOLTS]),
  'swap-sender': wireOffHookUp,
  'stabiliser-ground': ohms(terminal('the stabiliser\u2019s body'), BODY, DASH_NOTES),
  'wire-ohm': ohms(
    ['the sender wire at the gauge, off', 'wire'],
    ['the same wire at the sender, off', 'wire'],
    DASH_NOTES,
  ),
  'wire-leak': ohms(['the sender wire, off at both ends', 'wire'], BODY, DASH_NOTES),
  'gauge-ohm': ohms(terminal('the gauge\u2019s feed terminal'), terminal('its sender terminal'), DASH_NOTES),
  'gauge-ground-ohm': ohms(
    terminal('the gauge\u2019s sender terminal'),
    ['its ground terminal', 'ground'],
    DASH_NOTES,
  ),
};

/** The same where the battery's positive post is ground: its words, and the box's two clips the other way round. */
const onPositiveGround = ({ of, joins, notes }: HookUp): HookUp => ({
  of,
  joins: (of === 'box' ? clipsSwapped(joins) : joins).map((join) => ({
    ...join,
    to: onGroundedPost(join.to),
  })),
  notes: [...notes.map(onGroundedPost), ...(of === 'box' ? [CLIPS_SWAPPED] : [])],
});

/** Each of the two that carry in the other's place; nothing else joins the box to the vehicle then. */
function clipsSwapped(joins: readonly Join[]): readonly Join[] {
  const carrying = joins.filter(({ isThin }) => !isThin);
  return carrying.map((join, at) => ({ ...join, ...placeOf(carrying[carrying.length - 1 - at] ?? join) }));
}
const placeOf = ({ to, end }: Join): Pick<Join, 'to' | 'end'> => ({ to, end });
const CLIPS_SWAPPED =
  'Positive ground: SENDER on ground, GROUND on the wire, the thin leads off. The other way round the box stays open.';

/** Which lead goes where in a test of the diagnosis; undefined where nothing is clipped on. */
export function testHookUp(test: TestName, state: JobState, hasBox: boolean): HookUp | undefined {
  const hookUp = PICTURES[test]?.(state, hasBox);
  return hookUp === undefined || !polarityOfJob(state).isPositiveGround ? hookUp : onPositiveGround(hookUp);
}
