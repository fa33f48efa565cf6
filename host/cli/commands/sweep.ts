import { simulatedOperator } from '../../bench';
import { ordinaryPerson } from '../../bench/people/simulated-operator';
import { curveReadings, openSweep, type JobCommand } from '../../job';
import type { OpenJob } from '../../bench';
import { inOrder, type BoxLink, type NeedleLook, type SimulatedBox } from '../../link';
import { systemBenchClock } from '../../bench';
import { curveFinding } from '../../server/findings/findings';
import { describeSimulatedGauges } from '../../server/describe-simulated';
import { boxFrom } from '../input/box-options';
import type { Command, Report, Surroundings } from '../command';
import { curveJson } from '../output/curve-json';
import { curveText } from '../output/curve-text';
import { InputError, RefusedError, refusedError } from '../input-error';
import { openJobFrom, type OpenedJob } from '../input/job-place';
import type { Arguments } from '../options';
import { SweepTerminal } from '../output/sweep-terminal';
import {
  confirmationsFrom,
  openingFrom,
  openingOfSimulated,
  SWEEP_OPTIONS,
  sweepChoiceFrom,
} from '../input/sweep-options';
import { plain } from '../../words/notation';
import { saidRefusal } from '../../words/refusal';
import { saidRemark } from '../../words/remark';
import { sweepSizeOf } from '../../job/state/sweep-size';
import { sweepSizeWords } from '../../words/sweep';

const BY = 'terminal';
const DEFAULT_SEED = 1;
const END_STEP_MS = 2_000;
/** A thermal needle takes a minute a step; a simulated person may as well watch a faster one. */
const AUTO_SPEED = 60;

/** A whole guided sweep in the terminal. */
export const sweepCommand: Command = {
  name: 'sweep',
  summary: 'a whole guided sweep in the terminal',
  usage: '[--port PATH | --simulate NAME] [--job DIR] [--auto] [options]',
  details: [
    'The box makes a resistance, you wait until it says "read now" and type what the needle shows. Answers: a number;',
    'low or high when the needle lies at a stop; u undo, r once more, s skip, w wait longer, p pause, q stop and end.',
    'Seeking: b below the mark, a above it, o on it. Every answer is kept at once; --job takes a job up again.',
    'At the end the curve is printed as "curve" prints it.',
  ],
  options: SWEEP_OPTIONS,
  words: { least: 0, most: 0 },
  run,
};

async function run(given: Arguments, surroundings: Surroundings): Promise<Report> {
  const isAuto = given.flag('auto');
  if (isAuto && given.text('simulate') === undefined) {
    throw new InputError('--auto is for a simulated box: only there can a simulated person see the needle');
  }
  const confirmations = confirmationsFrom(given);
  const speed = given.number('speed') ?? (isAuto ? AUTO_SPEED : 1);
  const box = boxFrom(given, surroundings, speed);
  const link = box.keep();
  try {
    await untilLive(link);
    const job = await openJobFrom(given, surroundings, {
      link,
      needleSpeed: speed,
      by: BY,
      opening: () => newOpening(given),
    });
    try {
      await sweep(job.desk, { given, surroundings, speed, simulated: box.simulated, confirmations });
      return reportOf(job);
    } finally {
      await job.bench.close();
    }
  } finally {
    await box.end();
  }
}

/** The first failure to reach the box is the answer to the command; later ones heal by themselves. */
async function untilLive(link: BoxLink): Promise<void> {
  if (link.state === 'live') return;
  await new Promise<void>((resolve, reject) => {
    link.subscribe((event) => {
      if (event.kind === 'state' && event.state === 'live') resolve();
      if (event.kind === 'waiting') reject(new InputError(event.reason.message));
    });
  });
}

async function newOpening(given: Arguments): Promise<ReturnType<typeof openingFrom>> {
  const name = given.text('simulate');
  if (name === undefined) return openingFrom(given);
  const gauge = (await describeSimulatedGauges()).find((each) => each.name === name);
  if (gauge === undefined)
    throw new InputError(`the simulated box does not know the gauge ${name}; run "npm run build"`);
  return openingOfSimulated(gauge, given);
}

type SweepWith = {
  readonly given: Arguments;
  readonly surroundings: Surroundings;
  readonly speed: number;
  readonly simulated: SimulatedBox | undefined;
  readonly confirmations: ReturnType<typeof confirmationsFrom>;
};

async function sweep(desk: OpenJob, how: SweepWith): Promise<void> {
  const { given, surroundings, speed, simulated, confirmations } = how;
  const talk = new SweepTerminal(desk, surroundings, BY);
  const leave = desk.attend(BY);
  let looked: NeedleLook | undefined;
  const unlook = simulated?.subscribeNeedle((look) => (looked = look));
  const person = given.flag('auto')
    ? simulatedOperator({
        job: desk,
        look: () => looked,
        clock: systemBenchClock,
        seed: given.number('seed') ?? DEFAULT_SEED,
        human: { ...ordinaryPerson, reactionMs: ordinaryPerson.reactionMs / speed },
      })
    : undefined;
  try {
    if (given.flag('clear-trip')) await mustDo(desk, { kind: 'clear-trip' });
    for (const confirmation of confirmations) await mustDo(desk, { kind: 'confirm-safety', confirmation });
    if (openSweep(desk.state) === undefined)
      surroundings.err(sweepSizeWords(sweepSizeOf(desk.state.gauge, sweepChoiceFrom(given))));
    await mustDo(
      desk,
      openSweep(desk.state) === undefined
        ? { kind: 'start-sweep', choice: sweepChoiceFrom(given) }
        : { kind: 'resume-sweep' },
    );
    await (person === undefined ? talk.withPerson() : talk.withSimulatedPerson());
  } finally {
    // The output first; nothing before it that could fail.
    const troubles = await inOrder(
      [
        { what: 'opening the output', work: async () => (desk.isDriving ? desk.stop(BY) : undefined) },
        { what: 'writing what was read', work: () => desk.written() },
      ],
      END_STEP_MS,
    );
    person?.leave();
    unlook?.();
    leave();
    troubles.forEach(surroundings.err);
  }
}

/** What a refusal asks of the person, said in options. */
const REMEDIES: Readonly<Record<string, string>> = {
  CONFIRM_FIRST: ' (in the terminal: --confirm NAME)',
  TRIPPED: ' (in the terminal: --clear-trip)',
};

async function mustDo(desk: OpenJob, command: JobCommand): Promise<void> {
  const result = await desk.submit(command, BY);
  if (result.kind !== 'refused') return;
  const remedy = REMEDIES[result.code] ?? '';
  throw new RefusedError(result.code, `${result.message}${remedy}`);
}

function reportOf({ desk, folder }: OpenedJob): Report {
  const { state } = desk;
  const readings = curveReadings(state);
  const sweepStatus = state.sweeps.at(-1)?.status.kind ?? 'finished';
  const headline = `${state.simulated ? 'SIMULATED ' : ''}sweep ${sweepStatus}: ${readings.length} readings, kept in ${folder}`;
  const facts = {
    job: folder,
    title: state.title,
    vehicle: state.vehicle,
    simulated: state.simulated,
    sweep: sweepStatus,
    readings: readings.length,
    trips: state.trips.map(({ code, reason }) => ({ code, reason })),
  };
  const { curve } = curveFinding({ kind: 'curve', gauge: state.gauge, readings });
  if (curve.kind === 'refused') {
    // A sweep that was left early has no curve yet, and that is no failure.
    if (sweepStatus === 'finished') throw refusedError(curve, `${folder}: `);
    return {
      text: [headline, `No curve yet. ${saidRefusal(curve, plain)}`],
      json: { kind: 'sweep', ...facts },
    };
  }
  const warnings = curve.warnings.map((each) => saidRemark(each, plain));
  return {
    text: [headline, '', ...curveText(curve, [])],
    json: { ...curveJson(curve, [], warnings), ...facts },
    warnings,
  };
}
