import { readingOf } from '../../dial';
import type { GaugeResponse } from '../../response';
import { modelReading } from './evaluate';
import type { GaugeCurve } from '../types';
import { standardAt } from './uncertainty';

/** A curve in the form networks are designed against. Source: `needleAt` and `standardAt`. */
export const gaugeResponse = (curve: GaugeCurve): GaugeResponse => ({
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
  readingUncertainty: (resistanceOhm) =>
    standardAt(
      curve.model,
      Math.min(Math.max(resistanceOhm, curve.model.measuredFromOhm / 2), curve.model.measuredToOhm * 2),
    ),
});
