import type { JSX } from 'preact';
import { useState } from 'preact/hooks';
import type { Particulars } from '../../../job/schema/particulars';
import type { JobCommand } from '../../../job/schema/commands';
import type { JobState } from '../../../job/state/state';
import { Choice } from '../../parts/choice';
import { Fold } from '../../parts/fold';
import { FROM_ZERO, NumberField, useNumberDraft } from '../../parts/number-field';
import { TextField } from '../../parts/text-field';
import { keepShop, keptShop } from './kept-shop';

type FormProps = { readonly state: JobState; readonly send: (command: JobCommand) => void };

const FIELDS = [
  { key: 'customer', label: 'Customer' },
  { key: 'shop', label: 'Shop', hint: 'This screen keeps it for the next job.' },
  { key: 'technician', label: 'Technician', hint: 'This screen keeps it for the next job.' },
  { key: 'registration', label: 'Registration' },
  { key: 'gaugeSerialNumber', label: 'Serial number of the gauge' },
  { key: 'gaugePartNumber', label: 'Part number of the gauge' },
  { key: 'senderSerialNumber', label: 'Serial number of the sender' },
  { key: 'senderPartNumber', label: 'Part number of the sender' },
] as const satisfies readonly { key: keyof Particulars; label: string; hint?: string }[];
type Key = (typeof FIELDS)[number]['key'];
type Texts = Readonly<Record<Key, string>>;

const UNITS = [
  { value: 'km', words: 'km' },
  { value: 'mile', words: 'miles' },
] as const;

/** What a job's record is filed by. It stays on the record and in this job: no catalogue takes it along. */
export function ParticularsForm({ state, send }: FormProps): JSX.Element {
  const { particulars = {} } = state;
  const [texts, setTexts] = useState<Texts>(() => textsFrom(particulars));
  const [unit, setUnit] = useState<'km' | 'mile'>(particulars.odometer?.unit ?? 'km');
  const distance = useNumberDraft(String(particulars.odometer?.distance ?? ''), undefined, FROM_ZERO);
  const save = (): void => {
    keepShop({ shop: texts.shop.trim(), technician: texts.technician.trim() });
    send({ kind: 'change-job', particulars: particularsFrom(texts, distance.value, unit) });
  };
  return (
    <Fold line="Whose it is, and who worked on it" says={saysOf(state)}>
      {FIELDS.map((field) => (
        <TextField
          key={field.key}
          label={field.label}
          text={texts[field.key]}
          onText={(text) => setTexts({ ...texts, [field.key]: text })}
          {...('hint' in field ? { hint: field.hint } : {})}
        />
      ))}
      <NumberField label="Odometer" draft={distance} />
      <Choice label="It counts" options={UNITS} chosen={unit} onChoose={setUnit} />
      <div class="row">
        <button type="button" class="button" disabled={distance.problem !== undefined} onClick={save}>
          Save these
        </button>
      </div>
    </Fold>
  );
}

/** What is given already; shop and technician are those of this screen until somebody says otherwise. */
function textsFrom(given: Particulars): Texts {
  const kept = keptShop();
  return {
    customer: given.customer ?? '',
    shop: given.shop ?? kept.shop,
    technician: given.technician ?? kept.technician,
    registration: given.registration ?? '',
    gaugeSerialNumber: given.gaugeSerialNumber ?? '',
    gaugePartNumber: given.gaugePartNumber ?? '',
    senderSerialNumber: given.senderSerialNumber ?? '',
    senderPartNumber: given.senderPartNumber ?? '',
  };
}

/** What is in the fold, on its closed line. */
function saysOf({ particulars = {} }: JobState): string {
  const told = [particulars.customer, particulars.registration].filter((each) => each !== undefined);
  return told.length === 0 ? 'customer, shop, registration, odometer, numbers' : told.join(', ');
}

/** Empty fields are left out: on paper they stay empty, to be written in by hand. */
function particularsFrom(texts: Texts, distance: number | undefined, unit: 'km' | 'mile'): Particulars {
  const given = FIELDS.flatMap(({ key }) =>
    texts[key].trim() === '' ? [] : [[key, texts[key].trim()] as const],
  );
  return {
    ...Object.fromEntries(given),
    ...(distance === undefined ? {} : { odometer: { distance, unit } }),
  };
}
