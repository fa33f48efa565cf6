import type { GaugeResponse, Quantity, SenderResponse } from '../../../host/core/response';
import { heaterWatt, twoCoilAngleDegrees } from '../../support/gauge-laws';

type Dial = {
  readonly quantity: Quantity;
  readonly unit: string;
  readonly lowestReading: number;
  readonly highestReading: number;
  readonly fromOhm: number;
  readonly toOhm: number;
};

/** A gauge whose needle follows `deflection` of the resistance, scaled so that the dial's ends are at fromOhm and toOhm. */
export const gaugeFrom = (dial: Dial, deflection: (ohm: number) => number): GaugeResponse => {
  const first = deflection(dial.fromOhm);
  const last = deflection(dial.toOhm);
  const rises = dial.quantity !== 'temperature' ? dial.fromOhm < dial.toOhm : false;
  const atFrom = rises ? dial.lowestReading : dial.highestReading;
  const atTo = rises ? dial.highestReading : dial.lowestReading;
  const reading = (ohm: number): number => {
    const free = atFrom + ((atTo - atFrom) * (deflection(ohm) - first)) / (last - first);
    return Math.min(dial.highestReading, Math.max(dial.lowestReading, free));
  };
  return {
    ...dial,
    measuredFromOhm: dial.fromOhm,
    measuredToOhm: dial.toOhm,
    risesWithResistance: rises,
    plateaus: [],
    reading,
    readingUncertainty: () => 0.5,
  };
};

/** 10 V heat-equivalent, 58 ohm heater, falling resistance reads hot; scale linear in heat. Values invented. */
export const thermalTemperature: GaugeResponse = gaugeFrom(
  { quantity: 'temperature', unit: 'degC', lowestReading: 40, highestReading: 120, fromOhm: 30, toOhm: 450 },
  (ohm) => heaterWatt({ heaterOhm: 58, effectiveVolt: 10 }, ohm),
);

/** 90/90 ohm two-coil fuel gauge, 0 empty to 90 full. */
export const twoCoilFuel: GaugeResponse = gaugeFrom(
  { quantity: 'fuel', unit: '%', lowestReading: 0, highestReading: 100, fromOhm: 0, toOhm: 90 },
  (ohm) => twoCoilAngleDegrees({ limitingOhm: 90, operatingOhm: 90, turnsRatio: 1 }, ohm),
);

/** A gauge whose scale is straight in ohms between two values. */
export const linearGauge = (quantity: Quantity, fromOhm: number, toOhm: number): GaugeResponse =>
  gaugeFrom({ quantity, unit: '%', lowestReading: 0, highestReading: 100, fromOhm, toOhm }, (ohm) =>
    ohm === Infinity ? toOhm : Math.min(ohm, 1e9),
  );

/** Straight in ohms, more resistance reading lower: 240-33 families. */
export const fallingGauge = (quantity: Quantity, emptyOhm: number, fullOhm: number): GaugeResponse => ({
  ...linearGauge(quantity, fullOhm, emptyOhm),
  risesWithResistance: false,
  reading: (ohm) =>
    Math.min(100, Math.max(0, (100 * (emptyOhm - Math.min(ohm, 1e9))) / (emptyOhm - fullOhm))),
});

/** Falling staircase with a flat zone in the middle of the scale, as electronic gauges have. */
export const electronicTemperature: GaugeResponse = {
  ...thermalTemperature,
  measuredFromOhm: 10,
  measuredToOhm: 470,
  plateaus: [{ fromOhm: 70, toOhm: 110, reading: 90 }],
  reading: (ohm) => {
    const free = thermalTemperature.reading(ohm <= 70 ? ohm + 20 : Math.max(90, ohm - 20));
    return free;
  },
};

/** Beta thermistor: resistance at 25 degC and B in kelvin. */
export const thermistor = (ohmAt25: number, betaKelvin: number): SenderResponse => ({
  quantity: 'temperature',
  unit: 'degC',
  knownFrom: 20,
  knownTo: 130,
  ohm: (celsius) => ohmAt25 * Math.exp(betaKelvin * (1 / (celsius + 273.15) - 1 / 298.15)),
  value: (ohm) => 1 / (Math.log(ohm / ohmAt25) / betaKelvin + 1 / 298.15) - 273.15,
  relativeUncertainty: () => 0.02,
});

/** Straight sender from one resistance at 0 to another at 100 %. */
export const linearSender = (quantity: Quantity, emptyOhm: number, fullOhm: number): SenderResponse => ({
  quantity,
  unit: '%',
  knownFrom: 0,
  knownTo: 100,
  ohm: (value) => emptyOhm + ((fullOhm - emptyOhm) * value) / 100,
  value: (ohm) => (100 * (ohm - emptyOhm)) / (fullOhm - emptyOhm),
  relativeUncertainty: () => 0.01,
});
