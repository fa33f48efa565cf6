import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { bankOf } from '../../host/core/catalogue/bank';
import { ohmAxis } from '../../host/core/catalogue/columns';
import { identifyModel } from '../../host/core/catalogue/identify-model';
import { randomSource } from '../../host/core/numeric/random';
import { documentText, type Card } from '../../host/catalogue';
import { readLines } from '../../host/store/catalogue/import';
import { Keeper } from '../../host/store/catalogue/keeper';
import { openSqlite } from '../../host/store/catalogue/sqlite';
import { answered } from '../support/answer';
import { anyMaker, measured, readBy, specimenOf, threeOhms } from '../support/catalogue/gauge-world';
import { askMany, falseClearShare, firstShare, rightBetween } from '../support/catalogue/questions';
import { addRow, medianOf, workedMs } from './table';

const part = 'catalogue';
/** Nothing was tuned on the shops of this one. */
const CALIBRATION_SEED = 30_111_859;
const percent = (share: number): string => `${(100 * share).toFixed(1)} %`;

describe('speed', () => {
  it.each([1_000, 10_000, 100_000])('of finding among %i cards', (count) => {
    const random = randomSource(1);
    const makers = Array.from({ length: 500 }, () => anyMaker(random));
    const candidates = Array.from({ length: count }, (_, i) => {
      const maker = makers[i % makers.length]!;
      return { id: String(i), specimens: [measured(specimenOf(maker, random, 0.02), maker, random)] };
    });
    const startMs = workedMs();
    const bank = bankOf(candidates, { kind: 'gauge', axis: ohmAxis, usual: 0.02 });
    const builtMs = workedMs() - startMs;
    const times: number[] = [];
    for (let question = 0; question < 41; question += 1) {
      const maker = makers[Math.floor(random.uniform() * makers.length)]!;
      const points = threeOhms(maker, random).map((ohm) =>
        readBy(specimenOf(maker, random, 0.02), ohm, random),
      );
      const askedMs = workedMs();
      answered(identifyModel(points, bank, { unit: '%', nonePrior: 0.5, leastOhm: 2 }));
      times.push(workedMs() - askedMs);
    }
    const p95 = [...times].sort((one, other) => one - other)[Math.floor(0.95 * times.length)] ?? 0;
    addRow({
      part,
      what: `three readings against ${count} cards without a model, next reading included; bank built once (work, not waiting)`,
      measured: `${medianOf(times).toFixed(0)} ms, p95 ${p95.toFixed(0)} ms; ${builtMs.toFixed(0)} ms`,
      goal: count === 100_000 ? 'p95 under 200 ms' : '',
    });
    expect(times).toHaveLength(41);
  });

  it.each([1_000, 10_000, 100_000])('of importing %i cards', async (count) => {
    const folder = mkdtempSync(join(tmpdir(), 'catalogue-'));
    const keeper = new Keeper(await openSqlite(join(folder, 'a.sqlite')));
    const lines = Array.from({ length: count }, (_, i) => `${documentText(cardOf(i))}\n`);
    const bytes = new TextEncoder().encode(lines.join(''));
    const [startMs, workMs] = [performance.now(), workedMs()];
    const { documents, leftOut } = readLines(bytes);
    keeper.add(documents, '2030-01-01T00:00:00Z');
    const [passedMs, work] = [performance.now() - startMs, workedMs() - workMs];
    expect([documents.length, leftOut.length]).toEqual([count, 0]);
    keeper.close();
    rmSync(folder, { recursive: true, force: true });
    const aSecond = (ms: number): string => Math.round((1_000 * count) / ms).toLocaleString('en');
    addRow({
      part,
      what: `${count} cards of ${Math.round(bytes.length / count)} bytes read, checked, hashed and kept in one import, flushed; with waiting`,
      measured: `${aSecond(work)} a second; ${aSecond(passedMs)}`,
      goal: '5,000 a second',
    });
  });
});

const cardOf = (index: number): Card => ({
  ...{ schema: 'needlewright/card/1', kind: 'gauge', quantity: 'fuel', unit: '%', licence: 'private' },
  ...{ description: `part ${index}`, simulated: false },
  points: Array.from({ length: 12 }, (_, k) => ({
    ...{ resistance_ohm: 10 + 20 * k + index / 1_000, reading: 8 * k, leg: k % 2 === 0 ? 'up' : 'down' },
    ...{ u_ohm: 0.05, waited_s: 60, method: 'step' },
  })),
});

describe('being right', () => {
  it.each([
    [12, 2_000],
    [100, 2_000],
    [1_000, 400],
  ])('among %i models', (models, questions) => {
    const { three, four } = askMany(models, questions, CALIBRATION_SEED);
    addRow({
      part,
      what: `${models} models, ${questions} questions, half of them unknown: right one first after three, after the advised fourth`,
      measured: `${percent(firstShare(three))}, ${percent(firstShare(four))}`,
      goal: '90 % after the fourth',
    });
    addRow({
      part,
      what: `${models} models: a clear name for an unknown gauge after three, after the fourth`,
      measured: `${percent(falseClearShare(three))}, ${percent(falseClearShare(four))}`,
      goal: 'at most 5 %, 2 %',
    });
    const bins = [
      [0.5, 0.7],
      [0.7, 0.8],
      [0.8, 0.9],
      [0.9, 1.01],
    ] as const;
    addRow({
      part,
      what: `${models} models: of what was said with 50-70, 70-80, 80-90, 90-100 %, so much was right (after the fourth)`,
      measured: bins
        .map(([from, to]) => rightBetween(four, from, to))
        .map(({ right, said }) => `${(100 * right).toFixed(0)} % of ${said}`)
        .join(', '),
      goal: '80-90: 75 to 95 %',
    });
    expect(four).toHaveLength(questions);
  });
});
