import { describe, expect, it } from 'vitest';
import type { EventBody } from '../../host/job';
import { factorFound } from '../../host/core/at-work';
import { toleranceErrors, type Trimmed } from '../../host/core/network';
import { fittedSenderOf, standsFor } from '../../host/job/proof/substitution';
import { atWork, workingFactsOf } from '../../host/job/proof/working-circuit';
import { substituteHeatWords } from '../../host/words/at-work';
import { plain } from '../../host/words/notation';
import { foldJob } from '../../host/job/state/fold';
import type { JobState } from '../../host/job/state/state';
import { compute } from '../../host/server/findings/findings';
import { senderFinding } from '../../host/server/findings/sender-finding';
import { tasksOf } from '../../host/server/findings/tasks';
import { bathSender, dialOf, leadOf, originals, worldOf } from '../core/at-work/originals';
import { beadOhm, settled, watched, type Soldered } from '../core/at-work/world';
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

describe('the ohms that stand for this sender where its dial begins to mean danger', () => {
  const truth = (parts: Soldered = {}): number => settled(worldOf(original, 0.04), 108, parts).ohm;
  const trimmedTo = (parts: readonly number[]): readonly EventBody[] => {
    const candidate = {
      topology: 'series' as const,
      parts: parts.map((resistanceOhm) => ({ place: 'series', resistanceOhm })),
      worstError: 1,
    };
    return [
      { kind: 'trim-chosen', candidate },
      { kind: 'network-fitted', fitted: 'network', candidate, senderId: 'sender-1' },
    ];
  };

  // The world is followed in time: node voltages by elimination, the body as a heat store.
  it.each([
    ['with nothing fitted', [], {}],
    ['behind 18 ohm in its lead', trimmedTo([18]), { senderSideOhm: 18 }],
  ] as const)('are those it has at work, %s', async (_, fitted, parts) => {
    const state = await jobWith([workingCurrent(), ...fitted]);
    const { substitution } = senderFinding(tasksOf(state).senders[0]!);
    if (substitution?.kind !== 'substitution') throw new Error('no ohms');
    const { resistanceOhm, expandedUncertaintyOhm, hotBy } = substitution;
    expect(Math.abs(resistanceOhm - truth(parts))).toBeLessThan(expandedUncertaintyOhm);
    expect(expandedUncertaintyOhm).toBeLessThan(0.08 * resistanceOhm);
    const cold = beadOhm({ ...original.body, wattPerKelvin: 1 }, 108);
    expect(cold - truth(parts)).toBeGreaterThan(3 * Math.abs(resistanceOhm - truth(parts)));
    expect(hotBy).toBeGreaterThan(5);
    // The other way round: what these very ohms stand for is the dial's 108.
    const fit = fittedSenderOf(state, 'sender-1');
    if (fit.kind === 'refused') throw new Error(fit.code);
    const known = { sender: fit, atWork: atWork(workingFactsOf(state, 'sender-1'), fit) };
    const ohms = { resistanceOhm: truth(parts), uncertaintyOhm: 0.01, tolerancePercent: undefined };
    const back = standsFor(state.gauge, known, ohms);
    if (back.kind === 'refused') throw new Error(back.code);
    expect(Math.abs(back.reference - 108)).toBeLessThan(2 * back.referenceUncertainty);
    expect(back.referenceUncertainty).toBeLessThan(1.5);
  });

  it('are told as those of an ohmmeter where nobody measured the circuit', async () => {
    const { substitution } = senderFinding(tasksOf(await jobWith([])).senders[0]!);
    expect(substitution).toMatchObject({ kind: 'substitution', isHeatLeftOut: true });
    if (substitution?.kind !== 'substitution') return;
    expect(substituteHeatWords(substitution, 'degC', plain)).toContain('by an ohmmeter');
    expect(substituteHeatWords({ ...substitution, hotBy: 7.31 }, 'degC', plain)).toContain('7.3 degC hotter');
  });
});

describe('the band of a sender\u2019s tolerance', () => {
  it('holds what the needle shows with a part at either end of it, as hot as that part is', () => {
    const world = worldOf(original, 0.04);
    const gauge = dialOf(world);
    const options = {
      from: 50,
      to: 110,
      lead: leadOf(original.world),
      dissipation: factorFound(0.04, 0, 'typed'),
    };
    const none = { topology: 'none', parts: [] } as const;
    const [band] = toleranceErrors(gauge, bathSender(original.body), options, {
      networks: [none],
      percent: 10,
    });
    for (const { value, low, high } of [band![10]!, band![25]!, band![38]!]) {
      const shown = [0.9, 1.1].map((factor) => {
        const body = { ...world.body, ohmAt100: factor * world.body.ohmAt100 };
        return gauge.reading(settled({ ...world, body }, value).ohm) - value;
      });
      expect(Math.abs(high - shown[0]!)).toBeLessThan(0.2);
      expect(Math.abs(low - shown[1]!)).toBeLessThan(0.2);
    }
  });
});
