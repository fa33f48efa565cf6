import { describe, expect, it } from 'vitest';
import { factorFound } from '../../host/core/at-work';
import { fitCurve, gaugeResponse } from '../../host/core/curve';
import { matchSenders, trim } from '../../host/core/network';
import { gaugeTable } from '../../host/core/network/search/gauge-table';
import type { Form, Parts } from '../../host/core/network/search/search';
import { forms, searchForm } from '../../host/core/network/search/search';
import type { TrimQuestion } from '../../host/core/network/search/trim-question';
import { trimQuestionOf } from '../../host/core/network/search/trim-question';
import { searchAll } from '../../host/core/network/trim';
import type { TrimOptions } from '../../host/core/network';
import { randomSource } from '../../host/core/numeric/random';
import type { GaugeResponse, SenderResponse } from '../../host/core/response';
import { bruteForceBest } from '../core/network/brute-force';
import { thermalTemperature, thermistor } from '../core/network/curves';
import { addRow, medianMs } from './table';

const part = 'network';
const band = { from: 45, to: 115, gaugeOhm: 58, terminals: 2 } as const;

/** A fitted curve, as a person's sweep gives it: its needle costs more to compute than a formula's. */
const fittedGauge = (): GaugeResponse => {
  const readings = [30, 36, 45, 60, 80, 110, 150, 210, 300, 450].flatMap((resistanceOhm) =>
    (['up', 'down'] as const).map((leg) => ({
      resistanceOhm,
      leg,
      reading: Math.round(thermalTemperature.reading(resistanceOhm) * 2 + (leg === 'up' ? -0.5 : 0.5)) / 2,
    })),
  );
  const curve = fitCurve(readings, { quantity: 'temperature', unit: 'degC' });
  if (curve.kind === 'refused') throw new Error(curve.code);
  return gaugeResponse(curve);
};

const questionFor = (gauge: GaugeResponse, sender: SenderResponse, options: TrimOptions): TrimQuestion => {
  const table = gaugeTable(gauge);
  if (table.kind === 'refused') throw new Error(table.code);
  const question = trimQuestionOf(table, sender, options);
  if (question.kind === 'refused') throw new Error(question.code);
  return question;
};

const gauges = { formula: thermalTemperature, fitted: fittedGauge() };
const sender = thermistor(760, 3800);

describe('exact search, one sender, 1 ohm to 10 kohm', () => {
  const goals = { E24: { 2: '10 ms', 3: '150 ms' }, E96: { 2: '100 ms', 3: '5 s' } } as const;
  const cases = (['E24', 'E96'] as const).flatMap((series) =>
    ([2, 3] as const).flatMap((maxParts) =>
      (['formula', 'fitted'] as const).map((gauge) => ({ series, maxParts, gauge })),
    ),
  );
  it.each(cases)('$series, up to $maxParts parts, $gauge gauge', ({ series, maxParts, gauge }) => {
    const options = { ...band, series, maxParts };
    const rounds = series === 'E96' && maxParts === 3 ? 7 : 31;
    // Sampling the gauge and the sender is part of the time.
    const ms = medianMs(rounds, () => searchAll(questionFor(gauges[gauge], sender, options), 2));
    const results = searchAll(questionFor(gauges[gauge], sender, options), 2);
    const combinations = results.reduce((sum, result) => sum + result.combinations, 0);
    const evaluated = results.reduce((sum, result) => sum + result.evaluated, 0);
    addRow({
      part,
      what: `${series}, all topologies up to ${maxParts} resistors, ${gauge} gauge (${combinations} networks, ${evaluated} computed)`,
      measured: `${ms.toFixed(1)} ms`,
      goal: goals[series][maxParts],
    });
  });

  it.each(['formula', 'fitted'] as const)(
    'with a sender that heats itself, E24, up to 3 parts, %s gauge',
    (gauge) => {
      const dissipation = factorFound(0.04, undefined, 'typed');
      const options = { ...band, maxParts: 3, supplyVolt: 10, dissipation } as const;
      const ms = medianMs(11, () => searchAll(questionFor(gauges[gauge], sender, options), 2));
      const evaluated = searchAll(questionFor(gauges[gauge], sender, options), 2).reduce(
        (sum, result) => sum + result.evaluated,
        0,
      );
      addRow({
        part,
        what: `E24, all topologies up to 3 resistors, heated sender, ${gauge} gauge (${evaluated} computed)`,
        measured: `${ms.toFixed(1)} ms`,
        goal: '100 ms',
      });
    },
  );

  it('a whole trim with its report', () => {
    const ms = medianMs(11, () => trim(gauges.fitted, sender, { ...band, maxParts: 2 }));
    addRow({
      part,
      what: 'trim, E24, two resistors, fitted gauge, whole report of every candidate',
      measured: `${ms.toFixed(0)} ms`,
    });
  });
});

describe('brute force', () => {
  const timed = (
    form: Form,
    question: TrimQuestion,
    parts: Parts,
  ): { readonly speedUp: number; readonly equal: boolean } => {
    const searchMs = medianMs(11, () => searchForm(question.problem, form, parts, 1));
    const started = performance.now();
    const brute = bruteForceBest(question.problem, form, parts);
    const bruteMs = performance.now() - started;
    const best = searchForm(question.problem, form, parts, 1).found[0];
    return { speedUp: bruteMs / searchMs, equal: best?.score === brute.score };
  };

  it.each(forms.filter((form) => form.partCount > 1))('is slower and agrees: $topology', (form) => {
    const question = questionFor(thermalTemperature, sender, {
      ...band,
      series: form.partCount > 2 ? 'E24' : 'E96',
      maxParts: 3,
    });
    const { speedUp, equal } = timed(form, question, question.parts);
    expect(equal).toBe(true);
    addRow({
      part,
      what: `${form.topology} against brute force over the same ${question.parts.values.length ** form.partCount} networks`,
      measured: `${speedUp.toFixed(0)} times as fast, same best score`,
    });
  });
});

describe('match', () => {
  const random = randomSource(5);
  const senders = Array.from({ length: 1000 }, () =>
    thermistor(300 + 1700 * random.uniform(), 3300 + 1200 * random.uniform()),
  );
  it.each([10, 100, 1000])('ranks %i senders', (count) => {
    for (const [name, gauge] of Object.entries(gauges)) {
      const ms = medianMs(count === 1000 ? 1 : 3, () =>
        matchSenders(gauge, senders.slice(0, count), { from: 45, to: 115 }),
      );
      addRow({
        part,
        what: `match ${count} senders, two-resistor E24 networks, ${name} gauge`,
        measured: `${ms.toFixed(0)} ms (${(ms / count).toFixed(2)} ms each)`,
        ...(count === 1000 ? { goal: '10 s' } : {}),
      });
    }
  });
});
