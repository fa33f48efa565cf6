import { describe, expect, it } from 'vitest';
import type { EventBody } from '../../host/job';
import type { Trimmed } from '../../host/core/network';
import { foldJob } from '../../host/job/state/fold';
import type { JobState } from '../../host/job/state/state';
import { compute } from '../../host/server/findings/findings';
import { senderFinding } from '../../host/server/findings/sender-finding';
import { tasksOf } from '../../host/server/findings/tasks';
import { leadOf, originals, worldOf } from '../core/at-work/originals';
import { watched } from '../core/at-work/world';
import { FakeBench } from '../support/fake-bench';
import { NTC_POINTS, sampleDesk, senderGiven, sweepDone } from '../e2e/sample-job';

/** A heater of 58 ohm on 10 V; a sender of 52.8 ohm at 100 degC and some 4,000 K, as the sample job's points are. */
const original = { ...originals[0]!, body: { ohmAt100: 52.8, electronvolt: 0.346, secondsToFollow: 12 } };
const starts = [60, 180, 300];

/** Six volts of a sender that sheds 40 mW/K, read at 90 degC with the lead off and on in turn. */
const workingCurrent = (): EventBody => ({
  kind: 'working-current',
  senderId: 'sender-1',
  method: 'flowing',
  lead: leadOf(original.world),
  readings: watched(worldOf(original, 0.04), {
    coolant: () => 90,
    isOn: (second) => starts.some((start) => second >= start && second < start + 60),
    at: starts.flatMap((start) => [start + 1.5, start + 59]),
  }).map(({ senderVolt }, index) => ({ when: index % 2 === 0 ? 'cold' : 'warm', senderVolt })),
});

const jobWith = async (more: readonly EventBody[]): Promise<JobState> => {
  const desk = await sampleDesk(new FakeBench());
  sweepDone(desk);
  senderGiven(desk, NTC_POINTS);
  for (const body of more) desk.append(body, 'x');
  desk.append({ kind: 'trim-requested', options: { senderId: 'sender-1', series: 'E24', maxParts: 1 } }, 'x');
  const state = foldJob(desk.events);
  if (state === undefined) throw new Error('no state');
  return state;
};

const trimmedOf = (state: JobState): Trimmed => {
  const { trim } = tasksOf(state);
  const found = trim === undefined ? undefined : compute(trim);
  if (found === undefined || !('trimmed' in found) || found.trimmed.kind === 'refused')
    throw new Error('no trim');
  return found.trimmed;
};

describe('a job in which somebody measured the sender at working current', () => {
  it('finds what the sender sheds, and counts its heat in every network', async () => {
    const state = await jobWith([workingCurrent()]);
    const [task] = tasksOf(state).senders;
    const { inPlace } = senderFinding(task!);
    expect(inPlace).toMatchObject({ kind: 'in-place', method: 'flowing' });
    if (inPlace?.kind !== 'in-place') return;
    expect(inPlace.factor.wattPerKelvin).toBeGreaterThan(0.032);
    expect(inPlace.factor.wattPerKelvin).toBeLessThan(0.048);
    const { heat } = trimmedOf(state);
    expect(heat).toMatchObject({ kind: 'counted', factor: { basis: 'flowing' } });
  });

  it('says of a job without it that the heat is not counted', async () => {
    const { heat } = trimmedOf(await jobWith([]));
    expect(heat).toMatchObject({ kind: 'not-counted', because: 'circuit-not-known' });
  });

  it('counts the newest measurement, and none that was taken back', async () => {
    const state = await jobWith([workingCurrent()]);
    const n = state.workingCurrents.at(-1)!.n;
    const undone = await jobWith([workingCurrent(), { kind: 'undone', undoes: n }]);
    expect(undone.workingCurrents).toEqual([]);
    expect(trimmedOf(undone).heat.kind).toBe('not-counted');
  });
});
