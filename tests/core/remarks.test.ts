import { describe, expect, it } from 'vitest';
import { fitCurve, type CurveOptions, type GaugeReading } from '../../host/core/curve';
import { trim, type TrimOptions } from '../../host/core/network';
import type { GaugeResponse, SenderResponse } from '../../host/core/response';
import { fitSender, type SenderOptions, type SenderPoint } from '../../host/core/sender';
import { answered } from '../support/answer';
import { heaterWatt } from '../support/gauge-laws';
import { linearGauge, linearSender, thermalTemperature, thermistor } from './network/curves';

/**
 * When a remark is made, and when not: one cause a row, in a world made here (Ohm and Joule; invented gauges). `with` has
 * the cause, `without` is the same without it.
 */
const codesOf = (remarks: readonly { readonly code: string }[]): string[] => remarks.map(({ code }) => code);

const heat = (ohm: number): number =>
  40 + 1.5 * (heaterWatt({ heaterOhm: 58, effectiveVolt: 10 }, ohm) * 100);
const look = (value: number): number => Math.round(2 * value) / 2;
const TEN = [10, 15, 22, 33, 47, 68, 100, 150, 220, 330];

const rising = (ohms: readonly number[], world = heat): GaugeReading[] =>
  ohms.map((resistanceOhm) => ({ resistanceOhm, reading: look(world(resistanceOhm)), leg: 'up' }));
const bothLegs = (ohms: readonly number[], world = heat, half = 0.25): GaugeReading[] =>
  (['up', 'down'] as const).flatMap((leg) =>
    ohms.map((resistanceOhm) => ({
      resistanceOhm,
      reading: look(world(resistanceOhm) + (leg === 'up' ? -half : half)),
      leg,
    })),
  );
const resting = (ohm: number): number => (ohm > 30 && ohm < 160 ? heat(68) : heat(ohm));

/** Three settings bend to any law: of two legs 6 apart at one of them neither reading can be called the wrong one. */
const three = [300, 60, 20];
const oneApart = bothLegs(three).map((each) => ({
  ...each,
  reading: each.reading + (each.resistanceOhm !== 300 ? 0 : each.leg === 'up' ? -3 : 3),
}));

const curve = (readings: readonly GaugeReading[], options?: CurveOptions): string[] =>
  codesOf(answered(fitCurve(readings, options)).warnings);

describe('what a curve remarks', () => {
  it.each([
    ['CURVE_FEW_READINGS', curve(rising([15, 47, 150, 330])), curve(bothLegs(TEN))],
    ['CURVE_LAW_UNDECIDED', curve(rising([33, 47, 68])), curve(bothLegs(TEN))],
    [
      'CURVE_MARK_UNREACHED',
      curve(bothLegs(TEN), { marks: [100, 4000] }),
      curve(bothLegs(TEN), { marks: [100] }),
    ],
    ['CURVE_ONE_LEG', curve(rising(TEN)), curve(bothLegs(TEN))],
    ['CURVE_SETTING_DIFFERS', curve(oneApart), curve(bothLegs(three))],
    ['CURVE_PLATEAU', curve(bothLegs(TEN, resting)), curve(bothLegs(TEN))],
  ])('%s', (code, withCause, without) => {
    expect(withCause).toContain(code);
    expect(without).not.toContain(code);
  });
});

const sender = (points: readonly SenderPoint[], options: SenderOptions): string[] =>
  codesOf(answered(fitSender(points, options)).warnings);
const ntc = thermistor(700, 3900);
const bath = (celsius: readonly number[], factor: (value: number) => number = () => 1): SenderPoint[] =>
  celsius.map((value) => ({ value, resistanceOhm: ntc.ohm(value) * factor(value), valueUncertainty: 0.1 }));
const SIX = [20, 40, 60, 80, 100, 120];
const level = (...ohms: readonly number[]): SenderPoint[] =>
  ohms.map((resistanceOhm, i) => ({ value: (100 * i) / (ohms.length - 1), resistanceOhm }));

describe('what a fitted sender remarks', () => {
  const temperature = { unit: 'degC' } as const;
  it.each([
    // A law of one bend cannot follow a wave of 6 %.
    [
      'SENDER_MISFIT',
      sender(
        bath(SIX, (value) => 1 + 0.06 * Math.sin(value / 10)),
        { ...temperature, model: 'steinhart-hart' },
      ),
      sender(bath(SIX), { ...temperature, model: 'steinhart-hart' }),
    ],
    ['SENDER_SPAN_SHORT', sender(bath([60, 70, 80]), temperature), sender(bath([40, 70, 100]), temperature)],
    [
      'SENDER_STRAIGHT_ASSUMED',
      sender(level(10, 180), { unit: '%', model: 'linear' }),
      sender(level(10, 90, 180), { unit: '%', model: 'linear' }),
    ],
  ])('%s', (code, withCause, without) => {
    expect(withCause).toContain(code);
    expect(without).not.toContain(code);
  });
});

const trimCodes = (gauge: GaugeResponse, own: SenderResponse, options: TrimOptions = {}): string[] => {
  const answer = answered(trim(gauge, own, options));
  return [...codesOf(answer.remarks), ...answer.candidates.flatMap(({ warnings }) => codesOf(warnings))];
};
const only = (topology: 'series' | 'shunt' | 'gauge-shunt', resistanceOhm: number): TrimOptions => ({
  topologies: [topology],
  stock: [{ resistanceOhm }],
});
const hot = thermistor(700, 3900);
const fuelGauge = linearGauge('fuel', 0, 90);
const narrow: GaugeResponse = { ...thermalTemperature, measuredFromOhm: 60, measuredToOhm: 200 };
const acrossGauge = { gaugeOhm: 58, supplyVolt: 10, terminals: 2 } as const;

describe('what a trim remarks', () => {
  it.each([
    // A thermal gauge's own temperature moves it; measured, it is no assumption any more.
    [
      'DASH_ASSUMED',
      trimCodes(thermalTemperature, hot, { acceptableError: 90, mechanism: 'thermal' }),
      trimCodes(thermalTemperature, hot, { acceptableError: 90, mechanism: 'thermal', dashShift: 1 }),
    ],
    // A series resistor that opens reads cold whatever the engine does.
    [
      'DANGEROUS_FAILURE',
      trimCodes(thermalTemperature, hot, { ...only('series', 22), acceptableError: 90 }),
      trimCodes(fuelGauge, linearSender('fuel', 0, 90), { topologies: ['none'] }),
    ],
    [
      'GAUGE_SHUNT_LEFT_OUT',
      trimCodes(thermalTemperature, hot, { acceptableError: 90 }),
      trimCodes(thermalTemperature, hot, { acceptableError: 90, ...acrossGauge }),
    ],
    [
      'NETWORK_EXTRAPOLATED',
      trimCodes(narrow, hot, { acceptableError: 90, ...only('series', 22) }),
      trimCodes(thermalTemperature, hot, { acceptableError: 90, ...only('series', 22), from: 60, to: 110 }),
    ],
    [
      'SENDER_CURRENT_RISES',
      trimCodes(thermalTemperature, hot, {
        acceptableError: 90,
        ...acrossGauge,
        ...only('gauge-shunt', 220),
      }),
      trimCodes(thermalTemperature, hot, { acceptableError: 90, ...acrossGauge, ...only('series', 22) }),
    ],
    [
      'SHAPE_NOT_MET',
      trimCodes(fuelGauge, linearSender('fuel', 0, 120), { acceptableError: 12, ...only('shunt', 1000) }),
      trimCodes(fuelGauge, linearSender('fuel', 0, 90), { acceptableError: 5 }),
    ],
    [
      'TANK_SHUNTS_LEFT_OUT',
      trimCodes(fuelGauge, linearSender('fuel', 0, 180), { acceptableError: 90, ...acrossGauge }),
      trimCodes(thermalTemperature, hot, { acceptableError: 90, ...acrossGauge }),
    ],
  ])('%s', (code, withCause, without) => {
    expect(withCause).toContain(code);
    expect(without).not.toContain(code);
  });
});
