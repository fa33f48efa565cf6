import { placeOf, readingOf } from '../../dial';
import type { GaugeResponse } from '../../response';
import { lawReading } from '../laws/law-model';
import type { SupplyLaw } from '../readings/at-volts';
import { modelReading } from './evaluate';
import type { CurveModel, GaugeCurve } from '../types';
import { standardAt } from './uncertainty';

/** A curve in the form networks are designed against. Source: `needleAt` and `standardAt`. */
export const gaugeResponse = (curve: GaugeCurve): GaugeResponse => {
  const readingAtFeed = atFeed(curve);
  return {
    quantity: curve.quantity,
    unit: curve.unit,
    measuredFromOhm: curve.model.measuredFromOhm,
    measuredToOhm: curve.model.measuredToOhm,
    lowestReading: readingOf(curve.model.dial, curve.model.lowestReading),
    highestReading: readingOf(curve.model.dial, curve.model.highestReading),
    ...(curve.model.dial === undefined ? {} : { marks: curve.model.dial.marks }),
    risesWithResistance: curve.model.risesWithResistance,
    plateaus: curve.plateaus,
    reading: (resistanceOhm) => modelReading(curve.model, resistanceOhm),
    ...(readingAtFeed === undefined ? {} : { readingAtFeed }),
    readingUncertainty: (resistanceOhm) =>
      standardAt(
        curve.model,
        Math.min(Math.max(resistanceOhm, curve.model.measuredFromOhm / 2), curve.model.measuredToOhm * 2),
      ),
  };
};

/** As good as an open circuit: its current moves no needle. */
const OPEN_RATIO = 1e6;

/** A gauge of two terminals whose needle follows heat or current rests where its law goes without any. */
const lawOfMechanism = ({ mechanism, chosen, measuredToOhm }: CurveModel): SupplyLaw | undefined => {
  const isOwn =
    chosen.form === 'shape' &&
    ((mechanism === 'thermal' && chosen.name === 'thermal') ||
      (mechanism === 'moving-coil' && chosen.name === 'ratio'));
  if (!isOwn) return undefined;
  return {
    exponent: mechanism === 'thermal' ? 2 : 1,
    noCurrentPlace: lawReading(chosen, measuredToOhm * OPEN_RATIO),
  };
};

/** As the noted volts showed it, or by the mechanism that somebody named. */
const supplyLawOf = ({ supply, model }: GaugeCurve): SupplyLaw | undefined => {
  if (supply === undefined) return lawOfMechanism(model);
  return supply.noCurrentReading === undefined
    ? undefined
    : { exponent: supply.exponent, noCurrentPlace: placeOf(model.dial, supply.noCurrentReading) };
};

/**
 * The needle at other volts: its deflection from where it rests without current goes with volts to a power; the stops
 * hold it. Undefined where flat stretches show that a program moves it, and where no law of volts is known.
 * Source: trade notes 1.1 (heat, power 2) and 1.4 (current, power 1).
 */
const atFeed = (curve: GaugeCurve): GaugeResponse['readingAtFeed'] => {
  const { model } = curve;
  const law = supplyLawOf(curve);
  if (law === undefined || model.plateaus.length > 0) return undefined;
  const { exponent, noCurrentPlace } = law;
  return (resistanceOhm, voltRatio) => {
    const ohm = Math.min(resistanceOhm, model.measuredToOhm * OPEN_RATIO);
    const free = noCurrentPlace + (lawReading(model.chosen, ohm) - noCurrentPlace) * voltRatio ** exponent;
    return readingOf(model.dial, Math.min(Math.max(free, model.lowestReading), model.highestReading));
  };
};
