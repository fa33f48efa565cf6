import {
  fitCurve,
  type CurveOptions,
  type GaugeCurve,
  type GaugeReading,
  type LawName,
} from '../../core/curve';
import { specimenOf, type Card } from '../../catalogue';
import { specimenOptions } from '../../core/catalogue/columns';
import type { Quantity } from '../../core/response';
import { quantityOfUnit, keptUnit, unitFromText } from '../../core/units';
import { curveOptionsOf, curveReadings, type JobState } from '../../job';
import { sharedOhmsOf } from '../../job/state/shared-ohms';
import type { Surroundings } from '../command';
import { fileWarning, inputError, type Grid } from './columns';
import { gaugeRows } from '../../core/text/gauge-rows';
import { InputError, refusedError } from '../input-error';
import { readInput, type Input } from './input-file';
import { readingsFromCurveJson } from './saved-curves';

export type GaugeInput = {
  readonly file: string;
  /** Undefined where nothing says what the dial measures. */
  readonly quantity: Quantity | undefined;
  /** Empty where nothing says what the dial is marked in. */
  readonly unit: string;
  readonly readings: readonly GaugeReading[];
  readonly law: LawName | undefined;
  /** What is known of the dial and of how it was read, in the unit above. */
  readonly reader: Pick<
    CurveOptions,
    'dial' | 'scale' | 'readingStep' | 'mechanism' | 'resistanceUncertainty'
  >;
  /** Resistances that a person measured and wrote down: what is not said of them is that of an ordinary handheld meter. */
  readonly isTyped?: boolean;
  /** Each resistance came with an uncertainty of its own, not only with its last digit. */
  readonly isOhmStated?: boolean;
  readonly warnings: readonly string[];
};

/** Readings of a gauge from CSV, or from the JSON this program's `curve` command wrote. */
export async function readGaugeInput(path: string, surroundings: Surroundings): Promise<GaugeInput> {
  return gaugeInputOf(await readInput(path, surroundings));
}

/** The same of what was read already. */
export function gaugeInputOf(input: Input): GaugeInput {
  switch (input.kind) {
    case 'csv':
      return gaugeFromGrid(input.grid);
    case 'json':
      return readingsFromCurveJson(input.file, input.document);
    case 'job':
      return gaugeFromJob(input.file, input.job);
    case 'card':
      return gaugeFromCard(input.file, input.card);
  }
}

function gaugeFromCard(file: string, card: Card): GaugeInput {
  if (card.kind !== 'gauge') throw new InputError('this card is of a sender', { file });
  const specimen = specimenOf(card);
  const { quantity, unit, readings } = specimen;
  const options = specimenOptions(specimen);
  const { resistanceUncertainty } = options;
  return {
    ...{ file, quantity, unit, readings, law: undefined },
    reader: {
      ...readerOf(options),
      ...(resistanceUncertainty === undefined ? {} : { resistanceUncertainty }),
    },
    warnings: card.simulated ? [`${file}: SIMULATED readings`] : [],
  };
}

/** Counted readings of a job; struck ones stay out. */
function gaugeFromJob(file: string, job: JobState): GaugeInput {
  const readings = curveReadings(job);
  if (readings.length === 0) throw new InputError('this job has no readings yet', { file });
  const { quantity, unit } = job.gauge;
  const ohms = sharedOhmsOf(job);
  return {
    file,
    quantity,
    unit,
    readings,
    law: undefined,
    reader: {
      ...readerOf(curveOptionsOf(job.gauge)),
      ...(ohms === undefined ? {} : { resistanceUncertainty: ohms }),
    },
    warnings: job.simulated ? [`${file}: SIMULATED readings`] : [],
  };
}

/** Without the marks: a command lists the readings that were taken, unless it is told otherwise. */
const readerOf = ({ dial, scale, readingStep, mechanism }: CurveOptions): GaugeInput['reader'] => ({
  ...(mechanism === undefined ? {} : { mechanism }),
  ...(dial === undefined ? {} : { dial }),
  ...(scale === undefined ? {} : { scale }),
  ...(readingStep === undefined ? {} : { readingStep }),
});

function gaugeFromGrid({ file, table }: Grid): GaugeInput {
  const read = gaugeRows(table);
  if (read.kind === 'problem') throw inputError(file, read);
  const { readings, unit, resistanceUncertainty, isOhmStated, warnings, problems } = read;
  const [first, ...others] = problems;
  if (first !== undefined) throw inputError(file, first, others);
  if (readings.length === 0) throw new InputError('there is a header row and nothing below it', { file });
  const quantity = unit === '' ? undefined : quantityOfUnit(unit);
  return {
    ...{ file, quantity, unit, readings, law: undefined },
    reader: { resistanceUncertainty },
    isTyped: true,
    isOhmStated,
    warnings: warnings.map((warning) => fileWarning(file, warning)),
  };
}

/** The core's name of a unit a person typed, or what they typed where it is a unit of their own. */
export const coreUnitFromText = (text: string): string => {
  const unit = unitFromText(text);
  return unit === undefined ? text : keptUnit(unit);
};

/**
 * Fits the curve of a gauge to its input. What the dial shows is what the person says, else what the file says, else what
 * its unit says: the safety rule of a trim hangs on it. Refuses as the fit does, naming the file.
 */
export function fitGaugeInput(input: GaugeInput, options: CurveOptions): GaugeCurve {
  const { unit = input.unit } = options;
  // A file may say "other" for want of knowing; a unit that only one quantity has says more.
  const said = input.quantity === 'other' ? undefined : input.quantity;
  const fitted = fitCurve(input.readings, {
    ...(input.law === undefined ? {} : { law: input.law }),
    ...input.reader,
    ...options,
    unit,
    quantity: options.quantity ?? said ?? quantityOfUnit(unit),
  });
  if (fitted.kind === 'refused') throw refusedError(fitted, `${input.file}: `);
  return fitted;
}
