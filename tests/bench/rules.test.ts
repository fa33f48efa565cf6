import { describe, expect, it } from 'vitest';
import { jobLimits, type JobLimits } from '../../firmware-ts/guard/job-limits';
import { boxKindOf } from '../../host/bench/rules';
import { mechanism, quantity } from '../../host/job/schema/gauge';

const limitsOf = (gauge: Parameters<typeof boxKindOf>[0]): JobLimits => jobLimits[boxKindOf(gauge)];

const dial = {
  unit: '%',
  marks: [
    { label: 'E', reading: 0, angleFraction: 0 },
    { label: 'F', reading: 100, angleFraction: 1 },
  ],
};

/** Upper limits, and the floor turned round: smaller is stricter in all of them. */
const loosenessOf = (limits: JobLimits): readonly number[] => [
  limits.currentLimitMilliamp,
  limits.elementPowerLimitMilliwatt,
  limits.totalPowerLimitMilliwatt,
  limits.supplyLimitMillivolt,
  limits.floorTimeMs,
  limits.leaseMs,
  -limits.floorMilliohm,
];

describe('the kind of job the box is armed for', () => {
  it.each(mechanism.options)('lets a %s fuel gauge have no more current than a tank', (each) => {
    const { currentLimitMilliamp } = limitsOf({ ...dial, quantity: 'fuel', mechanism: each });
    expect(currentLimitMilliamp).toBeLessThanOrEqual(jobLimits.fuel.currentLimitMilliamp);
  });

  it.each(['thermal', 'unknown'] as const)(
    'holds a %s fuel gauge to the tank in every limit, or tighter',
    (each) => {
      const own = loosenessOf(limitsOf({ ...dial, quantity: 'fuel', mechanism: each }));
      const tank = loosenessOf(jobLimits.fuel);
      expect(own).toHaveLength(tank.length);
      for (const [index, looseness] of own.entries()) expect(looseness).toBeLessThanOrEqual(tank[index]!);
    },
  );

  it.each(quantity.options)(
    'stays unknown for a %s gauge of unknown mechanism: slowly, from above',
    (each) => {
      expect(boxKindOf({ ...dial, quantity: each, mechanism: 'unknown' })).toBe('unknown');
      expect(jobLimits.unknown.rampPermille).toBeGreaterThan(0);
    },
  );

  it('keeps a thermal gauge that is no fuel gauge at what its own circuit carries', () => {
    expect(boxKindOf({ ...dial, quantity: 'temperature', mechanism: 'thermal' })).toBe('thermal');
    expect(boxKindOf({ ...dial, quantity: 'fuel', mechanism: 'thermal' })).toBe('fuel');
  });
});
