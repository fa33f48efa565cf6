import { gaugeResponse } from '../core/curve';
import type { GaugeCurve } from '../core/curve/types';
import { usualFits, type UsualFit } from '../core/network';
import type { Gauge } from '../job/schema/gauge';
import { scaleOf } from '../job/schema/scale';
import { printed } from '../words/notation';
import { usualSenderName, usualSenderSays } from '../words/usual-senders';
import type { OhmLine } from './ohms-scene';

/** A usual sender on this gauge, in words. */
export type UsualOnGauge = { readonly fit: UsualFit; readonly name: string; readonly says: string };

/** Every usual sender of the quantity through this gauge's curve, the nearest first. */
export function usualOnGauge(curve: GaugeCurve, gauge: Gauge): readonly UsualOnGauge[] {
  const { span } = scaleOf(gauge.marks);
  const { unit, quantity } = gauge;
  return usualFits(gaugeResponse(curve)).map((fit) => ({
    fit,
    name: usualSenderName(fit, quantity, unit, printed),
    says: usualSenderSays(fit, span, unit, printed),
  }));
}

const MOST_DRAWN = 3;
/** A kind that errs by more than this part of the scale is no neighbour of the curve any more. */
const FURTHEST_PART = 0.6;

/** The nearest kinds as lines to draw over the curve. */
export const usualLines = (usual: readonly UsualOnGauge[], gauge: Gauge): readonly OhmLine[] =>
  usual
    .filter(({ fit }) => !fit.isReversed && fit.worstError < FURTHEST_PART * scaleOf(gauge.marks).span)
    .slice(0, MOST_DRAWN)
    .map(({ fit, name, says }) => ({
      id: name,
      name: `Senders of ${name}`,
      says,
      look: 'sender',
      points: fit.points,
      isAside: true,
    }));
