import { OpenJob, openBench, systemBenchClock, type Bench } from '../../../bench';
import { ClusterRun } from '../../../bench/cluster/cluster-run';
import { noteHandSweeps } from '../../../bench/cluster/hand-sweeps';
import { simulatedHand } from '../../../bench/people/simulated-hand';
import { openSweep, type ClusterState, type JobCommand } from '../../../job';
import { handPlanOf } from '../../../job/state/hand-plan';
import { absentLink, type NeedleLook } from '../../../link';
import { handPlanWords } from '../../../words/by-hand';
import { plain } from '../../../words/notation';
import type { Surroundings } from '../../command';
import { clusterBench, jobsFolderOf } from '../../input/cluster-boxes';
import { handSetUpFrom } from '../../input/hand-options';
import { confirmationsFrom, sweepChoiceFrom } from '../../input/sweep-options';
import { InputError, RefusedError } from '../../input-error';
import type { Arguments } from '../../options';
import { SweepTerminal } from '../../output/sweep-terminal';
import { BY, must, mustBe } from './action';
import { clusterNamed, newCluster } from './open';

/** A bench without a box; of a simulated cluster its boxes are there, and stay off the wires. */
type HandBench = {
  readonly bench: Bench;
  readonly needleSpeed: number;
  readonly look: (gaugeAt: number) => NeedleLook | undefined;
  readonly put: (gaugeAt: number, resistanceOhm: number | undefined) => void;
  readonly end: () => Promise<void>;
};

async function handBench(given: Arguments, surroundings: Surroundings): Promise<HandBench> {
  if (given.texts('port').length > 0) throw new InputError('--by-hand works without boxes: leave --port out');
  if (given.text('simulate') === undefined) {
    const bench = openBench({ jobsFolder: jobsFolderOf(given, surroundings), link: absentLink() });
    return {
      bench,
      needleSpeed: 1,
      look: () => undefined,
      put: () => undefined,
      end: () => bench.close(),
    };
  }
  const at = await clusterBench(given, surroundings);
  // Without crossed leads the boxes stand at the gauges in their order.
  if (given.numbers('order') !== undefined) {
    await at.end();
    throw new InputError('--by-hand: no box is on a gauge, so leave --order out');
  }
  return {
    bench: at.bench,
    needleSpeed: at.needleSpeed,
    look: (gaugeAt) => at.looks.get(gaugeAt),
    put: (gaugeAt, ohm) => at.simulated?.tellWorld({ box: gaugeAt, change: { handOhm: ohm ?? 'free' } }),
    end: at.end,
  };
}

/** One gauge after the other, without boxes: the same jobs, the same cluster journal, the same sheet. */
export async function sweepByHand(
  clusterId: string | undefined,
  given: Arguments,
  surroundings: Surroundings,
): Promise<ClusterState> {
  if (given.flag('auto') && given.text('simulate') === undefined)
    throw new InputError(
      '--auto is for a simulated cluster: only there can a simulated person see the needles',
    );
  const at = await handBench(given, surroundings);
  try {
    const { journal, state: opened } =
      clusterId === undefined
        ? await newCluster(given, surroundings)
        : await clusterNamed(clusterId, given, surroundings);
    try {
      const { bench, needleSpeed } = at;
      const gauges = await Promise.all(
        opened.gauges.map(async ({ jobId, place }) => {
          const desk = await bench.openJob(jobId);
          if (!(desk instanceof OpenJob)) throw new RefusedError(desk.code, desk.message);
          return { jobId, place, desk };
        }),
      );
      const run = new ClusterRun({ journal, opened, gauges, bench, clock: systemBenchClock, needleSpeed });
      surroundings.err(`cluster ${opened.clusterId}, by hand`);
      const condition = given.text('state') === 'as-left' ? 'as-left' : 'as-found';
      mustBe(await run.note([{ kind: 'state-declared', state: condition }], BY));
      const { due } = run;
      for (const [gaugeAt, { jobId, place, desk }] of gauges.entries()) {
        if (!due.has(jobId)) continue;
        surroundings.err(`${place}: ${desk.state.gauge.quantity}`);
        if (
          (await sweepOne(desk, { at, gaugeAt, condition, feed: opened.feed }, given, surroundings)) ===
          'left'
        )
          break;
        const noted = await noteHandSweeps(run);
        if (typeof noted === 'object') must(noted);
      }
      return run.state;
    } finally {
      await journal.close();
    }
  } finally {
    await at.end();
  }
}

type One = {
  readonly at: HandBench;
  readonly gaugeAt: number;
  readonly condition: ClusterState['state'];
  readonly feed: ClusterState['feed'];
};

async function sweepOne(
  desk: OpenJob,
  { at, gaugeAt, condition, feed }: One,
  given: Arguments,
  surroundings: Surroundings,
): Promise<'swept' | 'left'> {
  const talk = new SweepTerminal(desk, surroundings, BY);
  const leave = desk.attend(BY);
  const person = given.flag('auto')
    ? simulatedHand({
        job: desk,
        look: () => at.look(gaugeAt),
        clock: systemBenchClock,
        seed: (given.number('seed') ?? 1) + gaugeAt,
        needleSpeed: at.needleSpeed,
        put: (ohm) => at.put(gaugeAt, ohm),
      })
    : undefined;
  try {
    for (const confirmation of confirmationsFrom(given))
      await mustDo(desk, { kind: 'confirm-safety', confirmation });
    await mustDo(desk, await startOf(desk, { condition, feed }, given, surroundings));
    await (person === undefined ? talk.withPerson() : talk.withSimulatedPerson());
  } finally {
    person?.leave();
    at.put(gaugeAt, undefined);
    await desk.written();
    leave();
  }
  return openSweep(desk.state) === undefined ? 'swept' : 'left';
}

async function startOf(
  { state }: OpenJob,
  { condition, feed }: Pick<One, 'condition' | 'feed'>,
  given: Arguments,
  surroundings: Surroundings,
): Promise<JobCommand> {
  const open = openSweep(state);
  if (open !== undefined) {
    if (open.hand === undefined)
      throw new InputError('boxes make the resistances of the open sweep: leave --by-hand out');
    return { kind: 'resume-sweep' };
  }
  const hand = await handSetUpFrom(given, surroundings);
  const set =
    hand.feedVolt === undefined && feed.volt !== undefined ? { ...hand, feedVolt: feed.volt } : hand;
  const choice = sweepChoiceFrom(given);
  handPlanWords(handPlanOf(state.gauge, set, choice.pointCount), plain).forEach(surroundings.err);
  return { kind: 'start-sweep', choice: { ...choice, state: condition, hand: set } };
}

async function mustDo(desk: OpenJob, command: JobCommand): Promise<void> {
  const done = await desk.submit(command, BY);
  if (done.kind === 'refused')
    throw new RefusedError(done.code, `${done.message} (in the terminal: --confirm NAME)`);
}
