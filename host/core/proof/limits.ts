import type { Quantity } from '../response';
import type { Limits } from './decision';

/** What restorers accept, as a part of the scale. Common practice, no source. */
const USUAL_PART = 0.05;
/** To the side that hides the danger, in the quarter where it lies. Common practice, no source. */
const DANGER_PART = 0.025;
const QUARTER = 0.25;
const HALF = 0.5;

type Danger = { readonly end: 'low' | 'high'; readonly hidingSide: 'low' | 'high' };
/** An engine hotter than it looks, a tank emptier, oil that presses less. */
const DANGER: Readonly<Record<Quantity, Danger | undefined>> = {
  temperature: { end: 'high', hidingSide: 'low' },
  fuel: { end: 'low', hidingSide: 'high' },
  pressure: { end: 'low', hidingSide: 'high' },
  other: undefined,
};

/** Ends of the scale, dial units. */
export type Scale = { readonly quantity: Quantity; readonly lowest: number; readonly highest: number };

/** Whether a value lies in the quarter of the scale where a needle that lies hurts somebody. */
export const isInDangerQuarter = ({ quantity, lowest, highest }: Scale, value: number): boolean => {
  const part = (value - lowest) / (highest - lowest);
  const end = DANGER[quantity]?.end;
  return end === undefined ? false : end === 'high' ? part >= 1 - QUARTER : part <= QUARTER;
};

/**
 * Whether a value lies where the reading matters: from the middle of the scale, where a vehicle in order runs, to the end
 * where a needle that lies hurts somebody. All of the scale where neither end is dangerous. Common practice, no source.
 */
export const isWhereItMatters = ({ quantity, lowest, highest }: Scale, value: number): boolean => {
  const part = (value - lowest) / (highest - lowest);
  const end = DANGER[quantity]?.end;
  return end === undefined || (end === 'high' ? part >= HALF : part <= HALF);
};

/** The limits where nobody chose others, dial units: lopsided where the danger is, half as wide to the side that hides it. */
export const usualLimits = ({ quantity, lowest, highest }: Scale, isDangerous: boolean): Limits => {
  const [wide, tight] = [USUAL_PART, DANGER_PART].map((part) => part * (highest - lowest));
  const side = isDangerous ? DANGER[quantity]?.hidingSide : undefined;
  return { lower: side === 'low' ? -tight! : -wide!, upper: side === 'high' ? tight! : wide! };
};

/** The usual limits from one end of the scale to the other, in steps from the lowest value up. */
export function usualLimitsAlong(
  scale: Scale,
): readonly (Limits & { readonly from: number; readonly to: number })[] {
  const { quantity, lowest, highest } = scale;
  const end = DANGER[quantity]?.end;
  const wide = usualLimits(scale, false);
  if (end === undefined) return [{ from: -Infinity, to: Infinity, ...wide }];
  const part = end === 'high' ? 1 - QUARTER : QUARTER;
  const edge = lowest + part * (highest - lowest);
  const tight = usualLimits(scale, true);
  const [below, above] = end === 'high' ? [wide, tight] : [tight, wide];
  return [
    { from: -Infinity, to: edge, ...below },
    { from: edge, to: Infinity, ...above },
  ];
}
