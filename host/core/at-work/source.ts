import { refuse } from '../refusal';
import type { Refusal } from '../refusal';

/**
 * What hangs on the sender lead looks into: volts behind ohms. The volts are those that heat (root mean square, where a
 * stabiliser chops). Source: every gauge of resistances is a voltage behind a resistance at its sender terminal (Thevenin).
 */
export type LeadSource = { readonly volt: number; readonly ohm: number };

/** Volts on the sender lead with a known resistance from there to ground; Infinity is the lead with nothing on it. */
export type LeadReading = { readonly ohm: number; readonly volt: number };

/**
 * The source behind the sender lead from its volts at two known loads: I = V1/r1 = (V - V1)/R, twice.
 * Holds for gauges of two and of three terminals. Refuses: LEAD_READINGS, for readings that no source gives (volts that
 * do not grow with the ohms, less than nothing).
 */
export const leadSourceFrom = (
  one: LeadReading,
  other: LeadReading,
): ({ readonly kind: 'lead-source' } & LeadSource) | Refusal<'LEAD_READINGS'> => {
  const [heavy, light] = one.ohm < other.ohm ? [one, other] : [other, one];
  const heavyAmp = heavy.volt / heavy.ohm;
  const lightAmp = light.ohm === Infinity ? 0 : light.volt / light.ohm;
  const ohm = (light.volt - heavy.volt) / (heavyAmp - lightAmp);
  const volt = heavy.volt + heavyAmp * ohm;
  const isSound = heavy.ohm > 0 && heavy.volt > 0 && ohm > 0 && Number.isFinite(ohm) && Number.isFinite(volt);
  return isSound
    ? { kind: 'lead-source', volt, ohm }
    : refuse('LEAD_READINGS', {
        heavyOhm: heavy.ohm,
        heavyVolt: heavy.volt,
        ...(light.ohm === Infinity ? {} : { lightOhm: light.ohm }),
        lightVolt: light.volt,
      });
};

/** Watts in a resistance on the lead, ohm. Source: P = (V / (R + r))^2 r. */
export const powerAt = ({ volt, ohm }: LeadSource, resistanceOhm: number): number =>
  (volt / (ohm + resistanceOhm)) ** 2 * resistanceOhm;

/**
 * The source that a sender sees through resistors: in the lead on the gauge's side, from there to ground, and in the
 * lead on the sender's side. Source: Thevenin of a ladder, one step after the other.
 */
export const throughLadder = (
  { volt, ohm }: LeadSource,
  nearOhm: number,
  shuntOhm: number,
  farOhm: number,
): LeadSource => {
  const before = ohm + nearOhm;
  if (shuntOhm === Infinity) return { volt, ohm: before + farOhm };
  if (before === Infinity) return { volt: 0, ohm: shuntOhm + farOhm };
  const share = before + shuntOhm === 0 ? 0 : shuntOhm / (before + shuntOhm);
  return { volt: volt * share, ohm: before * share + farOhm };
};
