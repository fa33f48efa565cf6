import { refuse, type Refusal } from '../refusal';
import type { Quantity } from '../response';
import { unitChange } from '../units';
import { shownByInfrared } from './infrared';
import type { ReferenceKind } from './reference-kinds';

export type ReferenceQuestion = {
  readonly kind: ReferenceKind;
  readonly quantity: Quantity;
  /** The dial's. */
  readonly unit: string;
  /** Its own certificate at 95 %, dial units, where there is one: in place of the figure of its kind. */
  readonly shared?: number | undefined;
  readonly each?: number | undefined;
  /** Of the surface an infrared thermometer looks at. */
  readonly emissivity?: number | undefined;
  /** Class of a master gauge, percent of its full scale (dial units). */
  readonly classPercent?: number | undefined;
  readonly fullScale?: number | undefined;
  /** What the tank holds, litres, where the dial shows a part of it. */
  readonly tankLitre?: number | undefined;
};

/**
 * How well a reference is known, both at 95 % and in dial units. `shared` is the same for every pair it was used for and
 * does not shrink with their number; `each` is of one pair alone. `perValue` is a part of the value itself, shared too.
 */
export type ReferenceUncertainty = {
  readonly kind: 'reference-uncertainty';
  readonly shared: number;
  readonly each: number;
  readonly perValue: number;
};

export type ReferenceRefusal = Refusal<
  | 'REFERENCE_QUANTITY'
  | 'REFERENCE_UNSAID'
  | 'REFERENCE_SHINY'
  | 'REFERENCE_CHANGES'
  | 'REFERENCE_HINT'
  | 'SENDER_UNIT'
>;

type OfTemperature = { readonly shared: number; readonly each: number };

/** Kelvin at 95 %, of references of temperature. Common practice, no source. */
const KELVIN: Readonly<Partial<Record<ReferenceKind, OfTemperature>>> = {
  'flow-probe': { shared: 2, each: 0.7 },
  soak: { shared: 1, each: 0 },
  infrared: { shared: 4, each: 1 },
  'scan-tool': { shared: 3, each: 0.6 },
  thermostat: { shared: 5, each: 0 },
};
/** Of the litres, and litres. Source: 2014/32/EU Annex VII, accuracy class 0.5; the litre tenths: common practice. */
const PUMP_PART = 0.005;
const PUMP_LITRE = 0.1;
/** Below this a surface shows its surroundings more than itself. Common practice, no source. */
const LEAST_EMISSIVITY = 0.8;
/** Faster than this, and probe and sender are at two moments. Common practice, no source. */
const MOST_KELVIN_PER_MINUTE = 1;
const USUAL_LAG_SECOND = 20;
const SECOND_PER_MINUTE = 60;
const PERCENT = 100;
/** The working temperature at which the infrared trap is told. */
const TOLD_AT_CELSIUS = 90;

const QUANTITY: Readonly<Partial<Record<ReferenceKind, Quantity>>> = {
  pump: 'fuel',
  'master-gauge': 'pressure',
};

const unsaid = (
  reference: ReferenceKind,
  missing: 'class' | 'full-scale' | 'tank' | 'uncertainty' | 'emissivity',
): Refusal<'REFERENCE_UNSAID'> => refuse('REFERENCE_UNSAID', { reference, missing });

type OfKind = Omit<ReferenceUncertainty, 'kind'> | ReferenceRefusal;

const ofTemperature = (question: ReferenceQuestion, kelvin: OfTemperature): OfKind => {
  const change = unitChange('degC', question.unit);
  if (change.kind === 'refused') return change;
  if (question.kind === 'infrared') {
    const { emissivity } = question;
    if (emissivity === undefined) return unsaid('infrared', 'emissivity');
    if (!(emissivity >= LEAST_EMISSIVITY))
      return refuse('REFERENCE_SHINY', {
        emissivity,
        least: LEAST_EMISSIVITY,
        shownCelsius: shownByInfrared(TOLD_AT_CELSIUS, Math.max(0, emissivity)),
      });
  }
  return { shared: kelvin.shared * change.factor, each: kelvin.each * change.factor, perValue: 0 };
};

const ofPump = ({ unit, tankLitre }: ReferenceQuestion): OfKind => {
  if (unit === 'l') return { shared: 0, each: PUMP_LITRE, perValue: PUMP_PART };
  if (!(tankLitre !== undefined && tankLitre > 0)) return unsaid('pump', 'tank');
  const perLitre = unit === '%' ? PERCENT / tankLitre : 1 / tankLitre;
  return { shared: 0, each: PUMP_LITRE * perLitre, perValue: PUMP_PART };
};

const ofMaster = ({ classPercent, fullScale }: ReferenceQuestion): OfKind => {
  if (!(classPercent !== undefined && classPercent > 0)) return unsaid('master-gauge', 'class');
  if (!(fullScale !== undefined && fullScale > 0)) return unsaid('master-gauge', 'full-scale');
  return { shared: (classPercent * fullScale) / PERCENT, each: 0, perValue: 0 };
};

const ofKind = (question: ReferenceQuestion): OfKind => {
  const { kind, quantity } = question;
  const kelvin = KELVIN[kind];
  const meant = kelvin === undefined ? QUANTITY[kind] : 'temperature';
  if (meant !== undefined && meant !== quantity)
    return refuse('REFERENCE_QUANTITY', { reference: kind, quantity });
  if (kelvin !== undefined) return ofTemperature(question, kelvin);
  if (question.shared !== undefined) return { shared: 0, each: 0, perValue: 0 };
  if (kind === 'pump') return ofPump(question);
  return kind === 'master-gauge' ? ofMaster(question) : unsaid(kind, 'uncertainty');
};

/**
 * How well a reference is known by its kind, or by its own certificate.
 * Source: the table of kinds above; EN 837-1 for the class of a gauge (percent of span).
 * Refuses: a kind for another quantity (REFERENCE_QUANTITY), a surface too shiny for infrared (REFERENCE_SHINY), figures
 * that its uncertainty is reckoned from (REFERENCE_UNSAID), a dial that shows no temperature (SENDER_UNIT).
 */
export const referenceUncertainty = (
  question: ReferenceQuestion,
): ReferenceUncertainty | ReferenceRefusal => {
  const found = ofKind(question);
  if ('code' in found) return found;
  const isOwn = question.shared !== undefined;
  return {
    kind: 'reference-uncertainty',
    shared: question.shared ?? found.shared,
    each: question.each ?? found.each,
    perValue: isOwn ? 0 : found.perValue,
  };
};

/** A stamp says what a thermostat should do: nobody measured anything. */
export const isHintOnly = (kind: ReferenceKind): boolean => kind === 'thermostat';

/**
 * What a changing value adds to one pair, dial units at 95 %: rate times the seconds by which reference and sender differ.
 * Source: first-order lag, d = rate x time. Refuses: a temperature that changes faster than a probe can follow
 * (REFERENCE_CHANGES).
 */
export const lagOf = (
  { quantity, unit }: Pick<ReferenceQuestion, 'quantity' | 'unit'>,
  ratePerMinute: number,
  lagSecond = USUAL_LAG_SECOND,
): { readonly kind: 'lag'; readonly size: number } | Refusal<'REFERENCE_CHANGES'> => {
  const change = unitChange('degC', unit);
  const most =
    quantity === 'temperature' && change.kind !== 'refused'
      ? MOST_KELVIN_PER_MINUTE * change.factor
      : Infinity;
  const rate = Math.abs(ratePerMinute);
  // Written so that NaN is refused.
  if (!(rate <= most)) return refuse('REFERENCE_CHANGES', { ratePerMinute: rate, most, unit });
  return { kind: 'lag', size: (rate * lagSecond) / SECOND_PER_MINUTE };
};
