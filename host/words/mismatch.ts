import type { MismatchCause, PartingReading, RankedCause } from '../core/proof/mismatch';
import type { Notation } from './notation';
import { listed } from './sentence';

type Said = (size: number, unit: string, say: Notation) => string;

const percent = (part: number): string => `${Math.abs(100 * part).toPrecision(2)} %`;

/** What a cause would be, with its size. */
const CAUSE_WORDS: Readonly<Record<MismatchCause, Said>> = {
  series: (size, _, say) =>
    `about ${say.ohm(Number(size.toPrecision(2)))} too many in the wire or its joints`,
  leak: (size, _, say) => `a leak of about ${say.ohm(Number(size.toPrecision(2)))} from the wire to ground`,
  volts: (size) => `volts ${percent(size)} ${size < 0 ? 'lower' : 'higher'} than in the sweep`,
  ground: (size) => `a ground offset of about ${Math.abs(size).toPrecision(2)} V`,
  family: (size) =>
    `a sender with ${percent(size)} ${size < 0 ? 'fewer' : 'more'} ohms than its curve, or of another family`,
  pointer: (size, unit, say) => `a pointer that sits ${say.lowOrHigh(size, unit)} on its shaft`,
};

/** The size's unit, for programs. */
export const CAUSE_UNITS: Readonly<Record<MismatchCause, 'ohm' | 'part' | 'V' | 'dial'>> = {
  series: 'ohm',
  leak: 'ohm',
  volts: 'part',
  ground: 'V',
  family: 'part',
  pointer: 'dial',
};

const SHORT: Readonly<Record<MismatchCause, string>> = {
  series: 'resistance in the wire',
  leak: 'a leak to ground',
  volts: 'the volts',
  ground: 'a ground offset',
  family: 'the sender\u2019s ohms',
  pointer: 'the pointer on its shaft',
};

export const PARTING_WORDS: Readonly<Record<PartingReading, string>> = {
  'rest-mark': 'where the needle rests with the ignition off, against its mark',
  'open-volts': 'the volts on the open sender wire, against those of the sweep',
  'sender-ohms': 'the sender\u2019s ohms at its own body, wire off',
  lights: 'the needle at one place with the lights off and on',
  'wire-ohms': 'the ohms of the wire from gauge to sender, both ends off',
  'leak-ohms': 'the ohms from the wire to ground, both ends off',
};

/** One line of what a mismatch could mean. */
export const mismatchWords = (
  { causes, sizes, alike }: Pick<RankedCause, 'causes' | 'sizes' | 'alike'>,
  unit: string,
  say: Notation,
): string => {
  const said = causes.map((cause, index) => CAUSE_WORDS[cause](sizes[index] ?? 0, unit, say)).join(', and ');
  return alike.length === 0
    ? said
    : `${said} (these pairs cannot tell it from ${listed(alike.map((each) => SHORT[each]))})`;
};

export const FAULT_REMAINS =
  'A fault remains: gauge and sender together do not show what their curves say. A resistor would hide it.';
export const CHAIN_AGREES = 'Gauge, wire and sender together show what their curves say.';
