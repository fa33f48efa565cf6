import { describe, expect, it } from 'vitest';
import { ohmRange } from '../../host/core/sender';
import { decide, isBoxCommand } from '../../host/bench/decide/decide';
import { isHandOnly } from '../../host/bench/decide/decide-hand';
import { isWatchCommand } from '../../host/bench/decide/decide-watch';
import {
  foldJob,
  isUndoable,
  jobCommand,
  type EventBody,
  type JobCommand,
  type JobState,
} from '../../host/job';
import { isProved, missingFromProof, proofVerdict, tooSoon } from '../../host/job/proof/proof';
import { proofRemarks } from '../../host/job/proof/proof-remarks';
import { proofCautions } from '../../host/job/proof/proof-cautions';
import { fittedSenderOf, standsFor, substitutionAt } from '../../host/job/proof/substitution';
import { conformanceProbability, pairWord, type ErrorWithUncertainty } from '../../host/core/proof/decision';
import ratios from '../vectors/thermistor-ntc-ratio-table.json';
import { opened, stamped } from './sample';
import { headlines } from '../../host/words/headline';
import { plain } from '../../host/words/notation';
import { missingWords, proofRemarkWords } from '../../host/words/proof';

/** The verdict on one error against a limit to both sides, by the guard band. */
const verdictOn = (result: ErrorWithUncertainty, limit: number): string => {
  const word = pairWord(result, { lower: -limit, upper: limit }, 'guard');
  return word === 'within' || word === 'outside' ? word : 'cannot-tell';
};

type Entry = Extract<JobCommand, { kind: 'add-proof-pair' }>;

/** Journals of the older program hold pairs without a chosen rule: what is kept lacks it, and the desk is told of one. */
const olderRule = { n: 1, at: '2026-03-01T09:00:00.000Z', by: 'laptop', rule: 'guard' } as const;

/** A job as the desk keeps it: what is refused never reaches the journal. */
class Job {
  readonly bodies: EventBody[];
  /** A thermal needle needs a minute to rest: the trade's default script; common practice, no primary source. */
  secondsApart = 60;

  constructor(...bodies: readonly EventBody[]) {
    this.bodies = [opened, ...bodies];
  }

  get events() {
    return stamped(this.bodies, 'laptop', this.secondsApart);
  }

  get state(): JobState {
    const state = foldJob(this.events);
    if (state === undefined) throw new Error('no job');
    return state;
  }

  /** As a program would send it: past every page, through the schema of the wire. Answers the code of a refusal. */
  tell(command: unknown): string {
    const read = jobCommand.parse(command);
    const { confirmations } = this.state;
    const said = confirmations.length === 0 ? [] : [...confirmations, 'gauge-sender' as const];
    const state = { ...this.state, proofRule: olderRule, confirmations: said };
    const decided = decide({ state, events: this.events, by: 'laptop' }, planned(read));
    if ('kind' in decided) return `${decided.code}: ${decided.message}`;
    this.bodies.push(...decided);
    return 'kept';
  }
}

/** The commands of this file need nothing but the journal. */
const planned = (command: JobCommand): Parameters<typeof decide>[1] => {
  if (
    isBoxCommand(command) ||
    isWatchCommand(command) ||
    isHandOnly(command) ||
    command.kind === 're-estimate-sender'
  )
    throw new Error(`${command.kind} needs a box`);
  return command;
};

const runs: EventBody = { kind: 'safety-confirmed', confirmation: 'engine-runs', sentence: 'hands out' };
const network = (ohm: number): EventBody => ({
  kind: 'trim-chosen',
  candidate: { topology: 'series', parts: [{ place: 'series', resistanceOhm: ohm }], worstError: 1 },
});

const R25_OHM = 1000;
/** A published thermistor, row by row; the rows named are kept from the fit, so that they can judge it. */
const rows = ratios.t_degC.map((celsius, index) => ({
  celsius,
  ohm: R25_OHM * (ratios.ratio_R_over_R25[index] ?? NaN),
}));
const publishedOhm = (celsius: number): number => rows.find((row) => row.celsius === celsius)?.ohm ?? NaN;
const senderWithout = (...left: readonly number[]): EventBody[] => [
  { kind: 'sender-described', senderId: 's1', title: 'published', model: 'steinhart-hart', unit: 'degC' },
  ...rows
    .filter(({ celsius }) => celsius >= 30 && celsius <= 130 && !left.includes(celsius))
    .map(({ celsius, ohm }, index): EventBody => ({
      kind: 'sender-point',
      pointId: `p${index}`,
      senderId: 's1',
      value: celsius,
      resistanceOhm: ohm,
      source: 'datasheet',
    })),
];

const run = (reference: number, indicated: number, leg: Entry['leg'] = 'up'): Entry => ({
  kind: 'add-proof-pair',
  state: 'as-left',
  reference,
  referenceUncertainty: 0.4,
  indicated,
  leg,
});
const known = (resistanceOhm: number, indicated: number, leg: Entry['leg'] = 'up') => ({
  kind: 'add-proof-substitution',
  with: 'resistor',
  resistanceOhm,
  uncertaintyOhm: resistanceOhm * 0.005,
  indicated,
  leg,
});

describe('what is refused, page or no page', () => {
  it('is a pair as left on a job of which nobody said what is fitted, with what is missing', () => {
    expect(new Job(runs).tell(run(90, 91))).toMatch(/^NO_NETWORK: No network was chosen/);
    expect(new Job(runs).tell(known(60, 119))).toMatch(/^NO_NETWORK/);
    expect(new Job(runs, network(18)).tell(run(90, 91))).toMatch(/^NOT_FITTED: .*Say so first/);
  });

  it('is fitting what nobody chose', () => {
    expect(new Job().tell({ kind: 'say-fitted', fitted: 'network', chosenN: 1 })).toMatch(/^NO_NETWORK/);
  });

  it('is a second screen that says fitted of a network which the first has just replaced', () => {
    const job = new Job(runs, network(18), network(27));
    expect(job.tell({ kind: 'say-fitted', fitted: 'network', chosenN: 3 })).toMatch(/^NETWORK_CHANGED/);
    expect(job.tell({ kind: 'say-fitted', fitted: 'network', chosenN: 4 })).toBe('kept');
    expect(job.state.fitted?.candidate?.parts[0]?.resistanceOhm).toBe(27);
  });

  it.each([{}, { referenceUncertainty: 0 }])('is a reference that is sure to nothing: %j', (how) => {
    const { referenceUncertainty, ...bare } = run(90, 91);
    const job = new Job(runs);
    job.tell({ kind: 'say-fitted', fitted: 'nothing' });
    expect(job.tell({ ...bare, ...how })).toMatch(/^NO_REFERENCE_UNCERTAINTY: Missing/);
    expect(job.tell({ ...bare, ...how, state: 'as-found' })).toMatch(/^NO_REFERENCE_UNCERTAINTY/);
  });

  it('is a place that is not on the dial, in the proof and as found; but a frosty morning is no slip', () => {
    const job = new Job(runs, ...senderWithout());
    job.tell({ kind: 'say-fitted', fitted: 'nothing' });
    expect(job.tell(run(900, 91))).toMatch(
      /^PLACE_OFF_SCALE: 900 degC is not on this dial \(50 to 120 degC\)/,
    );
    expect(job.tell(run(20, 50))).toMatch(/^PLACE_OFF_SCALE/);
    expect(job.tell(known(publishedOhm(40), 50))).toMatch(/^PLACE_OFF_SCALE/);
    const found = { kind: 'record-as-found', state: 'cold', indicated: 50 };
    expect(job.tell({ ...found, reference: 900 })).toMatch(/^READING_OFF_SCALE/);
    expect(job.tell({ ...found, indicated: 900 })).toMatch(/^READING_OFF_SCALE/);
    expect(job.tell({ ...found, reference: -25 })).toBe('kept');
  });

  it('is reading anything in a vehicle before what can hurt was said to be so', () => {
    const job = new Job();
    job.tell({ kind: 'say-fitted', fitted: 'nothing' });
    expect(job.tell(run(90, 91))).toMatch(/^CONFIRM_FIRST/);
    expect(job.tell(known(60, 119))).toMatch(/^CONFIRM_FIRST/);
  });

  it('is calling it as found once a network is fitted', () => {
    const job = new Job(runs, network(18));
    job.tell({ kind: 'say-fitted', fitted: 'network', chosenN: 3 });
    expect(job.tell({ ...run(90, 91), state: 'as-found' })).toMatch(/^AS_FOUND_IS_OVER/);
  });

  it('is known ohms without a sender\u2019s curve, or without how sure they are', () => {
    const job = new Job(runs);
    job.tell({ kind: 'say-fitted', fitted: 'nothing' });
    expect(job.tell(known(60, 119))).toMatch(/^NO_SENDER: Missing/);
    const { uncertaintyOhm, ...unsure } = known(60, 119);
    expect(job.tell(unsure)).toMatch(/^NO_OHM_UNCERTAINTY: Missing/);
  });
});

describe('a proof', () => {
  const begun = (): Job => {
    const job = new Job(runs, ...senderWithout(120));
    job.tell({ kind: 'say-fitted', fitted: 'nothing' });
    job.tell({ kind: 'set-proof-limit', limit: { kind: 'size', size: 5 } });
    return job;
  };
  const line = (job: Job) => headlines(job.state, plain).find((each) => each.station === 'proof');

  it('is only begun with one good pair, however often it is sent, and says what it wants', () => {
    const job = begun();
    for (const indicated of [88.5, 88.5, 88.5]) expect(job.tell(run(88, indicated))).toBe('kept');
    expect(proofVerdict(job.state)?.verdict).toBe('within');
    expect(missingFromProof(job.state)).toEqual(['dangerous-end', 'both-ways']);
    expect(isProved(job.state)).toBe(false);
    expect(line(job)).toMatchObject({ done: false });
    expect(line(job)?.text).toMatch(
      /^Begun, within the limit so far .*wanted: the dangerous end by known ohms/,
    );
  });

  it('is whole with ordinary running, the dangerous end by known ohms, and one place both ways', () => {
    const job = begun();
    job.tell(run(88, 88.5));
    job.tell(run(89, 90, 'down'));
    expect(missingFromProof(job.state)).toEqual(['dangerous-end']);
    expect(job.tell(known(publishedOhm(120), 119))).toBe('kept');
    expect(isProved(job.state)).toBe(true);
    expect(line(job)).toMatchObject({ done: true });
    expect(proofVerdict(job.state)).toMatchObject({ run: 2, substituted: 1 });
  });

  it('never has its dangerous end from an engine that ran there', () => {
    const job = begun();
    for (const leg of ['up', 'down'] as const) for (const at of [88, 116]) job.tell(run(at, at, leg));
    expect(missingFromProof(job.state)).toEqual(['dangerous-end']);
  });

  it('is outside with one pair outside, however much is still wanted', () => {
    const job = begun();
    job.tell(run(88, 99));
    expect(proofVerdict(job.state)?.verdict).toBe('outside');
    expect(line(job)?.text).toMatch(/^Outside the limit/);
  });

  it('is not made green by a limit that no needle could miss', () => {
    const job = begun();
    job.tell(run(88, 99));
    const wide = (size: number) => ({ kind: 'set-proof-limit', limit: { kind: 'size', size } }) as const;
    for (const size of [20, 1000]) expect(job.tell(wide(size))).toMatch(/^LIMIT_TOO_WIDE: .*15 %/);
    expect(job.tell({ kind: 'set-proof-limit', limit: { kind: 'percent', percent: 15 } })).toBe('kept');
    expect(job.tell({ kind: 'set-proof-limit', limit: { kind: 'percent', percent: 15.1 } })).toMatch(
      /^LIMIT/,
    );
  });

  it('takes a double tap on what is fitted once; said again after a pair, it begins anew', () => {
    const job = begun();
    const before = job.bodies.length;
    job.tell({ kind: 'say-fitted', fitted: 'nothing' });
    expect(job.bodies).toHaveLength(before);
    job.bodies.push(network(18));
    const chosenN = job.bodies.length;
    for (let tap = 0; tap < 2; tap += 1)
      expect(job.tell({ kind: 'say-fitted', fitted: 'network', chosenN })).toBe('kept');
    expect(job.bodies).toHaveLength(before + 2);
    job.tell({ kind: 'say-fitted', fitted: 'nothing' });
    job.tell({ kind: 'say-fitted', fitted: 'network', chosenN });
    expect(job.bodies).toHaveLength(before + 4);
    job.tell(run(88, 88.5));
    job.tell({ kind: 'say-fitted', fitted: 'network', chosenN });
    expect(job.bodies).toHaveLength(before + 6);
    expect(proofVerdict(job.state)).toBeUndefined();
  });

  it('begins anew when another network is chosen, and when what is fitted is taken back', () => {
    const job = begun();
    job.tell(run(88, 88.5));
    job.bodies.push(network(18));
    expect(proofVerdict(job.state)).toBeUndefined();
    expect(job.tell(run(88, 88.5))).toMatch(/^NOT_FITTED/);
    job.tell({ kind: 'say-fitted', fitted: 'network', chosenN: job.bodies.length });
    expect(job.state.fitted?.fitted).toBe('network');
    expect(proofVerdict(job.state)).toBeUndefined();
    expect(line(job)?.text).toMatch(/taken before what is fitted now was said/);
    const said = stamped(job.bodies).at(-1);
    expect(said?.kind === 'network-fitted' && isUndoable(said)).toBe(true);
  });

  it('of the older rule folds, is shown as begun, and proves nothing', () => {
    const older: EventBody[] = [90, 110].map((reference, index) => ({
      kind: 'proof-pair',
      pairId: `f${index}`,
      state: 'as-left',
      reference,
      indicated: reference,
      leg: 'up',
    }));
    const job = new Job(runs, ...older);
    expect(job.state.proofPairs).toHaveLength(2);
    expect(proofVerdict(job.state)).toBeUndefined();
    expect(line(job)).toMatchObject({ done: false });
    expect(line(job)?.text).toMatch(/^Begun by the older rule: 2 pairs/);
  });
});

describe('what speaks against a proof', () => {
  /** Everything a green proof wants, with a needle that has its minute each time. */
  const whole = (size = 5): Job => {
    const job = new Job(runs, ...senderWithout(120));
    job.tell({ kind: 'say-fitted', fitted: 'nothing' });
    job.tell({ kind: 'set-proof-limit', limit: { kind: 'size', size } });
    job.tell(run(88, 88.5));
    job.tell(run(89, 90, 'down'));
    job.tell(known(publishedOhm(120), 119));
    return job;
  };
  const said = (job: Job): string =>
    headlines(job.state, plain).find((each) => each.station === 'proof')?.text ?? '';
  const remarks = (job: Job): string[] =>
    proofRemarks(job.state).map((remark) => proofRemarkWords(remark, job.state.gauge.unit, plain));
  const pairAt = (job: Job, indicated: number): string =>
    job.state.proofPairs.find((pair) => pair.indicated === indicated)?.pairId ?? 'none';
  const strike = (job: Job, pairId: string, reason: string): string =>
    job.tell({ kind: 'strike-proof-pair', pairId, reason });

  it('is a needle without its time between rising and falling: a thermal one a minute, a simulated one its own', () => {
    const job = whole();
    expect(isProved(job.state)).toBe(true);
    expect(remarks(job)).toEqual([]);
    job.secondsApart = 59;
    expect(isProved(job.state)).toBe(false);
    expect(missingFromProof(job.state)).toEqual(['dangerous-end', 'both-ways']);
    expect(missingWords('both-ways', job.state, plain)).toMatch(/60 s or more apart/);
    expect(isProved({ ...job.state, simulated: true })).toBe(true);
  });

  it('is no same reading given twice at once, and a pair too soon still speaks against the vehicle', () => {
    const job = new Job(runs, ...senderWithout(120));
    job.tell({ kind: 'say-fitted', fitted: 'nothing' });
    job.secondsApart = 2;
    job.tell(run(88, 88.5));
    job.tell(run(88.5, 89));
    job.tell(run(89, 99, 'down'));
    const [first, again, falling] = job.state.proofPairs;
    expect([first, again].map((pair) => pair && tooSoon(job.state, pair))).toEqual([undefined, undefined]);
    expect(falling && tooSoon(job.state, falling)).toEqual({ passedMs: 2_000, wantedMs: 60_000 });
    expect(proofVerdict(job.state)?.verdict).toBe('outside');
  });

  it('is an outside pair that was struck: with a reason, named beside the verdict, and read again at its place', () => {
    const job = whole();
    job.tell(run(90, 99));
    expect(proofVerdict(job.state)?.verdict).toBe('outside');
    expect(strike(job, pairAt(job, 99), 'struck by hand')).toMatch(/^NO_REASON: .*outside the limit/);
    for (const mark of ['x', '?', 'ok', '12345678', 'no, no.'])
      expect(strike(job, pairAt(job, 99), mark)).toMatch(/^NO_REASON: .*in words, 8 letters or more/);
    expect(strike(job, pairAt(job, 99), 'read from the side')).toBe('kept');
    expect(missingFromProof(job.state)).toEqual(['fresh-pair']);
    expect(isProved(job.state)).toBe(false);
    expect(remarks(job)).toEqual(['1 outside pair struck (read from the side)']);
    // Neither at another place nor made another way.
    job.tell(run(70, 71));
    job.tell(known(publishedOhm(90), 91));
    expect(missingFromProof(job.state)).toEqual(['fresh-pair']);
    job.tell(run(89, 89.5));
    expect(isProved(job.state)).toBe(true);
    expect(said(job)).toMatch(
      /^Within the limit \(limit \u00b15 degC\); 1 outside pair struck \(read from the side\)/,
    );
    // One that was read before it was struck is no fresh one.
    job.tell(run(88, 99.5));
    job.tell(run(88, 88.5));
    strike(job, pairAt(job, 99.5), 'the lights were switched');
    expect(missingFromProof(job.state)).toEqual(['fresh-pair']);
    expect(remarks(job)[0]).toMatch(/^2 outside pairs struck/);
  });

  it('is not made unsaid: an outside pair and the limit it was judged by are never taken back', () => {
    const job = whole();
    job.tell(run(90, 99));
    expect(job.tell({ kind: 'undo' })).toMatch(/^OUTSIDE_STAYS: .*Strike it and say why/);
    const limit = job.events.find((event) => event.kind === 'proof-limit');
    strike(job, pairAt(job, 99), 'read from the side');
    expect(job.tell({ kind: 'undo', undoes: limit?.n ?? NaN })).toMatch(/^(LIMIT_STAYS|NOT_NEWEST)/);
    // A pair within is a slip like any other, and so is a limit that nothing was judged by.
    job.tell(run(70, 71));
    expect(job.tell({ kind: 'undo' })).toBe('kept');
    job.tell({ kind: 'set-proof-limit', limit: { kind: 'size', size: 4 } });
    expect(job.tell({ kind: 'undo' })).toBe('kept');
  });

  it('is a limit that was widened after pairs were entered, whatever it was widened from', () => {
    // An error of 7.3 K, sure to 3 K (GUM 5.1.2): outside of 4.2 K, inside 10.5 K, the widest there is.
    const job = whole(4.2);
    job.tell(run(90, 97.3));
    expect(proofVerdict(job.state)?.verdict).toBe('outside');
    job.tell({ kind: 'set-proof-limit', limit: { kind: 'size', size: 10.5 } });
    expect(isProved(job.state)).toBe(true);
    expect(remarks(job)).toEqual([
      'the limit was widened from \u00b14.2 degC to \u00b110.5 degC after pairs were entered',
    ]);
    expect(said(job)).toMatch(/limit .10\.5 degC\); the limit was widened from .4\.2 degC to .10\.5 degC/);
    // It was outside when it was read: it still needs its reason.
    expect(strike(job, pairAt(job, 97.3), 'struck by hand')).toMatch(/^NO_REASON/);
    job.tell({ kind: 'set-proof-limit', limit: { kind: 'size', size: 4 } });
    expect(remarks(job).join()).not.toContain('widened');
    // Nobody had chosen one: 5 % of 70 K are 3.5 K.
    const unset = new Job(runs);
    unset.tell({ kind: 'say-fitted', fitted: 'nothing' });
    unset.tell(run(88, 88.5));
    unset.tell({ kind: 'set-proof-limit', limit: { kind: 'percent', percent: 10 } });
    expect(remarks(unset)).toEqual([
      'the limit was widened from \u00b13.5 degC to \u00b17 degC after pairs were entered',
    ]);
    // Said before anything was read it is nobody\u2019s business.
    const before = new Job(runs);
    before.tell({ kind: 'say-fitted', fitted: 'nothing' });
    before.tell({ kind: 'set-proof-limit', limit: { kind: 'percent', percent: 10 } });
    before.tell(run(88, 88.5));
    expect(remarks(before)).toEqual([]);
  });

  it('is one place read twice with two answers, though each alone is within', () => {
    const job = whole();
    // Errors of +0.5 and +3 K, then of -2.1 K: 2.5 and 5.1 K apart, with a limit of 5 K.
    job.tell(run(89, 92));
    expect(remarks(job)).toEqual([]);
    job.tell(run(90, 87.9));
    const differ =
      'two readings at 90 degC, taken the same way, differ by 5.1 degC, more than the limit of \u00b15 degC';
    expect(remarks(job)).toEqual([differ]);
    expect(said(job)).toContain(differ);
    // Another place, and the needle falling at the same one, are other readings.
    const other = whole();
    other.tell(run(70, 73));
    other.tell(run(89, 85.5, 'down'));
    expect(remarks(other)).toEqual([]);
    // A slip that is struck is none of the two any more.
    strike(job, pairAt(job, 87.9), 'struck by hand');
    expect(remarks(job)).toEqual([]);
  });

  it('is a network that was known to leave more than the limit', () => {
    const job = new Job(runs, {
      kind: 'trim-chosen',
      candidate: { topology: 'series', parts: [{ place: 'series', resistanceOhm: 18 }], worstError: 9.3 },
    });
    job.tell({ kind: 'say-fitted', fitted: 'network', chosenN: 3 });
    job.tell({ kind: 'set-proof-limit', limit: { kind: 'size', size: 5 } });
    job.tell(run(88, 88.5));
    const worst = 'the worst error left by Trim, \u00b19.3 degC, is beyond the limit of \u00b15 degC';
    expect(remarks(job)).toEqual([worst]);
    expect(said(job)).toContain(worst);
    job.tell({ kind: 'set-proof-limit', limit: { kind: 'size', size: 10 } });
    expect(remarks(job).join()).not.toContain('Trim');
    // The other screen counts in degF: 9.3 K are 16.74.
    job.tell({ kind: 'set-proof-limit', limit: { kind: 'size', size: 5 } });
    job.tell({ kind: 'change-job', shownUnit: 'degF' });
    expect(said(job)).toMatch(/16\.7 degF, is beyond the limit of .9 degF/);
  });
});

describe('the dangerous end', () => {
  it('is put in the sender\u2019s place with the ohms of the published table, at a row the fit never saw', () => {
    const job = new Job(...senderWithout(120));
    const sender = fittedSenderOf(job.state, 's1');
    if (sender.kind === 'refused') throw new Error(sender.code);
    const found = substitutionAt(job.state.gauge, 's1', { sender, atWork: undefined });
    if (found.kind === 'refused') throw new Error(found.code);
    expect(found.reading).toBe(120);
    expect(Math.abs(found.resistanceOhm - publishedOhm(120))).toBeLessThan(found.expandedUncertaintyOhm);
    expect(found.expandedUncertaintyOhm).toBeLessThan(0.05 * publishedOhm(120));
  });

  it('stands for the temperature at which the table has those ohms, and its uncertainty holds both', () => {
    const job = new Job(runs, ...senderWithout(110));
    job.tell({ kind: 'say-fitted', fitted: 'nothing' });
    expect(job.tell(known(publishedOhm(110), 111))).toBe('kept');
    const pair = job.state.proofPairs.at(-1);
    const sure = pair?.referenceUncertainty ?? NaN;
    expect(Math.abs((pair?.reference ?? NaN) - 110)).toBeLessThan(2 * sure);
    // 0.5 % of the ohms alone are 0.5 % / (d ln R / dT), the slope taken from the table's neighbouring rows.
    const slope = Math.log(publishedOhm(105) / publishedOhm(115)) / 10;
    expect(sure).toBeGreaterThanOrEqual(0.99 * (0.005 / slope));
    expect(sure).toBeLessThan(1);
  });

  it('takes the nearest resistor of a drawer, and a part that was not measured with its maker\u2019s tolerance', () => {
    const withTolerance = (tolerancePercent: number) => {
      const [about, ...points] = senderWithout(125, 130);
      if (about?.kind !== 'sender-described') throw new Error('no sender');
      const job = new Job(runs, { ...about, model: 'table', tolerancePercent }, ...points);
      job.tell({ kind: 'say-fitted', fitted: 'nothing' });
      const answer = job.tell({ ...known(38.7, 119), uncertaintyOhm: 0.19 });
      return { answer, pair: job.state.proofPairs.at(-1) };
    };
    const { answer, pair } = withTolerance(0.1);
    expect(answer).toBe('kept');
    // 38.7 ohm where the table has 38.81 at 120 degC: off by the difference over its slope between 115 and 120 degC.
    const slope = Math.log(publishedOhm(115) / publishedOhm(120)) / 5;
    expect(pair?.reference).toBeCloseTo(120 + Math.log(publishedOhm(120) / 38.7) / slope, 1);
    // 10 % of the ohms, rectangular, over that slope.
    const expected = 0.1 / Math.sqrt(3) / slope;
    expect(withTolerance(10).pair?.referenceUncertainty ?? NaN).toBeGreaterThan(0.9 * expected);
    expect(withTolerance(10).pair?.referenceUncertainty ?? NaN).toBeLessThan(1.2 * expected);
  });

  it('ends with the curve: ohms a little beyond it stand for its end when they are no better known', () => {
    const { state } = new Job(...senderWithout());
    const sender = fittedSenderOf(state, 's1');
    if (sender.kind === 'refused') throw new Error(sender.code);
    const [low] = ohmRange(sender);
    const told = (uncertaintyOhm: number) =>
      standsFor(
        state.gauge,
        { sender, atWork: undefined },
        { resistanceOhm: low - 0.1, uncertaintyOhm, tolerancePercent: undefined },
      );
    expect(told(0.1)).toMatchObject({ kind: 'stands-for' });
    expect(told(0.01)).toMatchObject({ kind: 'refused', code: 'SENDER_OUT_OF_RANGE' });
  });

  it('is hot, empty or low pressure, or where the dial itself marks danger', () => {
    const wanted = (quantity: JobState['gauge']['quantity'], zones: JobState['gauge']['zones'] = []) => {
      const { state } = new Job();
      return missingWords('dangerous-end', { ...state, gauge: { ...state.gauge, quantity, zones } }, plain);
    };
    expect(wanted('temperature')).toMatch(/hot end .* at 120 degC: nobody overheats an engine/);
    expect(wanted('temperature', [{ fromReading: 110, toReading: 120, meaning: 'danger' }])).toMatch(
      /at 110 degC/,
    );
    expect(wanted('fuel')).toMatch(/empty end .* at 50 degC: nobody runs a tank dry/);
    expect(wanted('pressure')).toMatch(/low-pressure end .*: nobody lowers an oil pressure/);
  });

  it('comes with what can hurt at each step, and who comes before this program', () => {
    for (const quantity of ['temperature', 'fuel', 'pressure', 'other'] as const)
      for (const method of ['run', 'substituted'] as const) {
        const said = proofCautions({ quantity, mechanism: 'thermal' }, method).join(' ');
        expect(said).toMatch(/maker\u2019s manual, local codes and licensed trades/);
        expect(said).not.toMatch(quantity === 'temperature' ? /tank|oil/ : /coolant/);
      }
  });
});

describe('the decision rule', () => {
  // ILAC-G8:09/2019 4.2.3, non-binary with guard band w = U: of a limit of 4 and U = 3, within up to 1, outside from 7.
  it.each([
    [0.99, 'within'],
    [1.01, 'cannot-tell'],
    [4, 'cannot-tell'],
    [6.99, 'cannot-tell'],
    [7.01, 'outside'],
  ] as const)('calls an error of %d against 4, known to 3, %s', (error, verdict) => {
    for (const signed of [error, -error])
      expect(verdictOn({ error: signed, expandedUncertainty: 3 }, 4)).toBe(verdict);
  });

  // ILAC-G8:09/2019: false acceptance at the edge of acceptance, 50 % without a guard band, 4.9 % with 0.83 U, 2.3 % with U.
  it.each([
    [0, 0.5],
    [0.83, 0.049],
    [1, 0.023],
  ])('lets through with a guard band of %d U no more than %d at its edge', (guard, risk) => {
    const error = 4 - guard * 3;
    expect(
      1 - conformanceProbability({ error, expandedUncertainty: 3 }, { lower: -4, upper: 4 }),
    ).toBeCloseTo(risk, 3);
  });

  /** A limit on one side only: the other lies far away. */
  const belowLimit = (value: number, standard: number, limit: number): number =>
    conformanceProbability(
      { error: value - (limit - 1000), expandedUncertainty: 2 * standard },
      { lower: -1000, upper: 1000 },
    );

  // Worked examples of JCGM 106:2012; its figures from memory, recomputed here through the normal distribution.
  it('gives the conformance probabilities of the worked examples', () => {
    expect(belowLimit(-5.47, 0.05, -5.4)).toBeCloseTo(0.919, 3);
    expect(1 - belowLimit(106.6, 0.02 * 106.6, 100)).toBeCloseTo(0.999, 3);
    for (const [probability, z] of [
      [0.8, 0.84],
      [0.9, 1.28],
      [0.95, 1.64],
      [0.99, 2.33],
      [0.999, 3.09],
    ] as const)
      expect(belowLimit(-z, 1, 0)).toBeCloseTo(probability, 2);
  });

  it('says nothing good of a number that is none', () => {
    expect(verdictOn({ error: NaN, expandedUncertainty: 1 }, 4)).toBe('cannot-tell');
    expect(conformanceProbability({ error: NaN, expandedUncertainty: 0 }, { lower: -4, upper: 4 })).toBe(0);
  });
});
