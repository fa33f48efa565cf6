import type { CircuitRefusals } from '../../core/circuit/refusals';
import type { DialRefusals } from '../../core/dial/refusals';
import type { IdentifyRefusals } from '../../core/identify/refusals';
import type { LadderRefusals } from '../../core/ladder/refusals';
import type { NumericRefusals } from '../../core/numeric/refusals';
import type { PlanRefusals } from '../../core/plan/refusals';
import type { WaterRefusals } from '../../core/water/refusals';
import { listed, type RefusalWords } from '../sentence';

type Words<Refusals> = { readonly [Code in keyof Refusals]: RefusalWords<Refusals[Code]> };

export const dialRefusals: Words<DialRefusals> = {
  DIAL_TOO_FEW: {
    says: ({ markCount }) => `The dial has ${markCount} ${markCount === 1 ? 'mark' : 'marks'}.`,
    remedy: 'Give two or more.',
  },
  DIAL_BAD_NUMBER: {
    says: ({ label, reading, angleFraction }) =>
      `Mark "${label}" has the reading ${reading} at ${angleFraction} of the arc.`,
    remedy: 'Give a number, at 0 to 1 of the arc.',
  },
  DIAL_SAME_PLACE: {
    says: ({ oneLabel, otherLabel }) =>
      `Marks "${oneLabel}" and "${otherLabel}" share a place on the arc, or a reading.`,
    remedy: 'Move one of them.',
  },
  DIAL_NOT_MONOTONE: {
    says: ({ readings }, say) =>
      `The readings ${listed(readings.map((each) => say.number(each)))} turn back along the scale.`,
    remedy: 'Check the order of the marks.',
  },
};

export const planRefusals: Words<PlanRefusals> = {
  PLAN_RANGE: {
    says: ({ fromOhm, toOhm }) => `A sweep from ${fromOhm} to ${toOhm} ohm is no range.`,
    remedy: 'Give two different ends above 0 ohm.',
  },
  PLAN_COUNT: { says: ({ count }) => `A sweep of ${count} points is too short.`, remedy: 'Give 2 or more.' },
};

export const ladderRefusals: Words<LadderRefusals> = {
  LADDER_ROW: {
    says: ({ rowIndex, contactBit, milliohm }) =>
      `Row ${rowIndex} of the box's resistor table is no resistor (contact ${contactBit}, ${milliohm} milliohm).`,
    remedy: 'Calibrate the box.',
  },
  LADDER_TABLE: {
    says: (slots) =>
      'elementCount' in slots
        ? `The box's resistor table has ${slots.elementCount} resistors.`
        : "The box's resistor table names one contact twice.",
    remedy: 'Read the table from the box again. If it stays so, update box and program.',
  },
  LADDER_RANGE: {
    says: ({ resistanceOhm, fromOhm, toOhm }, say) =>
      `${say.ohm(resistanceOhm)} is out of reach: this box makes ${fromOhm.toFixed(1)} to ${say.ohm(Math.round(toOhm))}.`,
    remedy: 'Choose a resistance inside it.',
  },
};

export const circuitRefusals: Words<CircuitRefusals> = {
  OFFSET: {
    says: (slots, say) =>
      slots.wrong === 'circuit'
        ? `A supply of ${slots.supplyVolt} V and a sender of ${say.ohm(slots.senderOhm)} make no circuit.`
        : `A ground offset of ${slots.offsetVolt} V on a supply of ${slots.supplyVolt} V drives the needle off its scale: no sender looks like that.`,
    remedy: 'Measure these again.',
  },
  STABILISER: {
    says: ({ effectiveVolt, batteryVolt }) =>
      `${effectiveVolt} V at the gauge cannot come from a battery of ${batteryVolt} V.`,
    remedy: 'Measure both again; both are above 0 V.',
  },
  IN_CIRCUIT: {
    says: (slots, say) =>
      'gaugeOhm' in slots
        ? `A gauge of ${say.ohm(slots.gaugeOhm)} is not possible.`
        : `${slots.studVolt} V at the sender and ${slots.supplyVolt} V at the gauge: the sender or its wire is open, or the meter is on the wrong side.`,
    remedy: 'Measure again.',
  },
};

export const waterRefusals: Words<WaterRefusals> = {
  WATER_ALTITUDE: {
    says: ({ altitudeMetre, lowestMetre, highestMetre }, say) =>
      `An altitude of ${altitudeMetre} m is outside ${say.number(lowestMetre)} to ${say.number(highestMetre)} m.`,
    remedy: 'Give the metres above sea level.',
  },
  WATER_TEMPERATURE: {
    says: ({ temperatureCelsius }, say) =>
      `Water does not boil at ${say.of(temperatureCelsius, 'degC')}; it boils between ${say.range(0, 373.946, 'degC')}.`,
    remedy: '',
  },
  WATER_PRESSURE: {
    says: ({ pressureHectopascal }, say) =>
      `Water does not boil at ${say.number(pressureHectopascal)} hPa; it boils between 6.112 hPa and 220,640 hPa.`,
    remedy: 'Give the absolute pressure, not the weather map\u2019s.',
  },
};

export const identifyRefusals: Words<IdentifyRefusals> = {
  IDENTIFY_UNIT: {
    says: ({ id, curveUnit, pointsUnit }, say) =>
      curveUnit === '' || pointsUnit === ''
        ? `${curveUnit === '' ? id : 'The list of points'} has no unit.`
        : `${id} is in ${say.unit(curveUnit)}, the points are in ${say.unit(pointsUnit)}.`,
    remedy: 'Give both in one unit.',
  },
  IDENTIFY_POINT: {
    says: ({ pointNumber, value, resistanceOhm }) =>
      `Point ${pointNumber} (${value} at ${resistanceOhm} ohm) cannot be.`,
    remedy: 'Correct it, or leave it out.',
  },
  IDENTIFY_NO_POINTS: { says: () => 'There is no reading to go by.', remedy: 'Give at least one.' },
  IDENTIFY_NO_CURVES: {
    says: () => 'There is no known curve in this unit to compare with.',
    remedy: 'Add some with "catalogue add", or name files with --known.',
  },
  IDENTIFY_TOO_MANY: {
    says: ({ curveCount, most }) => `${curveCount} curves are too many; the limit is ${most}.`,
    remedy: 'Compare with fewer.',
  },
};

export const numericRefusals: Words<NumericRefusals> = {
  LEAST_SQUARES_TOO_FEW: {
    says: ({ observationCount, parameterCount }) =>
      `${observationCount} readings cannot fix ${parameterCount} coefficients.`,
    remedy: 'Take more readings.',
  },
  LEAST_SQUARES_START: {
    says: () => 'The law gives no number for these readings.',
    remedy: 'Check the readings, or choose another law.',
  },
  LEAST_SQUARES_UNDETERMINED: {
    says: () => 'The readings do not fix all coefficients of the law.',
    remedy: 'Measure at more places, or choose a simpler law.',
  },
  CUBIC_TOO_FEW: {
    says: ({ xCount, yCount }) => `A curve needs two points or more; ${Math.min(xCount, yCount)} were given.`,
    remedy: 'Give more points.',
  },
  CUBIC_NOT_FINITE: { says: () => 'A point of the curve is no number.', remedy: 'Correct it.' },
  CUBIC_ORDER: {
    says: ({ knotNumber, x }) => `Point ${knotNumber} (${x}) does not lie above the one before it.`,
    remedy: 'Put the points in order, each once.',
  },
};
