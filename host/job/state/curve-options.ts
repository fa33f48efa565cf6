import type { CurveOptions } from '../../core/curve';
import { dialFromMarks } from '../../core/dial';
import type { Gauge } from '../schema/gauge';
import { scaleOf } from '../schema/scale';

/**
 * How the curve of a job's gauge is fitted: on the arc of its dial, read to half a division. One place for page, command
 * and bench, so that they cannot tell different uncertainties.
 */
export const curveOptionsOf = (gauge: Gauge): CurveOptions => {
  const { lowest, highest } = scaleOf(gauge.marks);
  const dial = dialFromMarks(gauge.marks);
  return {
    quantity: gauge.quantity,
    unit: gauge.unit,
    mechanism: gauge.mechanism,
    scale: { lowest, highest },
    marks: gauge.marks.map((mark) => mark.reading),
    // A dial that cannot be drawn is read all the same: its curve is then one of readings.
    ...('code' in dial ? {} : { dial }),
    ...(gauge.divisionReading === undefined ? {} : { readingStep: gauge.divisionReading / 2 }),
  };
};
