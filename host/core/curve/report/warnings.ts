import { figure } from '../../figure';
import { typicalStretch } from './dial-units';
import type { Choice } from '../choice/candidates';
import type { CurveWarning, GaugeCurve } from '../types';

type Unwarned = Omit<GaugeCurve, 'warnings'>;

/** Margin below which two laws are as good as each other. Source: Burnham and Anderson (2002), section 2.6 (from memory). */
const EQUAL_MARGIN = 2;

/** What a person should know before trusting a curve. Source: derived here. */
export function curveWarnings(
  curve: Unwarned,
  wanted: readonly number[],
  { chosen, report }: Choice,
): CurveWarning[] {
  return [
    ...questioned(curve),
    ...legs(curve),
    ...unreached(curve, wanted),
    ...extrapolated(curve),
    ...lawDoubts(curve, { chosen, report }),
    ...stopNotes(curve),
    ...plateauNotes(curve),
    ...fewReadings(curve),
    ...unseenRest(curve),
  ];
}

const questioned = ({ points }: Unwarned): CurveWarning[] =>
  points.flatMap((point, i) =>
    point.role === 'questioned'
      ? [
          {
            code: 'CURVE_READING_QUESTIONED',
            message: `Reading ${i + 1} (${figure(point.reading)} at ${figure(point.resistanceOhm)} ohm) lies ${figure(point.residual)} from the curve and counts ${Math.round(100 * point.weight)} %: read it again.`,
          },
        ]
      : [],
  );

const legs = ({ hysteresis, model }: Unwarned): CurveWarning[] =>
  model.unseenHysteresisHalf > 0
    ? [
        {
          code: 'CURVE_ONE_LEG',
          message: `Only one direction was measured${hysteresis.kind === 'unknown' ? '' : ' often enough'}: ${figure(model.unseenHysteresisHalf * typicalStretch(model.dial))} either way is allowed for the other. Read the same resistances with the needle moving both ways.`,
        },
      ]
    : [];

const unreached = ({ marks }: Unwarned, wanted: readonly number[]): CurveWarning[] =>
  wanted
    .filter((reading) => marks.every((mark) => mark.reading !== reading))
    .map((reading) => ({
      code: 'CURVE_MARK_UNREACHED',
      message: `No resistance puts the needle on ${figure(reading)}: the curve does not reach it.`,
    }));

const extrapolated = ({ marks }: Unwarned): CurveWarning[] =>
  marks
    .filter((mark) => mark.note === 'beyond')
    .map((mark) => ({
      code: 'CURVE_EXTRAPOLATED',
      message: `The mark ${figure(mark.reading)} lies beyond the readings: its resistance rests on the law alone.`,
    }));

function lawDoubts(curve: Unwarned, { chosen, report }: Pick<Choice, 'chosen' | 'report'>): CurveWarning[] {
  const fits = report.flatMap((one) => (one.kind === 'fit' ? [one] : []));
  const own = fits.find((one) => one.name === chosen.name);
  if (curve.law.forced && own?.contradiction !== undefined)
    return [
      {
        code: 'CURVE_LAW_CONTRADICTED',
        message: `The readings contradict the law ${chosen.name}: ${own.contradiction}.`,
      },
    ];
  const rivals = fits.filter(
    (one) => one.name !== chosen.name && one.weight > 0 && one.margin < EQUAL_MARGIN,
  );
  if (rivals.length === 0) return [];
  return [
    {
      code: 'CURVE_LAW_UNDECIDED',
      message: `The readings do not decide between ${[chosen.name, ...rivals.map((one) => one.name)].join(', ')}: their difference is part of the uncertainty.`,
    },
  ];
}

const stopNotes = ({ stops }: Unwarned): CurveWarning[] =>
  stops.flatMap((stop) =>
    stop.source === 'inferred'
      ? [
          {
            code: 'CURVE_STOP_INFERRED',
            message: `The needle rests at ${figure(stop.reading)} from ${figure(stop.seenFromOhm)} to ${figure(stop.seenToOhm)} ohm: taken as a stop (${stop.side}), so these readings only bound the curve.`,
          },
        ]
      : [],
  );

const plateauNotes = ({ plateaus, unit }: Unwarned): CurveWarning[] =>
  plateaus.map((one) => ({
    code: 'CURVE_PLATEAU',
    message: `The needle does not move between ${figure(one.fromOhm)} and ${figure(one.toOhm)} ohm (it stands at ${figure(one.reading)} ${unit}): there a reading does not tell the resistance.`,
  }));

const fewReadings = ({ repeatability, points }: Unwarned): CurveWarning[] =>
  repeatability.source === 'repeats' || points.length > 8
    ? []
    : [
        {
          code: 'CURVE_FEW_READINGS',
          message: `${points.length} readings without repeats: the scatter is partly assumed, and the uncertainty is wide for it.`,
        },
      ];

/** With fewer settings a dead zone fits between two of them. */
const FEWEST_TO_SEE_A_REST = 7;

const unseenRest = ({ points, model }: Unwarned): CurveWarning[] => {
  const settings = new Set(points.map(({ resistanceOhm }) => Math.round(50 * Math.log(resistanceOhm + 1))));
  const isKnown = model.mechanism !== undefined && model.mechanism !== 'unknown';
  if (isKnown || settings.size >= FEWEST_TO_SEE_A_REST) return [];
  return [
    {
      code: 'CURVE_REST_UNSEEN',
      message: `${settings.size} resistances cannot show whether the needle rests between two of them, as that of an electronic gauge may: measure between them, or say which mechanism it is.`,
    },
  ];
};
