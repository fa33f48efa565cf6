import { z } from 'zod';
import type { Opening, SweepChoice } from '../../job';
import type { SimulatedGauge } from '../../job/wire/host-messages';
import { BOX_OPTIONS } from './box-options';
import { HAND_OPTIONS } from './hand-options';
import { JSON_OPTION } from '../command';
import { coreUnitFromText } from './gauge-file';
import { InputError } from '../input-error';
import type { Arguments, OptionTable } from '../options';

const QUANTITIES = ['temperature', 'fuel', 'pressure', 'other'] as const;
const MECHANISMS = ['thermal', 'two-coil', 'cross-coil', 'moving-coil', 'electronic', 'unknown'] as const;
const MODES = ['step-and-read', 'seek'] as const;
const LEGS = ['both', 'up', 'down'] as const;
const PLACES = ['car', 'bench'] as const;
const CONFIRMATIONS = [
  'fuel-dash-end',
  'connected-ignition-off',
  'mechanism-unknown',
  'low-resistance',
  'tank-closed',
  'hand-ignition-off',
] as const;
const MS_PER_SECOND = 1000;

export const SWEEP_OPTIONS = {
  ...BOX_OPTIONS,
  ...HAND_OPTIONS,
  job: {
    kind: 'text',
    value: 'DIR',
    help: 'folder of the job: made when it is not there, taken up again when it is',
  },
  jobs: { kind: 'text', value: 'DIR', help: 'folder of all jobs, for a new job without --job' },
  auto: { kind: 'flag', help: 'a simulated person reads the simulated needle' },
  mode: { kind: 'choice', choices: MODES, help: 'how the needle is read; step-and-read when left out' },
  points: { kind: 'number', value: 'N', min: 2, max: 60, isWhole: true, help: 'resistances to step through' },
  'from-ohm': {
    kind: 'number',
    value: 'R',
    min: 0.5,
    max: 20_000,
    help: 'resistance at the low end of the dial',
  },
  'to-ohm': {
    kind: 'number',
    value: 'R',
    min: 0.5,
    max: 20_000,
    help: 'resistance at the high end of the dial',
  },
  legs: { kind: 'choice', choices: LEGS, help: 'which way the needle moves; both when left out' },
  repeats: {
    kind: 'number',
    value: 'N',
    min: 0,
    max: 20,
    isWhole: true,
    help: 'extra readings at the middle',
  },
  refinements: {
    kind: 'number',
    value: 'N',
    min: 0,
    max: 30,
    isWhole: true,
    help: 'points added where least is known',
  },
  'settle-s': {
    kind: 'number',
    value: 'S',
    min: 0,
    max: 300,
    help: 'wait for the needle; by the kind of gauge when left out',
  },
  title: { kind: 'text', value: 'TEXT', help: 'title of a new job' },
  vehicle: { kind: 'text', value: 'TEXT', help: 'vehicle of a new job' },
  place: { kind: 'choice', choices: PLACES, help: 'where the gauge is' },
  complaint: { kind: 'text', value: 'TEXT', help: 'what is wrong' },
  type: { kind: 'choice', choices: QUANTITIES, help: 'what the dial shows' },
  mechanism: { kind: 'choice', choices: MECHANISMS, help: 'how the gauge works' },
  unit: { kind: 'text', value: 'UNIT', help: 'unit of the dial: C, F, kPa, psi, bar, %' },
  marks: { kind: 'numbers', value: 'READING,...', help: 'marks of the dial from its low end on' },
  confirm: {
    kind: 'choices',
    choices: CONFIRMATIONS,
    help: 'safety statements made before the output closes, or anything is put on by hand',
  },
  'clear-trip': { kind: 'flag', help: 'lift a trip, once its cause has been found' },
  ...JSON_OPTION,
} as const satisfies OptionTable;

/** What the person chose of the sweep; the bench fills in the rest. */
export function sweepChoiceFrom(given: Arguments): SweepChoice {
  const settleSecond = given.number('settle-s');
  const fromOhm = given.number('from-ohm');
  const toOhm = given.number('to-ohm');
  const pointCount = given.number('points');
  const repeats = given.number('repeats');
  const refinements = given.number('refinements');
  const legs = LEGS.find((name) => name === given.text('legs'));
  return {
    mode: MODES.find((name) => name === given.text('mode')) ?? 'step-and-read',
    ...(fromOhm === undefined ? {} : { fromOhm }),
    ...(toOhm === undefined ? {} : { toOhm }),
    ...(pointCount === undefined ? {} : { pointCount }),
    ...(legs === undefined ? {} : { legs }),
    ...(repeats === undefined ? {} : { repeats }),
    ...(refinements === undefined ? {} : { refinements }),
    ...(settleSecond === undefined ? {} : { settleMs: settleSecond * MS_PER_SECOND }),
  };
}

export function confirmationsFrom(given: Arguments): readonly (typeof CONFIRMATIONS)[number][] {
  const made = given.choices('confirm') ?? [];
  return CONFIRMATIONS.filter((name) => made.includes(name));
}

/** A new job for the simulated vehicle, as its program describes it. */
export function openingOfSimulated(gauge: SimulatedGauge, given: Arguments): Opening {
  const [vehicle = gauge.title] = gauge.title.split(', ');
  const first = gauge.originalSender[0];
  const last = gauge.originalSender.at(-1);
  const complaint = given.text('complaint');
  return {
    title: given.text('title') ?? `${gauge.title} (simulated)`,
    vehicle: given.text('vehicle') ?? vehicle,
    place: PLACES.find((name) => name === given.text('place')) ?? 'bench',
    ...(complaint === undefined ? {} : { complaint }),
    simulated: true,
    gauge: {
      quantity: gauge.quantity,
      mechanism: gauge.mechanism,
      unit: gauge.unit,
      marks: gauge.marks.map((mark) => ({ ...mark })),
      terminals: gauge.terminals,
      ...(first === undefined || last === undefined
        ? {}
        : { family: { lowEndOhm: first.ohm, highEndOhm: last.ohm } }),
    },
  };
}

const Marks = z.array(z.number()).min(2);

/** A new job for a real gauge, from the options. Refuses what is missing, all of it at once. */
export function openingFrom(given: Arguments): Opening {
  const marks = Marks.safeParse(given.numbers('marks'));
  const unit = given.text('unit');
  const quantity = QUANTITIES.find((name) => name === given.text('type'));
  if (!marks.success || unit === undefined || quantity === undefined) {
    throw new InputError(
      'a new job needs --type, --unit and --marks (two or more readings from the low end of the dial on)',
    );
  }
  const readings = marks.data;
  const fromOhm = given.number('from-ohm');
  const toOhm = given.number('to-ohm');
  const complaint = given.text('complaint');
  return {
    title: given.text('title') ?? 'Gauge on the bench',
    vehicle: given.text('vehicle') ?? 'not named',
    place: PLACES.find((name) => name === given.text('place')) ?? 'bench',
    ...(complaint === undefined ? {} : { complaint }),
    simulated: false,
    gauge: {
      quantity,
      mechanism: MECHANISMS.find((name) => name === given.text('mechanism')) ?? 'unknown',
      unit: coreUnitFromText(unit),
      marks: readings.map((reading, index) => ({
        label: String(reading),
        reading,
        // Where the marks sit on the arc is for drawing; without a dial editor they are spread evenly.
        angleFraction: index / (readings.length - 1),
      })),
      ...(fromOhm === undefined || toOhm === undefined
        ? {}
        : { family: { lowEndOhm: fromOhm, highEndOhm: toOhm } }),
    },
  };
}
