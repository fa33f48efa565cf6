import { simulatedGauges } from './gauges/catalogue';
import type { SimulatedGauge } from './gauges/catalogue';

const SENDER_POINTS = 9;

const rounded = (value: number): number => Math.round(value * 1000) / 1000;

function senderPoints(gauge: SimulatedGauge, law: SimulatedGauge['originalSender']) {
  const first = gauge.marks[0]!.reading;
  const last = gauge.marks[gauge.marks.length - 1]!.reading;
  return Array.from({ length: SENDER_POINTS }, (_, index) => {
    const value = rounded(first + ((last - first) * index) / (SENDER_POINTS - 1));
    return { value, ohm: rounded(law(value)) };
  });
}

/** One gauge as plain data: what `--describe` prints, so that a host can offer it without knowing the firmware. */
export function describeGauge(gauge: SimulatedGauge) {
  const originalSender = senderPoints(gauge, gauge.originalSender);
  const ohms = originalSender.map(({ ohm }) => ohm);
  return {
    name: gauge.name,
    title: gauge.title,
    quantity: gauge.quantity,
    unit: gauge.unit,
    mechanism: gauge.mechanism.kind,
    terminals: gauge.terminals,
    marks: gauge.marks,
    senderRangeOhm: { from: Math.min(...ohms), to: Math.max(...ohms) },
    originalSender,
    /** A sender that was fitted later and reads wrong. */
    replacementSender: senderPoints(gauge, gauge.replacementSender),
  };
}

export type DescribedGauge = ReturnType<typeof describeGauge>;

export const describeGauges = (): DescribedGauge[] => simulatedGauges.map(describeGauge);
