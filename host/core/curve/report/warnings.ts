import { typicalStretch } from './dial-units';
import type { Choice } from '../choice/candidates';
import { budgetAt } from './uncertainty';
import type { Remark } from '../../remark';
import { remark } from '../../remark';
import type { CurveRemarks } from '../remarks';
import type { GaugeCurve } from '../types';

type Unwarned = Omit<GaugeCurve, 'warnings'>;
type CurveRemark = Remark<keyof CurveRemarks>;

/** Margin below which two laws are as good as each other. Source: Burnham and Anderson (2002), section 2.6 (from memory). */
const EQUAL_MARGIN = 2;

/** What a person should know before trusting a curve. Source: derived here. */
export function curveWarnings(
  curve: Unwarned,
  wanted: readonly number[],
  { chosen, report, isEverySmoothLawContradicted }: Choice,
): CurveRemark[] {
  return [
    ...questioned(curve),
    ...legPatterns(curve),
    ...legs(curve),
    ...unreached(curve, wanted),
    ...extrapolated(curve),
    ...lawDoubts(curve, { chosen, report }),
    ...(isEverySmoothLawContradicted && curve.model.mechanism !== 'electronic' ? noLaw(curve) : []),
    ...stopNotes(curve),
    ...plateauNotes(curve),
    ...fewReadings(curve),
    ...unseenRest(curve),
  ];
}

const questioned = ({ points, unit }: Unwarned): CurveRemark[] =>
  points.flatMap((point, i) =>
    point.role === 'questioned'
      ? [
          remark('CURVE_READING_QUESTIONED', {
            ...{ readingNumber: i + 1, reading: point.reading, unit, resistanceOhm: point.resistanceOhm },
            ...{ residual: point.residual, weightPercent: Math.round(100 * point.weight) },
          }),
        ]
      : [],
  );

/** Settings whose legs differ as nowhere else though each reading alone could be right, and legs that differ out of the ordinary. */
function legPatterns({ legs: found, points, unit }: Unwarned): CurveRemark[] {
  const isNamed = (ohm: number): boolean =>
    points.some((point) => point.role === 'questioned' && point.resistanceOhm === ohm);
  const difference = Math.abs(found.difference);
  return [
    ...found.again.flatMap(({ resistanceOhm, readings }) =>
      isNamed(resistanceOhm) ? [] : [remark('CURVE_SETTING_DIFFERS', { resistanceOhm, readings, unit })],
    ),
    ...(found.pattern === 'sticky'
      ? [remark('CURVE_STICKY', { difference, unit, percentOfSpan: found.percentOfSpan })]
      : []),
    ...(found.pattern === 'warming' ? [remark('CURVE_WARMING', { difference, unit })] : []),
  ];
}

const legs = ({ hysteresis, model, unit }: Unwarned): CurveRemark[] =>
  model.unseenHysteresisHalf > 0
    ? [
        remark('CURVE_ONE_LEG', {
          isPartlyMeasured: hysteresis.kind !== 'unknown',
          allowedHalf: model.unseenHysteresisHalf * typicalStretch(model.dial),
          unit,
        }),
      ]
    : [];

const unreached = ({ marks, unit }: Unwarned, wanted: readonly number[]): CurveRemark[] =>
  wanted
    .filter((reading) => marks.every((mark) => mark.reading !== reading))
    .map((reading) => remark('CURVE_MARK_UNREACHED', { reading, unit }));

const extrapolated = ({ marks, unit }: Unwarned): CurveRemark[] =>
  marks
    .filter((mark) => mark.note === 'beyond')
    .map(({ reading }) => remark('CURVE_EXTRAPOLATED', { reading, unit }));

function lawDoubts(curve: Unwarned, { chosen, report }: Pick<Choice, 'chosen' | 'report'>): CurveRemark[] {
  const fits = report.flatMap((one) => (one.kind === 'fit' ? [one] : []));
  const own = fits.find((one) => one.name === chosen.name);
  if (curve.law.forced && own?.contradictedBy !== undefined)
    return [remark('CURVE_LAW_CONTRADICTED', { law: chosen.name, by: own.contradictedBy })];
  const rivals = fits.filter(
    (one) => one.name !== chosen.name && one.weight > 0 && one.margin < EQUAL_MARGIN,
  );
  return rivals.length === 0
    ? []
    : [
        remark('CURVE_LAW_UNDECIDED', {
          laws: [chosen.name, ...rivals.map((one) => one.name)],
          isMechanismSaid: isMechanismSaid(curve),
        }),
      ];
}

const isMechanismSaid = ({ model }: Pick<Unwarned, 'model'>): boolean =>
  model.mechanism !== undefined && model.mechanism !== 'unknown';

/** Between which settings the curve is known least, in the middle of them (in ln R). */
function noLaw({ model, unit }: Unwarned): CurveRemark[] {
  const middles = model.settingsOhm
    .slice(1)
    .map((ohm, i) => Math.sqrt((ohm + model.reachOffsetOhm) * (model.settingsOhm[i]! + model.reachOffsetOhm)))
    .map((position) => position - model.reachOffsetOhm)
    .map((resistanceOhm) => ({ resistanceOhm, known: budgetAt(model, resistanceOhm).expanded }));
  const [widest] = middles.sort((one, other) => other.known - one.known);
  if (widest === undefined) return [];
  const resistanceOhm = Number(widest.resistanceOhm.toPrecision(3));
  return [remark('CURVE_NO_LAW', { resistanceOhm, expandedUncertainty: widest.known, unit })];
}

const stopNotes = ({ stops, unit }: Unwarned): CurveRemark[] =>
  stops.flatMap(({ source, side, reading, seenFromOhm, seenToOhm }) =>
    source === 'inferred'
      ? [remark('CURVE_STOP_INFERRED', { side, reading, unit, seenFromOhm, seenToOhm })]
      : [],
  );

const plateauNotes = ({ plateaus, unit }: Unwarned): CurveRemark[] =>
  plateaus.map(({ fromOhm, toOhm, reading }) => remark('CURVE_PLATEAU', { fromOhm, toOhm, reading, unit }));

const fewReadings = ({ repeatability, points }: Unwarned): CurveRemark[] =>
  repeatability.source === 'repeats' || points.length > 8
    ? []
    : [remark('CURVE_FEW_READINGS', { readingCount: points.length })];

/** With fewer settings a dead zone fits between two of them. */
const FEWEST_TO_SEE_A_REST = 7;

const unseenRest = ({ points, model }: Unwarned): CurveRemark[] => {
  const settings = new Set(points.map(({ resistanceOhm }) => Math.round(50 * Math.log(resistanceOhm + 1))));
  return isMechanismSaid({ model }) || settings.size >= FEWEST_TO_SEE_A_REST
    ? []
    : [remark('CURVE_REST_UNSEEN', { settingCount: settings.size })];
};
