import type { JSX } from 'preact';
import type { LiveFrame } from '../../job/wire/job-messages';
import { shownOhm } from './words';

const dash = '\u2014';
const fixed = (value: number | undefined, decimals: number, unit: string): string =>
  value === undefined ? dash : `${value.toFixed(decimals)} ${unit}`;
const ohm = (value: number | undefined): string => (value === undefined ? dash : shownOhm(value));

/** What the box is asked for, what it made, what it measures. Tabular figures: nothing jumps. */
export function LiveNumbers({ frame }: { readonly frame: LiveFrame }): JSX.Element {
  const { output } = frame;
  const rows = [
    ['Asked', ohm(output.askedOhm)],
    ['Made', ohm(output.madeOhm)],
    ['Measured', ohm(output.measuredOhm)],
    ...(output.pulsing === true
      ? ([
          ['Feed', 'pulsing'],
          ['Heat volts', fixed(output.heatVolt, 2, 'V')],
          ['Heat current', fixed(output.milliamp, 1, 'mA')],
        ] as const)
      : ([
          ['Volts', fixed(output.volt, 2, 'V')],
          ['Current', fixed(output.milliamp, 1, 'mA')],
        ] as const)),
    ['In the box', fixed(output.watt, 2, 'W')],
  ] as const;
  return (
    <dl class="live-numbers">
      {rows.map(([name, value]) => (
        <div key={name}>
          <dt>{name}</dt>
          <dd>{value}</dd>
        </div>
      ))}
    </dl>
  );
}
