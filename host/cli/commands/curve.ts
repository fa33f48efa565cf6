import { lawNames, mechanisms, readingAt, type GaugeCurve, type Prediction } from '../../core/curve';
import { JSON_OPTION, type Command, type Report, type Surroundings } from '../command';
import { coreUnitFromText, fitGaugeInput, readGaugeInput } from '../input/gauge-file';
import { curveJson } from '../output/curve-json';
import { curveText } from '../output/curve-text';
import { OHMMETER_OPTIONS, statedOhms } from '../input/ohmmeter-options';
import { InputError, refusedError } from '../input-error';
import type { Arguments } from '../options';
import { plain } from '../../words/notation';
import { saidRemark } from '../../words/remark';

const QUANTITIES = ['temperature', 'fuel', 'pressure', 'other'] as const;

/** The curve of a gauge from readings taken with known resistances. */
export const curveCommand: Command = {
  name: 'curve',
  summary: 'the curve of a gauge from readings at known resistances',
  usage: 'READINGS.csv [options]',
  example: 'needlewright curve readings.csv --marks 40,60,80,100,120 --mechanism thermal',
  details: [
    'In: resistance_ohm and reading (or reading_C, reading_F, reading_psi ...); optionally leg (up or down, the way',
    'the needle was moving), at_stop (low or high), u_reading and u_resistance_ohm (standard',
    'uncertainties), supply_V, supply_at (feed or battery). Resistances without one are taken as measured with an ordinary handheld meter.',
    'Out: the law, the residual of each reading, the resistance of each mark with its uncertainty, hysteresis,',
    'repeatability, flat zones and stops. --at adds the reading at a resistance.',
  ],
  options: {
    type: { kind: 'choice', choices: QUANTITIES, help: 'what the dial shows' },
    mechanism: {
      kind: 'choice',
      choices: mechanisms,
      help: 'what moves the needle; between the readings of an electronic gauge nothing is taken for granted',
    },
    unit: {
      kind: 'text',
      value: 'UNIT',
      help: 'unit of the dial when the column does not say it: C, F, kPa, psi, bar, %',
    },
    marks: {
      kind: 'numbers',
      value: 'READING,...',
      help: 'marks of the dial; the readings taken when left out',
    },
    at: { kind: 'numbers', value: 'OHM,...', min: 0, help: 'reading at these resistances' },
    law: { kind: 'choice', choices: lawNames, help: 'only this law; chosen by the readings when left out' },
    'supply-V': {
      kind: 'number',
      value: 'VOLT',
      min: 1,
      max: 60,
      help: 'state the curve at this voltage; at the mean of those noted when left out',
    },
    ...OHMMETER_OPTIONS,
    ...JSON_OPTION,
  },
  words: { least: 1, most: 1 },
  run,
};

async function run(given: Arguments, surroundings: Surroundings): Promise<Report> {
  const input = await readGaugeInput(given.words[0] ?? '-', surroundings);
  const quantity = QUANTITIES.find((name) => name === given.text('type'));
  const mechanism = mechanisms.find((name) => name === given.text('mechanism'));
  const law = lawNames.find((name) => name === given.text('law'));
  const unit = given.text('unit');
  if (unit !== undefined && input.unit !== '' && coreUnitFromText(unit) !== input.unit) {
    throw new InputError(`--unit ${unit}: the file says ${input.unit}; correct the one that is wrong`, {
      file: input.file,
    });
  }
  const marks = given.numbers('marks');
  const supplyVolt = given.number('supply-V');
  const curve = fitGaugeInput(input, {
    ...(supplyVolt === undefined ? {} : { supplyVolt }),
    ...statedOhms(given, input),
    ...(quantity === undefined ? {} : { quantity }),
    ...(law === undefined ? {} : { law }),
    ...(mechanism === undefined ? {} : { mechanism }),
    ...(marks === undefined ? {} : { marks }),
    ...(unit === undefined ? {} : { unit: coreUnitFromText(unit) }),
  });
  const predict = (given.numbers('at') ?? []).map((ohm) => predicted(curve, ohm));
  const warnings = [...input.warnings, ...curve.warnings.map((each) => saidRemark(each, plain))];
  return {
    text: curveText(curve, predict),
    json: { schema: 'needlewright/curve/1', ...curveJson(curve, predict, warnings) },
    warnings,
  };
}

function predicted(curve: GaugeCurve, resistanceOhm: number): Prediction {
  const found = readingAt(curve, resistanceOhm);
  if (found.kind === 'refused') throw refusedError(found, `--at ${resistanceOhm}: `);
  return found;
}
