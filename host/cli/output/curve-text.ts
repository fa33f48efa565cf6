import { lawFormula, type GaugeCurve, type Prediction } from '../../core/curve';
import { GROUND_WORDS } from '../../job';
import { ohmText, signed, significant, textTable } from './text-table';
import { LEGS_UNKNOWN } from '../../words/remark/curve';

/** The answer of `curve` for a person: law, marks, findings, residuals. */
export function curveText(curve: GaugeCurve, predict: readonly Prediction[]): string[] {
  const { unit } = curve;
  const bound = curve.points.filter(({ role }) => role === 'bound').length;
  const atStops = bound === 0 ? '' : `, ${bound} of them at a stop`;
  return [
    `curve: ${curve.law.name} law through ${curve.points.length} readings${atStops}`,
    ...lawText(curve),
    '',
    ...textTable(
      [
        { title: `mark ${unit}`.trim() },
        { title: 'resistance' },
        { title: 'uncertainty (95 %)' },
        { title: '', align: 'left' },
      ],
      curve.marks.map((mark) => [
        significant(mark.reading),
        ohmText(mark.resistanceOhm),
        mark.note === 'plateau'
          ? `${ohmText(mark.fromOhm)} to ${ohmText(mark.toOhm)}`
          : `\u00b1${ohmText(mark.expandedUncertaintyOhm, 2)}`,
        GROUND_WORDS[mark.note],
      ]),
    ),
    '',
    ...findings(curve),
    ...(predict.length === 0 ? [] : ['', ...predictText(unit, predict)]),
    '',
    ...residualText(curve),
  ];
}

function lawText(curve: GaugeCurve): string[] {
  const { law, unit: dial } = curve;
  const parameters = law.parameters.map((parameter) => parameterText(parameter, dial)).join(', ');
  return [`  ${lawFormula(curve)}`, ...(parameters === '' ? [] : [`  ${parameters}`])];
}

const parameterText = (
  { name, value, standardUncertainty, unit: lawUnit }: GaugeCurve['law']['parameters'][number],
  dial: string,
): string => {
  const unit = dial === '' ? lawUnit : lawUnit.replace('reading', dial);
  const spread = standardUncertainty === undefined ? '' : ` \u00b1 ${significant(standardUncertainty, 2)}`;
  return `${name} ${significant(value)}${spread}${unit === '' ? '' : ` ${unit}`}`;
};

const LEG_WORDS: Readonly<Partial<Record<GaugeCurve['legs']['pattern'], string>>> = {
  sticky: 'the needle sticks',
  warming: 'the gauge was still warming',
};

function findings({
  legs: found,
  supply,
  hysteresis,
  repeatability,
  plateaus,
  stops,
  unit,
}: GaugeCurve): string[] {
  const pattern = LEG_WORDS[found.pattern];
  const legs =
    hysteresis.kind === 'unknown'
      ? `not measured. ${LEGS_UNKNOWN}`
      : `${significant(hysteresis.largest, 2)} ${unit} (${significant(hysteresis.percentOfSpan, 2)} % of span) at ${significant(hysteresis.atReading, 3)} ${unit}, ${hysteresis.pairs} pairs`;
  const spread = `${significant(repeatability.standardDeviation, 2)} ${unit} from ${repeatability.source}`;
  return [
    `hysteresis     ${legs}`,
    ...(hysteresis.kind === 'measured' && hysteresis.singleCycle !== undefined
      ? [
          `largest cycle  ${significant(hysteresis.singleCycle.difference, 2)} ${unit}, one reading up and one down at ${significant(hysteresis.singleCycle.atOhm, 3)} ohm`,
        ]
      : []),
    ...(pattern === undefined
      ? []
      : [
          `up and down    ${pattern}: ${significant(Math.abs(found.difference), 2)} ${unit} (${significant(found.percentOfSpan, 2)} % of span)`,
        ]),
    ...(supply === undefined
      ? []
      : [
          `supply         curve at ${significant(supply.referenceVolt, 3)} V, deflection goes with volts to the power ${supply.exponent}; 12 to 14 V moves a mark by up to ${significant(Math.max(0, ...supply.change12To14.map(({ change }) => Math.abs(change))), 2)} ${unit}`,
        ]),
    ...found.again.map((one) => `read again     ${ohmText(one.resistanceOhm)}`),
    `repeatability  ${spread}, ${String(Number(repeatability.degreesOfFreedom.toPrecision(3)))} degrees of freedom`,
    ...plateaus.map(
      ({ fromOhm, toOhm, reading }) =>
        `flat zone      the needle stays at ${significant(reading)} ${unit} from ${ohmText(fromOhm)} to ${ohmText(toOhm)}`,
    ),
    ...stops.map((stop) => {
      const where = stop.reachedAtOhm === undefined ? '' : `, reached at ${ohmText(stop.reachedAtOhm)}`;
      return `${stop.side.padEnd(4)} stop      at ${significant(stop.reading)} ${unit}${where} (${stop.source})`;
    }),
  ].map((line) => line.trimEnd());
}

const predictText = (unit: string, predict: readonly Prediction[]): string[] =>
  textTable(
    [
      { title: 'at ohm' },
      { title: `reads ${unit}`.trim() },
      { title: 'uncertainty (95 %)' },
      { title: '', align: 'left' },
    ],
    predict.map((row) => [
      significant(row.resistanceOhm),
      significant(row.reading),
      `\u00b1${significant(row.expandedUncertainty, 2)}`,
      GROUND_WORDS[row.note],
    ]),
  );

const residualText = (curve: GaugeCurve): string[] =>
  textTable(
    [
      { title: 'ohm' },
      { title: `reading ${curve.unit}`.trim() },
      { title: 'fitted' },
      { title: 'off by' },
      { title: 'going', align: 'left' },
      { title: '', align: 'left' },
    ],
    curve.points.map((point) => [
      significant(point.resistanceOhm),
      significant(point.reading),
      significant(point.fitted),
      signed(point.residual, 2),
      point.leg ?? '',
      point.role === 'bound'
        ? `at the ${point.atStop ?? ''} stop`
        : point.role === 'questioned'
          ? 'questioned'
          : '',
    ]),
  );
