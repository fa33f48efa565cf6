import { basename } from 'node:path';
import { fitCurve, type GaugeReading } from '../../../core/curve';
import { isRefused, type Refusal } from '../../../core/refusal';
import type { Quantity } from '../../../core/response';
import { fitSender } from '../../../core/sender';
import { quantityOfUnit } from '../../../core/units';
import type { LinePoint } from '../../../job/findings';
import type { Plotted } from '../../../record/plot-file';
import type { Scale } from '../../../scene/dial-strip';
import { gaugeQuestion, scaleAround, senderQuestion } from '../../../scene/given-plot';
import { curveLine } from '../../../server/findings/findings';
import { senderLine } from '../../../server/findings/sender-finding';
import { plain } from '../../../words/notation';
import { PLOT_WORDS } from '../../../words/plot';
import { said } from '../../../words/refusal';
import { saidRemark } from '../../../words/remark';
import type { Surroundings } from '../../command';
import { isSenderInput } from '../../input/curve-kind';
import { marksFrom } from '../../input/dial-marks';
import { coreUnitFromText, gaugeInputOf, type GaugeInput } from '../../input/gauge-file';
import { readInput, STANDARD_INPUT, type Input } from '../../input/input-file';
import { statedOhms } from '../../input/ohmmeter-options';
import { senderInputOf, type SenderInput } from '../../input/sender-file';
import { InputError } from '../../input-error';
import type { Arguments } from '../../options';

/** What is drawn, and what must be said of it on standard error. */
export type Drawn = { readonly plotted: Plotted; readonly warnings: readonly string[] };

const QUANTITIES = ['temperature', 'fuel', 'pressure', 'other'] as const;

/** What a plot is called: as a person says, else by the card or the file. */
export function titleOf(given: Arguments, ...inputs: readonly Input[]): string {
  const named = inputs.map((input) => {
    if (input.kind === 'job') return input.job.title;
    if (input.kind === 'card' && input.card.description !== undefined) return input.card.description;
    if (input.file === STANDARD_INPUT) return PLOT_WORDS.pasted;
    return basename(input.file).replace(/\.[a-z0-9]{1,5}$/i, '');
  });
  return given.text('title') ?? named.join(', ');
}

export const isSimulated = (input: Input): boolean =>
  (input.kind === 'job' && input.job.simulated) || (input.kind === 'card' && input.card.simulated);

/** The ohms of a sender, or those that a gauge wants and, with `--sender`, a sender gives. */
export async function curvePlot(input: Input, given: Arguments, surroundings: Surroundings): Promise<Drawn> {
  const senderPath = given.text('sender');
  if (!isSenderInput(input)) {
    const sender = senderPath === undefined ? undefined : await readInput(senderPath, surroundings);
    return gaugePlot(input, given, sender);
  }
  if (senderPath !== undefined)
    throw new InputError('this is a sender too; with --sender a gauge is named first', { file: input.file });
  return senderPlot(input, given);
}

const refusedWarning = (file: string, refused: Refusal): string =>
  `${file}: ${said(refused, plain)}; the points are drawn without a curve`;

const saidUnit = (given: Arguments, name: 'unit' | 'gauge-unit'): string | undefined => {
  const typed = given.text(name);
  return typed === undefined ? undefined : coreUnitFromText(typed);
};

function unitOf({ unit, file }: GaugeInput, given: Arguments, other: string | undefined): string {
  const asked = saidUnit(given, 'unit') ?? saidUnit(given, 'gauge-unit');
  if (asked !== undefined && unit !== '' && asked !== unit)
    throw new InputError(`--unit ${asked}: the file says ${unit}; correct the one that is wrong`, { file });
  return asked ?? (unit === '' ? (other ?? '') : unit);
}

function gaugePlot(input: Input, given: Arguments, other: Input | undefined): Drawn {
  const gauge = gaugeInputOf(input);
  const sender = other && fittedSender(senderInputOf(other));
  const unit = unitOf(gauge, given, sender?.input.unit);
  if (sender !== undefined && sender.input.unit !== unit)
    throw new InputError(
      `the sender is in ${sender.input.unit}, the dial in ${unit}: bring one of them into the unit of the other`,
      { file: sender.input.file },
    );
  const quantity = quantityFrom(given) ?? known(gauge.quantity) ?? quantityOfUnit(unit);
  const marks = marksFrom(given) ?? gauge.reader.dial?.marks;
  const fit = fitCurve(gauge.readings, {
    ...(gauge.law === undefined ? {} : { law: gauge.law }),
    ...gauge.reader,
    ...statedOhms(given, gauge),
    ...{ unit, quantity },
  });
  const line = isRefused(fit) ? [] : curveLine(fit);
  const warnings = isRefused(fit)
    ? [refusedWarning(gauge.file, fit)]
    : fit.warnings.map((each) => `${gauge.file}: ${saidRemark(each, plain)}`);
  const scale = scaleFor(marks, gauge.readings, unit);
  const readings =
    gauge.isOhmStated === false
      ? gauge.readings.map((one) => ({ ...one, resistanceUncertaintyOhm: undefined }))
      : gauge.readings;
  const question = gaugeQuestion({
    ...{ scale, quantity, line, readings },
    ...(sender === undefined ? {} : { sender: sender.line }),
  });
  return {
    plotted: {
      title: other === undefined ? titleOf(given, input) : titleOf(given, input, other),
      subtitle:
        line.length === 0
          ? PLOT_WORDS.readings
          : sender === undefined
            ? PLOT_WORDS.gauge
            : PLOT_WORDS.gaugeAndSender,
      says: [
        ...(line.length === 0 ? [] : [PLOT_WORDS.gaugeBand]),
        ...(gauge.readings.some(({ leg }) => leg === 'down') ? [PLOT_WORDS.legs] : []),
        ...barsSaid(readings.map((one) => one.readingUncertainty ?? one.resistanceUncertaintyOhm)),
      ],
      isSimulated: isSimulated(input) || (other !== undefined && isSimulated(other)),
      picture: { kind: 'ohms', question },
    },
    warnings: [...gauge.warnings, ...warnings, ...(sender?.warnings ?? [])],
  };
}

export const quantityFrom = (given: Arguments): Quantity | undefined =>
  QUANTITIES.find((name) => name === given.text('type'));

/** A file may say "other" for want of knowing. */
const known = (quantity: Quantity | undefined): Quantity | undefined =>
  quantity === 'other' ? undefined : quantity;

type Marks = readonly Scale['marks'][number][];

const scaleFor = (marks: Marks | undefined, readings: readonly GaugeReading[], unit: string): Scale =>
  marks === undefined
    ? scaleAround(
        readings.map(({ reading }) => reading),
        unit,
      )
    : { marks: [...marks], unit };

const barsSaid = (uncertainties: readonly (number | undefined)[]): string[] =>
  uncertainties.some((each) => each !== undefined && each > 0) ? [PLOT_WORDS.bars] : [];

type Fitted = {
  readonly input: SenderInput;
  readonly line: readonly LinePoint[];
  readonly warnings: readonly string[];
};

function fittedSender(input: SenderInput): Fitted {
  const fit = fitSender(input.points, {
    unit: input.unit,
    ...(input.model === undefined ? {} : { model: input.model }),
  });
  return isRefused(fit)
    ? { input, line: [], warnings: [...input.warnings, refusedWarning(input.file, fit)] }
    : {
        input,
        line: senderLine(fit),
        warnings: [
          ...input.warnings,
          ...fit.warnings.map((each) => `${input.file}: ${saidRemark(each, plain)}`),
        ],
      };
}

function senderPlot(input: Input, given: Arguments): Drawn {
  const { input: sender, line, warnings } = fittedSender(senderInputOf(input));
  const { points, unit } = sender;
  const values = points.map(({ value }) => value);
  const marks = marksFrom(given);
  return {
    plotted: {
      title: titleOf(given, input),
      subtitle: line.length === 0 ? PLOT_WORDS.readings : PLOT_WORDS.sender,
      says: [
        ...(line.length === 0 ? [] : [PLOT_WORDS.senderBand]),
        ...barsSaid(points.map((one) => one.valueUncertainty ?? one.resistanceUncertaintyOhm)),
      ],
      isSimulated: isSimulated(input),
      picture: {
        kind: 'ohms',
        question: senderQuestion({
          ...{ points, line, quantity: quantityFrom(given) ?? quantityOfUnit(unit) },
          scale: marks === undefined ? scaleAround(values, unit) : { marks: [...marks], unit },
        }),
      },
    },
    warnings,
  };
}
