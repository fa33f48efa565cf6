import type { JSX } from 'preact';
import { referenceUncertainty } from '../../../core/proof/reference';
import type { ReferenceKind } from '../../../core/proof/reference-kinds';
import type { Gauge } from '../../../job/schema/gauge';
import { REFERENCE_TRAPS, REFERENCE_WORDS } from '../../../words/reference';
import { Choice } from '../../parts/choice';

const KINDS: Readonly<Record<Gauge['quantity'], readonly ReferenceKind[]>> = {
  temperature: ['flow-probe', 'soak', 'infrared', 'scan-tool', 'other'],
  fuel: ['pump', 'other'],
  pressure: ['master-gauge', 'other'],
  other: ['other'],
};
/** Tape or matt paint, which is what the question asks for. */
const PAINTED = 0.95;

/** What such a reference is good to where nobody has its certificate, 95 %, dial units; undefined where it needs figures. */
export const usualSpread = (kind: ReferenceKind, { quantity, unit }: Gauge): number | undefined => {
  const found = referenceUncertainty({ kind, quantity, unit, emissivity: PAINTED });
  return found.kind === 'refused' ? undefined : Math.hypot(found.shared, found.each);
};

/** What the needle is held against, with the question that its trap asks. */
export const ReferenceChoice = (props: {
  readonly gauge: Gauge;
  readonly kind: ReferenceKind;
  readonly onKind: (kind: ReferenceKind) => void;
}): JSX.Element => (
  <>
    <Choice
      label="The reference"
      options={KINDS[props.gauge.quantity].map((value) => ({ value, words: REFERENCE_WORDS[value] }))}
      chosen={props.kind}
      onChoose={props.onKind}
    />
    <p class="hint">{REFERENCE_TRAPS[props.kind]}</p>
  </>
);
