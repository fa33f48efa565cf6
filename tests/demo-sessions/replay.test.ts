import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import { foldJob, scaleOf, type JobState } from '../../host/job';
import { curveFinding, trimFinding } from '../../host/server/findings/findings';
import { tasksOf } from '../../host/server/findings/tasks';
import { parseJournal } from '../../host/store';
import { commandLine, type Files } from '../support/command-line';

const root = fileURLToPath(new URL('../../demo-sessions/', import.meta.url));
const fileOf = (...path: string[]): string => readFileSync(join(root, ...path), 'utf8');
const folders = readdirSync(root, { withFileTypes: true })
  .filter((entry) => entry.isDirectory())
  .map(({ name }) => name);
const jobs = folders.filter((name) => readdirSync(join(root, name)).includes('job.ndjson'));

function stateOf(folder: string): JobState {
  const journal = parseJournal(readFileSync(join(root, folder, 'job.ndjson')), `${folder}/job.ndjson`);
  if (journal.kind === 'refused') throw new Error(journal.message);
  expect(journal.cutTail).toBeUndefined();
  const state = foldJob(journal.events);
  if (state === undefined) throw new Error(`${folder}: not a job`);
  return state;
}

const Recommendation = z.looseObject({
  unit: z.string(),
  from: z.number(),
  to: z.number(),
  recommended: z.number(),
  candidates: z.array(
    z.looseObject({
      topology: z.string(),
      parts: z.array(z.looseObject({ place: z.string(), resistance_ohm: z.number() })),
      worst_error: z.number(),
      rms_error: z.number(),
      keeps_rule: z.boolean(),
    }),
  ),
});
type Recommendation = z.infer<typeof Recommendation>;

const recommendedOf = (document: Recommendation) => document.candidates[document.recommended];
const networkOf = (document: Recommendation) => {
  const best = recommendedOf(document);
  return { topology: best?.topology, parts: best?.parts.map(({ place, resistance_ohm: ohm }) => [place, ohm]) };
};
/** Digits beyond these may move when a search or a fit is improved; the parts and what they leave may not. */
const ERROR_DIGITS = 1;

async function sameRecommendation(argv: readonly string[], files: Files, stored: string): Promise<void> {
  const ran = await commandLine(argv, files);
  expect(ran.code, ran.err).toBe(0);
  const [now, then] = [Recommendation.parse(ran.json()), Recommendation.parse(JSON.parse(stored))];
  expect(networkOf(now)).toEqual(networkOf(then));
  expect(recommendedOf(now)?.worst_error).toBeCloseTo(recommendedOf(then)?.worst_error ?? 0, ERROR_DIGITS);
  expect(now.unit).toBe(then.unit);
}

/** The command line that a folder's README says its recommendation was made with. */
function commandOf(folder: string): string[] {
  const line = fileOf(folder, 'README.md').match(/needlewright (trim [^`\n]+)/)?.[1];
  if (line === undefined) throw new Error(`${folder}/README.md names no trim command`);
  return [...line.trim().split(/\s+/).filter((word) => word !== '--json'), '--json'];
}

describe('the demo sessions', () => {
  it('are the three that the README names, each with a line of its own', () => {
    expect(folders.sort()).toEqual(['harrow-six-coolant', 'ntc-table-sender', 'tern-1100-fuel']);
    expect(jobs).toHaveLength(2);
    for (const folder of folders) {
      expect(fileOf('README.md')).toContain(`(${folder}/README.md)`);
      expect(fileOf(folder, 'README.md')).toMatch(/^What it shows: /m);
    }
  });

  it('say SIMULATED wherever a simulated box or gauge had a part in them', () => {
    for (const folder of folders) expect(fileOf(folder, 'README.md')).toContain('SIMULATED');
    for (const folder of jobs) expect(stateOf(folder).simulated).toBe(true);
    for (const folder of folders) expect(fileOf(folder, 'recommendation.json')).toContain('SIMULATED');
  });
});

describe.each(jobs)('the job %s, folded again from its journal', (folder) => {
  it('is complete: as found, checked, swept both ways, sender measured, network chosen', () => {
    const state = stateOf(folder);
    expect(state.asFound.length).toBeGreaterThan(0);
    expect(state.conclusion?.finding).toBe('sender-suspect');
    expect(state.sweeps.map(({ status }) => status)).toEqual([{ kind: 'finished', complete: true }]);
    expect(new Set(state.readings.map(({ leg }) => leg))).toEqual(new Set(['up', 'down']));
    expect(state.readings.length).toBeGreaterThanOrEqual(11);
    expect(state.senderPoints.length).toBeGreaterThanOrEqual(5);
    expect(state.trimChosen?.parts.length).toBeGreaterThan(0);
    expect(state.trips).toEqual([]);
  });

  it('has a reading for each step and the resistance that the box made within its uncertainty of what it measured', () => {
    const state = stateOf(folder);
    for (const { resistanceOhm, uncertaintyOhm, measuredOhm } of state.readings) {
      expect(Math.abs(resistanceOhm - (measuredOhm ?? NaN))).toBeLessThan(5 * uncertaintyOhm + 0.005 * resistanceOhm);
    }
    for (const step of state.sweeps[0]?.steps ?? []) expect(step.state.kind).toBe('read');
  });

  it('gives the same curve residuals for every reading, none of them wild', () => {
    const state = stateOf(folder);
    const { curve: task } = tasksOf(state);
    if (task === undefined) throw new Error('no readings');
    const { curve } = curveFinding(task);
    if (curve.kind === 'refused') throw new Error(curve.code);
    const { span } = scaleOf(task.gauge.marks);
    for (const point of curve.points) expect(Math.abs(point.residual)).toBeLessThan(0.06 * span);
  });

  it('leads to the network that was chosen, which leaves less than half the error of none', () => {
    const state = stateOf(folder);
    const { trim: task } = tasksOf(state);
    if (task === undefined || state.trimChosen === undefined) throw new Error('no trim in the job');
    const { trimmed } = trimFinding(task);
    if (trimmed.kind === 'refused') throw new Error(trimmed.code);
    const best = trimmed.candidates[trimmed.recommended];
    const chosen = state.trimChosen;
    expect(best?.topology).toBe(chosen.topology);
    expect(best?.parts.map(({ resistanceOhm }) => resistanceOhm)).toEqual(chosen.parts.map(({ resistanceOhm }) => resistanceOhm));
    expect(best?.worstError).toBeCloseTo(chosen.worstError, ERROR_DIGITS);
    const bare = trimmed.candidates.find(({ topology }) => topology === 'none');
    expect(best?.worstError).toBeLessThan((bare?.worstError ?? 0) / 2);
    expect(best?.keepsRule).toBe(true);
  });

  it('fits the same curve again from what `curve --json` wrote: dial, step and mechanism are in it', async () => {
    const Curve = z.looseObject({ mechanism: z.string(), predict: z.array(z.unknown()), law: z.unknown() });
    const ask = async (file: string, content: string) => {
      const ran = await commandLine(['curve', file, '--at', '60,80', '--json'], { [file]: content });
      return { text: ran.out, document: Curve.parse(ran.json()) };
    };
    const first = await ask('job.ndjson', fileOf(folder, 'job.ndjson'));
    const second = await ask('curve.json', first.text);
    expect(first.document.predict).toHaveLength(2);
    expect(second.document.predict).toEqual(first.document.predict);
    expect(second.document.law).toEqual(first.document.law);
    expect(second.document.mechanism).toBe(first.document.mechanism);
  });

  it('answers the command of its README as the stored recommendation does', async () => {
    const files = { 'job.ndjson': fileOf(folder, 'job.ndjson') };
    await sameRecommendation(commandOf(folder), files, fileOf(folder, 'recommendation.json'));
  });
});

describe('the sender from a published table', () => {
  const vector = z
    .object({ t_degC: z.array(z.number()), ratio_R_over_R25: z.array(z.number()), published_beta_K: z.object({ beta_25_85: z.number() }), source: z.object({ published: z.string() }) })
    .parse(JSON.parse(readFileSync(new URL('../vectors/thermistor-ntc-ratio-table.json', import.meta.url), 'utf8')));
  const rows = fileOf('ntc-table-sender', 'sender.csv')
    .split('\n')
    .filter((line) => /^[\d.-]/.test(line))
    .map((line) => line.split(',').map(Number));

  it('holds the published ratios and names its source', () => {
    expect(rows.length).toBeGreaterThan(20);
    for (const [celsius, ohm] of rows) {
      const ratio = vector.ratio_R_over_R25[vector.t_degC.indexOf(celsius ?? NaN)];
      expect(ohm).toBeCloseTo((ratio ?? NaN) * 1000, 6);
    }
    expect(fileOf('ntc-table-sender', 'sender.csv')).toContain(vector.source.published);
  });

  it('is fitted to the Beta that its publisher states, within 0.5 %', async () => {
    const ran = await commandLine(['sender', 'sender.csv', '--model', 'steinhart-hart', '--json'], {
      'sender.csv': fileOf('ntc-table-sender', 'sender.csv'),
    });
    const found = z.looseObject({ beta_25_85_K: z.number() }).parse(ran.json());
    const published = vector.published_beta_K.beta_25_85;
    expect(Math.abs(found.beta_25_85_K - published)).toBeLessThan(0.005 * published);
    const stored = z.looseObject({ beta_25_85_K: z.number() }).parse(JSON.parse(fileOf('ntc-table-sender', 'sender.json')));
    expect(found.beta_25_85_K).toBeCloseTo(stored.beta_25_85_K, 3);
  });

  it('leads to the stored recommendation on the gauge of the coolant job', async () => {
    const files = {
      '../harrow-six-coolant/job.ndjson': fileOf('harrow-six-coolant', 'job.ndjson'),
      'sender.json': fileOf('ntc-table-sender', 'sender.json'),
    };
    await sameRecommendation(commandOf('ntc-table-sender'), files, fileOf('ntc-table-sender', 'recommendation.json'));
  });
});
