import {
  bandOf,
  calibrate,
  printedOhm,
  type Calibrated,
  type CalibrationFinding,
  type CalibrationPerson,
  type CalibrationStep,
  type ElementTable,
  type TableRow,
} from '../../bench';
import { refuse, type Refused } from '../../core/result';
import type { BoxLink, SimulatedBox } from '../../link';
import { BOX_OPTIONS, boxFrom, untilLive, type BoxSource } from '../input/box-options';
import { JSON_OPTION, type Command, type Report, type Surroundings } from '../command';
import { InputError, RefusedError } from '../input-error';
import type { Arguments } from '../options';
import type { AnswerOf } from '../output/schemas';
import { textTable } from '../output/text-table';

const DEFAULT_DAYS = 365;
const CONNECT_ATTEMPTS = 5;
const CONNECT_WAIT_MS = 2_000;

/** The box measures its own resistors against its own reference; see hardware-notes/calibration.md. */
export const calibrateCommand: Command = {
  name: 'calibrate',
  summary: 'the box measures its own resistors and keeps the table',
  usage: '[--port PATH | --simulate NAME] [options]',
  example: 'needlewright calibrate --standard-ohm 100.02',
  details: [
    'Follows hardware-notes/calibration.md step by step; each step is confirmed with y. Nothing is stored before the last',
    'confirmation: whatever fails or is stopped before leaves the old table in use.',
    'A record of measurement, not an accredited calibration.',
  ],
  options: {
    ...BOX_OPTIONS,
    'standard-ohm': {
      kind: 'number',
      value: 'R',
      min: 1,
      max: 7000,
      help: 'value of a resistor known from elsewhere, measured first and reported',
    },
    days: {
      kind: 'number',
      value: 'N',
      min: 1,
      max: 730,
      isWhole: true,
      help: 'days the table is valid; 365',
    },
    yes: { kind: 'flag', help: 'confirm every step (simulated box only)' },
    ...JSON_OPTION,
  },
  words: { least: 0, most: 0 },
  run,
};

async function run(given: Arguments, surroundings: Surroundings): Promise<Report> {
  const source = boxFrom(given, surroundings);
  if (given.flag('yes') && source.simulated === undefined)
    throw new InputError('--yes is for a simulated box only: a real one needs a person at its clips');
  const connect = async (): Promise<BoxLink> => {
    const link = await source.openOnce();
    await untilLive(link);
    return link;
  };
  const abort = new AbortController();
  void surroundings.interrupted.then(() => abort.abort());
  try {
    const link = await connect();
    const result = await calibrate(link, {
      person: personAt(surroundings, source, given),
      standardOhm: given.number('standard-ohm'),
      calibrationId: newCalibrationId(Date.now()),
      validDayCount: given.number('days') ?? DEFAULT_DAYS,
      signal: abort.signal,
      greetAnew: async () => {
        await link.close();
        return connectAnew(connect);
      },
    });
    if (result.kind === 'refused') throw new RefusedError(result.code, result.message);
    return reportOf(result);
  } finally {
    await source.end();
  }
}

/** Seconds since 1970: never 0, different at every calibration, and it fits the wire until 2106. */
const newCalibrationId = (nowMs: number): number => Math.floor(nowMs / 1000);

/** A box that was cut off while it stored may be back after the cable was pushed in again. */
async function connectAnew(connect: () => Promise<BoxLink>): Promise<BoxLink | Refused> {
  for (let attempt = 1; ; attempt += 1) {
    try {
      return await connect();
    } catch (error) {
      if (!(error instanceof InputError)) throw error;
      if (attempt >= CONNECT_ATTEMPTS) return refuse('BOX_NOT_LIVE', error.message);
      await new Promise((resolve) => setTimeout(resolve, CONNECT_WAIT_MS));
    }
  }
}

/** The simulated world follows what is said to have been done with the clips. */
function followClips(simulated: SimulatedBox, step: CalibrationStep, standardOhm: number | undefined): void {
  if (step === 'clips-off') simulated.tellWorld({ ignition: false, calPost: 'open' });
  if (step === 'standard-on' && standardOhm !== undefined) simulated.tellWorld({ calPost: standardOhm });
  if (step === 'clips-on-posts' || step === 'clips-fitted-again') simulated.tellWorld({ calPost: 'chain' });
}

function personAt(surroundings: Surroundings, source: BoxSource, given: Arguments): CalibrationPerson {
  const saysYes = given.flag('yes');
  return {
    found: (old) => surroundings.err(keptText(old)),
    async confirm(step, text) {
      const answer = saysYes ? 'y' : await surroundings.ask(`${text} [y/n] `);
      if (saysYes) surroundings.err(`${text} yes (simulated)`);
      const isYes = /^y(es)?$/i.test(answer?.trim() ?? '');
      if (isYes && source.simulated !== undefined)
        followClips(source.simulated, step, given.number('standard-ohm'));
      return isYes;
    },
    measured: (row, { done, total }) => surroundings.err(`${done} of ${total}: ${rowText(row)}`),
    compared: (finding) => {
      for (const line of comparison(finding)) surroundings.err(line);
    },
  };
}

const keptText = ({ calibration, boxSerial, isSimulated }: ElementTable): string => {
  const box = `${isSimulated ? 'SIMULATED ' : ''}box ${boxSerial}`;
  return calibration === undefined
    ? `${box} has no good table: printed values stand below as old ones`
    : `${box} keeps calibration ${calibration.calibrationId} of ${calibration.madeOn}, valid until ${calibration.validUntil}`;
};

const rowText = ({ name, ohm, uncertaintyOhm }: TableRow): string =>
  `${name} ${ohm.toFixed(3)} ohm, standard uncertainty ${uncertaintyOhm.toFixed(3)} ohm`;

function comparison({ old, rows, warnings, standard, largestStepOhm }: CalibrationFinding): string[] {
  const lines = textTable(
    [
      { title: 'part', align: 'left' },
      { title: 'printed', align: 'right' },
      { title: 'allowed ohm', align: 'right' },
      { title: 'old ohm', align: 'right' },
      { title: 'new ohm', align: 'right' },
      { title: 'change', align: 'right' },
      { title: 'standard uncertainty', align: 'right' },
    ],
    rows.map((row) => {
      const before = old.rows.find(({ index }) => index === row.index)?.ohm;
      const { lowestOhm, highestOhm } = bandOf(row.index);
      return [
        row.name,
        printedOhm(row.index)?.toString() ?? '-',
        `${lowestOhm.toFixed(2)} to ${highestOhm.toFixed(2)}`,
        before?.toFixed(3) ?? '-',
        row.ohm.toFixed(3),
        before === undefined ? '-' : (row.ohm - before).toFixed(3),
        row.uncertaintyOhm.toFixed(3),
      ];
    }),
  );
  const known = standard.map(
    ({ currentMicroamp, measuredOhm, deviationFraction }) =>
      `known resistor at ${currentMicroamp / 1000} mA: ${measuredOhm.toFixed(3)} ohm, ${(100 * deviationFraction).toFixed(3)} % off`,
  );
  return [...lines, `largest step between settings ${largestStepOhm.toFixed(2)} ohm`, ...known, ...warnings];
}

function reportOf(result: Calibrated): Report {
  const { stored, warnings } = result;
  const stamp = stored.calibration;
  const marked = stored.isSimulated ? 'SIMULATED ' : '';
  return {
    text: [
      `${marked}box ${stored.boxSerial}: calibration ${stamp?.calibrationId ?? 0} stored twice and read back`,
      `made on ${stamp?.madeOn ?? '-'}, valid until ${stamp?.validUntil ?? '-'}`,
      '',
      ...comparison(result),
      '',
      'A record of measurement, not an accredited calibration.',
    ],
    json: {
      schema: 'needlewright/calibrate/1',
      kind: 'calibration',
      simulated: stored.isSimulated,
      box_serial: stored.boxSerial,
      firmware: stored.firmware,
      calibration_id: stamp?.calibrationId ?? 0,
      made_on: stamp?.madeOn ?? null,
      valid_until: stamp?.validUntil ?? null,
      largest_step_ohm: result.largestStepOhm,
      previous: previousJson(result.old),
      rows: stored.rows.map(({ index, name, ohm, uncertaintyOhm }) => ({
        part: name,
        printed_ohm: printedOhm(index) ?? null,
        previous_ohm: result.old.rows.find((row) => row.index === index)?.ohm ?? null,
        resistance_ohm: ohm,
        standard_uncertainty_ohm: uncertaintyOhm,
      })),
      standard: result.standard.map(
        ({ currentMicroamp, measuredOhm, uncertaintyOhm, deviationFraction }) => ({
          current_mA: currentMicroamp / 1000,
          measured_ohm: measuredOhm,
          standard_uncertainty_ohm: uncertaintyOhm,
          deviation_percent: 100 * deviationFraction,
        }),
      ),
    },
    warnings,
  };
}

const previousJson = ({ calibration }: ElementTable): AnswerOf<'calibrate'>['previous'] =>
  calibration === undefined
    ? null
    : {
        calibration_id: calibration.calibrationId,
        made_on: calibration.madeOn,
        valid_until: calibration.validUntil,
      };
