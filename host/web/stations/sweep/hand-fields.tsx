import type { JSX } from 'preact';
import { useState } from 'preact/hooks';
import { partList } from '../../../core/text/part-list';
import type { HandSetUp, HandTools } from '../../../job/schema/by-hand';
import type { JobState } from '../../../job/state/state';
import { FROM_ZERO, NumberField, useNumberDraft, type NumberDraft } from '../../parts/number-field';
import { TextField } from '../../parts/text-field';

export type HandWay = HandTools['way'];

/** What was used last in this job stands in the fields again. */
const before = (state: JobState): HandSetUp | undefined =>
  state.sweeps.filter((each) => each.hand !== undefined).at(-1)?.hand;

const lineOf = (part: Extract<HandTools, { way: 'resistors' }>['parts'][number]): string =>
  `${part.count === 1 ? '' : `${part.count} x `}${part.resistanceOhm}${part.ratingWatt === undefined ? '' : ` ${part.ratingWatt}W`}`;

const text = (value: number | undefined): string => (value === undefined ? '' : String(value));

/** Everything a person says of what is in hand, as it is typed. */
function useHandDrafts(state: JobState) {
  const last = before(state);
  const tools = last?.tools;
  const drawer = tools?.way === 'resistors' ? tools.parts.map(lineOf).join('\n') : '';
  const pot = tools?.way === 'potentiometer' ? tools : undefined;
  const [parts, setParts] = useState(drawer);
  const [hasSwitch, setSwitch] = useState(tools?.way === 'resistors' && tools.hasSwitch === true);
  const whole = useNumberDraft(text(pot?.wholeOhm), 'ohm', 0);
  const watt = useNumberDraft(text(pot?.ratingWatt), undefined, 0);
  const fixed = useNumberDraft(text(pot?.seriesOhm), 'ohm', 0);
  const fixedWatt = useNumberDraft(text(pot?.seriesWatt), undefined, 0);
  const least = useNumberDraft('1', 'ohm', 0);
  const most = useNumberDraft('9999', 'ohm', 0);
  const decadeWatt = useNumberDraft('', undefined, 0);
  const [meter, setMeter] = useState(last?.ohmmeter.name ?? 'My ohmmeter');
  const leads = useNumberDraft(text(last?.ohmmeter.leadsOhm), 'ohm', FROM_ZERO);
  const percent = useNumberDraft(text(last?.ohmmeter.limitPercent), undefined, 0);
  const ohm = useNumberDraft(text(last?.ohmmeter.limitOhm), 'ohm', FROM_ZERO);
  const feedVolt = useNumberDraft(text(last?.feedVolt), undefined, 0);
  const gaugeOhm = useNumberDraft(text(last?.gaugeOhm), 'ohm', 0);
  const list = parts.trim() === '' ? undefined : partList(parts);
  const fields = {
    parts,
    setParts,
    list,
    hasSwitch,
    setSwitch,
    whole,
    watt,
    fixed,
    fixedWatt,
    least,
    most,
    decadeWatt,
  };
  const meterFields = { meter, setMeter, leads, percent, ohm, feedVolt, gaugeOhm };
  return { ...fields, ...meterFields };
}

type Drafts = ReturnType<typeof useHandDrafts>;

/** The same with what it comes to; `setUp` is left out until it is whole. */
export function useHandFields(state: JobState, way: HandWay): HandFields {
  const drafts = useHandDrafts(state);
  const setUp = setUpOf(way, drafts);
  return setUp === undefined ? drafts : { ...drafts, setUp };
}

export type HandFields = Drafts & { readonly setUp?: HandSetUp };

const given = <Name extends string>(name: Name, draft: NumberDraft): Partial<Record<Name, number>> => {
  const found: Partial<Record<Name, number>> = {};
  if (draft.value !== undefined) found[name] = draft.value;
  return found;
};

function toolsOf(way: HandWay, drafts: Drafts): HandTools | undefined {
  switch (way) {
    case 'resistors':
      return drafts.list?.kind === 'parts'
        ? {
            way,
            parts: drafts.list.parts.map(({ resistanceOhm, ratingWatt, count }) => ({
              resistanceOhm,
              count,
              ...(ratingWatt === undefined ? {} : { ratingWatt }),
            })),
            ...(drafts.hasSwitch ? { hasSwitch: true } : {}),
          }
        : undefined;
    case 'decade': {
      const [leastOhm, mostOhm] = [drafts.least.value, drafts.most.value];
      return leastOhm === undefined || mostOhm === undefined
        ? undefined
        : { way, leastOhm, mostOhm, ...given('ratingWatt', drafts.decadeWatt) };
    }
    case 'potentiometer': {
      const [wholeOhm, ratingWatt] = [drafts.whole.value, drafts.watt.value];
      if (wholeOhm === undefined || ratingWatt === undefined) return undefined;
      // Without a fixed resistor the plan says which one it must be.
      const [seriesOhm, seriesWatt] = [
        drafts.fixed.value ?? NO_FIXED_OHM,
        drafts.fixedWatt.value ?? NO_FIXED_OHM,
      ];
      return { way, wholeOhm, ratingWatt, seriesOhm, seriesWatt };
    }
  }
}

const NO_FIXED_OHM = 0.01;

function setUpOf(way: HandWay, drafts: Drafts): HandSetUp | undefined {
  const tools = toolsOf(way, drafts);
  const { meter, leads, percent, ohm, feedVolt, gaugeOhm } = drafts;
  const isWrong = [leads, percent, ohm, feedVolt, gaugeOhm].some(({ problem }) => problem !== undefined);
  if (tools === undefined || isWrong || meter.trim() === '') return undefined;
  return {
    tools,
    ohmmeter: {
      name: meter,
      ...given('leadsOhm', leads),
      ...given('limitPercent', percent),
      ...given('limitOhm', ohm),
    },
    ...given('feedVolt', feedVolt),
    ...given('gaugeOhm', gaugeOhm),
  };
}

/** What lies in the drawer, or what the potentiometer is. */
export function ToolFields({
  way,
  fields,
}: {
  readonly way: HandWay;
  readonly fields: HandFields;
}): JSX.Element {
  switch (way) {
    case 'resistors':
      return (
        <>
          <TextField
            label="Resistors you have, one a line"
            rows={5}
            text={fields.parts}
            onText={fields.setParts}
            hint={
              fields.list?.kind === 'refused' ? fields.list.message : 'As 150, or 2 x 220 1W, or 4k7 1/4W.'
            }
          />
          <label class="chip chip-left">
            <input
              type="checkbox"
              checked={fields.hasSwitch}
              onChange={(event) => fields.setSwitch(event.currentTarget.checked)}
            />
            I have a change-over switch: then the needle is read falling too
          </label>
        </>
      );
    case 'decade':
      return (
        <div class="fields">
          <NumberField label="Its least step" unit="ohm" draft={fields.least} />
          <NumberField label="The most it makes" unit="ohm" draft={fields.most} />
          <NumberField
            label="Watts of one of its resistors"
            unit="W"
            draft={fields.decadeWatt}
            hint="Empty: 1/4 W."
          />
        </div>
      );
    case 'potentiometer':
      return (
        <div class="fields">
          <NumberField label="The whole potentiometer" unit="ohm" draft={fields.whole} />
          <NumberField label="Rated" unit="W" draft={fields.watt} />
          <NumberField label="Fixed resistor in series" unit="ohm" draft={fields.fixed} />
          <NumberField label="Its rating" unit="W" draft={fields.fixedWatt} />
        </div>
      );
  }
}

/** The ohmmeter, leads shorted first; and the gauge's own volts and ohms, where somebody measured them. */
export const MeterFields = ({ fields }: { readonly fields: HandFields }): JSX.Element => (
  <>
    <div class="fields">
      <TextField label="Which ohmmeter?" text={fields.meter} onText={fields.setMeter} />
      <NumberField
        label="It shows, leads shorted"
        unit="ohm"
        draft={fields.leads}
        hint="Taken off every reading."
      />
    </div>
    <details>
      <summary>How good the ohmmeter is; volts and ohms of the gauge</summary>
      <div class="fields">
        <NumberField label="Its limit" unit="%" draft={fields.percent} hint="Data sheet. Empty: 0.8 %." />
        <NumberField label="and" unit="ohm" draft={fields.ohm} hint="Empty: 0.3." />
        <NumberField
          label="Most volts at the gauge"
          unit="V"
          draft={fields.feedVolt}
          hint="Empty: its worst."
        />
        <NumberField
          label="Ohms of the gauge itself"
          unit="ohm"
          draft={fields.gaugeOhm}
          hint="Empty: its worst."
        />
      </div>
    </details>
  </>
);
