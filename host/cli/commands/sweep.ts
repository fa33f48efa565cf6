import { simulatedOperator } from '../../bench';
import { simulatedHand } from '../../bench/people/simulated-hand';
import { ordinaryPerson, type SimulatedOperator } from '../../bench/people/simulated-operator';
import { openSweep, type JobCommand, type SweepChoice } from '../../job';
import type { OpenJob } from '../../bench';
import { absentLink, inOrder, type BoxLink, type NeedleLook, type SimulatedBox } from '../../link';
import { systemBenchClock } from '../../bench';
import { describeSimulatedGauges } from '../../server/describe-simulated';
import { boxFrom, type BoxSource } from '../input/box-options';
import type { Command, Report, Surroundings } from '../command';
import { InputError, RefusedError } from '../input-error';
import { handSetUpFrom } from '../input/hand-options';
import { openJobFrom } from '../input/job-place';
import type { Arguments } from '../options';
import { reportOf } from '../output/sweep-report';
import { SweepTerminal } from '../output/sweep-terminal';
import {
  confirmationsFrom,
  openingFrom,
  openingOfSimulated,
  SWEEP_OPTIONS,
  sweepChoiceFrom,
} from '../input/sweep-options';
import { handPlanOf } from '../../job/state/hand-plan';
import { sweepSizeOf } from '../../job/state/sweep-size';
import { handPlanWords } from '../../words/by-hand';
import { plain } from '../../words/notation';
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
  usage: '[--port PATH | --simulate NAME | --by-hand] [--job DIR] [--auto] [options]',
  example: 'needlewright sweep --simulate two-coil-fuel --auto --jobs jobs',
  details: [
    'The box makes a resistance, you wait until it says "read now" and type what the needle shows. Answers: a number;',
    'low or high when the needle lies at a stop; u undo, r once more, s skip, w wait longer, p pause, q stop and end.',
    'Seeking: b below the mark, a above it, o on it. Every answer is kept at once; --job takes a job up again.',
    'With --by-hand there is no box: it says which parts to put on, counts the wait and asks what the ohmmeter shows.',
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
  const box = sourceFrom(given, surroundings, speed);
  const link = box.keep();
  try {
    if (!box.isAbsent) await untilLive(link);
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

type Source = Pick<BoxSource, 'simulated' | 'end'> & {
  readonly keep: () => BoxLink;
  readonly isAbsent: boolean;
};

/** By hand there is no box; a simulated one brings the gauge with it, and stays off the wire. */
function sourceFrom(given: Arguments, surroundings: Surroundings, speed: number): Source {
  const isByHand = given.flag('by-hand');
  if (isByHand && given.text('port') !== undefined)
    throw new InputError('--by-hand works without a box: leave --port out');
  if (!isByHand || given.text('simulate') !== undefined)
    return { ...boxFrom(given, surroundings, speed), isAbsent: false };
  return { simulated: undefined, keep: absentLink, end: () => Promise.resolve(), isAbsent: true };
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

/** Somebody who sees the simulated needle, with a box or with parts in his hands. */
function simulatedPerson(
  job: OpenJob,
  { given, speed, simulated }: SweepWith,
  look: () => NeedleLook | undefined,
): SimulatedOperator {
  const seed = given.number('seed') ?? DEFAULT_SEED;
  const person = { job, look, clock: systemBenchClock, seed };
  if (given.flag('by-hand'))
    return simulatedHand({
      ...person,
      needleSpeed: speed,
      put: (ohm) => simulated?.tellWorld({ handOhm: ohm ?? 'free' }),
    });
  const reactionMs = ordinaryPerson.reactionMs / speed;
  return simulatedOperator({ ...person, human: { ...ordinaryPerson, reactionMs } });
}

/** Goes on where the job stands, else begins; by hand it says first what the parts would carry. */
async function startOf({ state }: OpenJob, { given, surroundings }: SweepWith): Promise<JobCommand> {
  const open = openSweep(state);
  if (open !== undefined) {
    if ((open.hand !== undefined) !== given.flag('by-hand'))
      throw new InputError(
        open.hand === undefined
          ? 'the box makes the resistances of the open sweep: leave --by-hand out, or finish it first'
          : 'the open sweep is one by hand: add --by-hand',
      );
    return { kind: 'resume-sweep' };
  }
  const choice: SweepChoice = sweepChoiceFrom(given);
  if (!given.flag('by-hand')) {
    surroundings.err(sweepSizeWords(sweepSizeOf(state.gauge, choice)));
    return { kind: 'start-sweep', choice };
  }
  const hand = await handSetUpFrom(given, surroundings);
  handPlanWords(handPlanOf(state.gauge, hand, choice.pointCount), plain).forEach(surroundings.err);
  return { kind: 'start-sweep', choice: { ...choice, hand } };
}

async function sweep(desk: OpenJob, how: SweepWith): Promise<void> {
  const { given, surroundings, simulated, confirmations } = how;
  const talk = new SweepTerminal(desk, surroundings, BY);
  const leave = desk.attend(BY);
  let looked: NeedleLook | undefined;
  const unlook = simulated?.subscribeNeedle((look) => (looked = look));
  const person = given.flag('auto') ? simulatedPerson(desk, how, () => looked) : undefined;
  try {
    if (given.flag('clear-trip')) await mustDo(desk, { kind: 'clear-trip' });
    for (const confirmation of confirmations) await mustDo(desk, { kind: 'confirm-safety', confirmation });
    await mustDo(desk, await startOf(desk, how));
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
