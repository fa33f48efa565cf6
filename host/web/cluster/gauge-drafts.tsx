import type { JSX } from 'preact';
import type { Gauge } from '../../job/schema/gauge';
import { templatesFor } from '../dial/templates';
import { Pick } from '../parts/choice';
import { TextField } from '../parts/text-field';
import { MECHANISM_WORDS, QUANTITY_WORDS } from '../parts/words';

export type GaugeDraft = {
  readonly id: number;
  readonly place: string;
  readonly quantity: Gauge['quantity'];
  readonly templateId: string;
  readonly mechanism: Gauge['mechanism'];
};

const MOST = 4;
const QUANTITIES = (['temperature', 'fuel', 'pressure', 'other'] as const).map((value) => ({
  value,
  words: QUANTITY_WORDS[value],
}));
const MECHANISMS = (
  ['unknown', 'thermal', 'two-coil', 'cross-coil', 'moving-coil', 'electronic'] as const
).map((value) => ({ value, words: value === 'unknown' ? 'Find out' : MECHANISM_WORDS[value] }));

const draftOf = (id: number, place: string, quantity: Gauge['quantity']): GaugeDraft => ({
  id,
  place,
  quantity,
  templateId: templatesFor(quantity)[0]?.id ?? '',
  mechanism: 'unknown',
});

export const firstGauges = (): readonly GaugeDraft[] => [
  draftOf(1, 'left', 'fuel'),
  draftOf(2, 'right', 'temperature'),
];

type GaugeDraftsProps = {
  readonly gauges: readonly GaugeDraft[];
  readonly onChange: (gauges: readonly GaugeDraft[]) => void;
};

/** The gauges from left to right; how a dial looks to the last line is set on its own sheet. */
export function GaugeDrafts({ gauges, onChange }: GaugeDraftsProps): JSX.Element {
  const change = (id: number, part: Partial<GaugeDraft>): void =>
    onChange(gauges.map((each) => (each.id === id ? { ...each, ...part } : each)));
  const nextId = Math.max(0, ...gauges.map(({ id }) => id)) + 1;
  return (
    <div class="stack">
      {gauges.map((gauge, at) => (
        <fieldset key={gauge.id}>
          <legend>Gauge {at + 1}</legend>
          <div class="fields">
            <TextField
              label="Where does it sit?"
              text={gauge.place}
              onText={(place) => change(gauge.id, { place })}
              suggestions={['left', 'centre', 'right']}
            />
            <Pick
              label="What does it show?"
              options={QUANTITIES}
              chosen={gauge.quantity}
              onChoose={(quantity) => change(gauge.id, draftOf(gauge.id, gauge.place, quantity))}
            />
            <Pick
              label="What is printed on it?"
              options={templatesFor(gauge.quantity).map(({ id, words }) => ({ value: id, words }))}
              chosen={gauge.templateId}
              onChoose={(templateId) => change(gauge.id, { templateId })}
            />
            <Pick
              label="What moves the needle?"
              options={MECHANISMS}
              chosen={gauge.mechanism}
              onChoose={(mechanism) => change(gauge.id, { mechanism })}
            />
          </div>
          {gauges.length > 2 ? (
            <button
              type="button"
              class="button button-plain"
              onClick={() => onChange(gauges.filter((each) => each !== gauge))}
            >
              Take it out
            </button>
          ) : null}
        </fieldset>
      ))}
      {gauges.length < MOST ? (
        <div>
          <button
            type="button"
            class="button"
            onClick={() => onChange([...gauges, draftOf(nextId, '', 'pressure')])}
          >
            Add a gauge
          </button>
        </div>
      ) : null}
    </div>
  );
}
