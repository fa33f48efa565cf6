import { describe, expect, it } from 'vitest';
import vectors from '../../vectors/circuit.json';
import { stabiliserFor, twoCoilOffsetOhm, twoTerminalOffsetOhm } from '../../../host/core/circuit';
import { answered } from '../../support/answer';

const { stabiliser, ground_offset } = vectors;

const outputFor = (effectiveVolt: number, batteryVolt: number) =>
  answered(stabiliserFor(effectiveVolt, batteryVolt));

describe('a chopping stabiliser', () => {
  it.each(stabiliser.cases)('needs duty $duty for 10 V of heat from $battery_volt V', (row) => {
    const output = outputFor(stabiliser.effective_volt, row.battery_volt);
    expect(output.dutyFraction).toBeCloseTo(row.duty, 2);
    expect(output.averageVolt).toBeCloseTo(row.average_volt, 1);
    expect(output.effectiveVolt).toBeCloseTo(stabiliser.effective_volt, 12);
  });

  it('averages 7.0 V at half duty on 14 V, but heats like 9.9 V', () => {
    const { average_volt, effective_volt } = stabiliser.half_duty_on_14_volt;
    const output = outputFor(14 * Math.SQRT1_2, 14);
    expect(output.dutyFraction).toBeCloseTo(0.5, 12);
    expect(output.averageVolt).toBeCloseTo(average_volt, 9);
    expect(output.effectiveVolt).toBeCloseTo(effective_volt, 1);
  });

  it('of "5 V" is two different things: as heat it averages 2.0 V, as an average it heats like 7.9 V', () => {
    const { battery_volt, as_heat_average_volt, as_average_heat_volt } = stabiliser.five_volt;
    expect(outputFor(5, battery_volt).averageVolt).toBeCloseTo(as_heat_average_volt, 1);
    expect(outputFor(as_average_heat_volt, battery_volt).averageVolt).toBeCloseTo(5, 1);
  });

  it.each(stabiliser.stuck_closed)(
    'stuck closed gives $heat_ratio times the heat of $effective_volt V',
    (row) => {
      const { stuckClosedHeatRatio } = outputFor(row.effective_volt, row.battery_volt);
      expect(stuckClosedHeatRatio).toBeCloseTo(row.heat_ratio, 1);
    },
  );

  it('cannot give more than the battery', () => {
    expect(outputFor(10, 9)).toMatchObject({ dutyFraction: 1, effectiveVolt: 9, averageVolt: 9 });
  });

  it.each([
    [0, 12],
    [10, 0],
    [0, 0],
    [-10, 12],
    [10, -12],
    [Number.NaN, 12],
    [10, Infinity],
  ])('of %d V on %d V is refused', (effectiveVolt, batteryVolt) => {
    expect(stabiliserFor(effectiveVolt, batteryVolt)).toMatchObject({ kind: 'refused', code: 'STABILISER' });
  });
});

describe('a lifted ground', () => {
  it.each(ground_offset.two_terminal)(
    'of $offset_volt V looks like $extra_ohm ohm more to a two-terminal gauge',
    (row) => {
      const found = twoTerminalOffsetOhm(row.offset_volt, {
        supplyVolt: row.supply_volt,
        gaugeOhm: row.gauge_ohm,
        senderOhm: row.sender_ohm,
      });
      expect(found.kind === 'ohm' && Math.abs(found.ohm / row.extra_ohm - 1)).toBeLessThan(0.03);
    },
  );

  const { coil_ohm, sender_ohm, supply_volt, cases } = ground_offset.two_coil;
  const circuit = {
    supplyVolt: supply_volt,
    limitingOhm: coil_ohm,
    operatingOhm: coil_ohm,
    senderOhm: sender_ohm,
  };

  it.each(cases)(
    'of $offset_volt V makes a two-coil gauge see $looks_like_ohm ohm',
    ({ offset_volt, looks_like_ohm }) => {
      const found = twoCoilOffsetOhm(offset_volt, circuit);
      expect(found.kind === 'ohm' && found.ohm).toBeCloseTo(looks_like_ohm, 1);
    },
  );

  it('on the sender’s side works the other way, and none changes nothing', () => {
    const lifted = twoCoilOffsetOhm(-0.3, circuit);
    expect(lifted.kind === 'ohm' && lifted.ohm).toBeGreaterThan(sender_ohm);
    const none = twoCoilOffsetOhm(0, circuit);
    expect(none.kind === 'ohm' && none.ohm).toBeCloseTo(sender_ohm, 9);
  });

  it('that leaves nothing to measure is refused', () => {
    expect(twoTerminalOffsetOhm(5, { supplyVolt: 5, gaugeOhm: 12, senderOhm: 10 })).toMatchObject({
      code: 'OFFSET',
    });
    expect(twoCoilOffsetOhm(20, circuit)).toMatchObject({ code: 'OFFSET' });
  });
});
