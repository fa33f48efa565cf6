import {
  DEFAULT_DANGER_WEIGHT,
  topologies,
  trimDefaults,
  type Mechanism,
  type StockPart,
  type TrimOptions,
  type Weight,
} from '../../core/network';
import { isSeriesName, seriesNames, type MountingPlace } from '../../core/preferred';
import type { DissipationFactor } from '../../core/at-work';
import type { Surroundings } from '../command';
import { DISSIPATION_OPTIONS, dissipationFrom, LEAD_OPTIONS, leadFrom } from './at-work-options';
import { CellReader, finish, optionalColumn, recogniseColumns, requireColumn } from './columns';
import { InputError } from '../input-error';
import { readGrid } from './input-file';
import type { Arguments, OptionTable } from '../options';
import { notNegative } from './sender-file';

const MECHANISMS = [
  'thermal',
  'two-coil',
  'cross-coil',
  'moving-coil',
  'electronic',
  'unknown',
] as const satisfies readonly Mechanism[];
const PLACES = ['bench', 'dash', 'engine-bay'] as const satisfies readonly MountingPlace[];

const OHM = { kind: 'number', value: 'R', min: 0.01, max: 1e9 } as const;

/** Options that `trim` and `match` share: the band, the parts, the circuit, the sender's own heat. */
export const SEARCH_OPTIONS = {
  ...LEAD_OPTIONS,
  ...DISSIPATION_OPTIONS,
  from: { kind: 'number', value: 'X', help: 'lowest true value that matters (dial unit)' },
  to: { kind: 'number', value: 'X', help: 'highest true value that matters (dial unit)' },
  weights: { kind: 'text', value: 'FILE', help: 'CSV of value,weight: where an error matters more' },
  series: { kind: 'choice', choices: seriesNames, help: 'values one can buy; E24 when left out' },
  'lowest-ohm': {
    ...OHM,
    help: `no part of the series below this; ${trimDefaults.lowestOhm} ohm when left out`,
  },
  'highest-ohm': { ...OHM, help: `no part above this; ${trimDefaults.highestOhm} ohm when left out` },
  topologies: { kind: 'choices', choices: topologies, help: 'only these arrangements' },
  tolerance: {
    kind: 'number',
    value: 'PERCENT',
    min: 0,
    max: 20,
    help: 'tolerance of the parts; that of the series when left out',
  },
  'max-parts': {
    kind: 'number',
    value: 'N',
    min: 0,
    max: 3,
    isWhole: true,
    help: 'at most this many resistors; 3 when left out',
  },
  stock: {
    kind: 'text',
    value: 'FILE',
    help: 'CSV of the drawer: resistance_ohm and optionally count, tolerance_percent',
  },
  'supply-V': {
    kind: 'number',
    value: 'V',
    min: 1,
    max: 60,
    help: `feed of the gauge; ${trimDefaults.supplyVolt} when left out`,
  },
  'gauge-ohm': {
    kind: 'number',
    value: 'R',
    min: 0.1,
    max: 100_000,
    help: 'resistance of the gauge; opens resistors across it',
  },
  terminals: { kind: 'choice', choices: ['2', '3'], help: 'terminals of the gauge' },
  mechanism: { kind: 'choice', choices: MECHANISMS, help: 'how the gauge works' },
  'dash-shift': {
    kind: 'number',
    value: 'X',
    help: 'how far the needle moved at one mark from a cold to a hot dash (dial unit); 4 % of the scale for a thermal gauge when left out',
  },
  place: { kind: 'choice', choices: PLACES, help: 'where the parts are mounted; dash when left out' },
  'danger-weight': {
    kind: 'number',
    value: 'N',
    min: 1,
    max: 100,
    help: `how many times an error to the dangerous side counts in the dangerous quarter; ${DEFAULT_DANGER_WEIGHT} when left out`,
  },
  'rule-limit': {
    kind: 'number',
    value: 'X',
    min: 0,
    help: 'how far it may err to the dangerous side (dial unit)',
  },
} as const satisfies OptionTable;

/** Options of `trim` alone: what is refused, what is reported, what the parts must bear. */
export const TRIM_OPTIONS = {
  ...SEARCH_OPTIONS,
  limit: {
    kind: 'number',
    value: 'X',
    min: 0,
    help: 'how far the job may err (dial unit); 5 % of the scale when left out',
  },
  'highest-supply-V': {
    kind: 'number',
    value: 'V',
    min: 1,
    max: 120,
    help: `worst feed, which the parts must bear; ${trimDefaults.highestSupplyVolt} when left out`,
  },
  'acceptable-error': {
    kind: 'number',
    value: 'X',
    min: 0,
    help: `refused where a law of circuits forbids any better (dial unit); ${100 * trimDefaults.acceptableFraction} % of the band when left out`,
  },
  'per-topology': {
    kind: 'number',
    value: 'N',
    min: 1,
    max: 100,
    isWhole: true,
    help: `networks reported of each arrangement; ${trimDefaults.perTopology} when left out`,
  },
  trials: {
    kind: 'number',
    value: 'N',
    min: 10,
    max: 10_000,
    isWhole: true,
    help: `jobs simulated within the tolerances, for each network; ${trimDefaults.trials} when left out`,
  },
  seed: {
    kind: 'number',
    value: 'S',
    min: 0,
    max: 0xffff_ffff,
    isWhole: true,
    help: `seed of those jobs; ${trimDefaults.seed} when left out`,
  },
} as const satisfies OptionTable;

/** The options of a search as the core takes them. Refuses what the files or words say wrongly. */
export async function trimOptions(
  given: Arguments,
  surroundings: Surroundings,
  measured?: DissipationFactor,
): Promise<TrimOptions> {
  const series = given.text('series');
  const maxParts = ([0, 1, 2, 3] as const).find((count) => count === given.number('max-parts'));
  const weightsFile = given.text('weights');
  const stockFile = given.text('stock');
  refuseContradictions(given);
  return withoutMissing({
    from: given.number('from'),
    to: given.number('to'),
    weights: weightsFile === undefined ? undefined : await readWeights(weightsFile, surroundings),
    stock: stockFile === undefined ? undefined : await readStock(stockFile, surroundings),
    series: series !== undefined && isSeriesName(series) ? series : undefined,
    lowestOhm: given.number('lowest-ohm'),
    highestOhm: given.number('highest-ohm'),
    topologies: topologiesFrom(given),
    tolerancePercent: given.number('tolerance'),
    maxParts,
    perTopology: given.number('per-topology'),
    acceptableError: given.number('acceptable-error'),
    trials: given.number('trials'),
    seed: given.number('seed'),
    supplyVolt: given.number('supply-V'),
    highestSupplyVolt: given.number('highest-supply-V'),
    gaugeOhm: given.number('gauge-ohm'),
    lead: leadFrom(given),
    dissipation: dissipationFrom(given) ?? measured,
    limit: given.number('limit'),
    terminals: ([2, 3] as const).find((count) => String(count) === given.text('terminals')),
    mechanism: MECHANISMS.find((name) => name === given.text('mechanism')),
    place: PLACES.find((name) => name === given.text('place')),
    ruleLimit: given.number('rule-limit'),
    dangerWeight: given.number('danger-weight'),
    dashShift: given.number('dash-shift'),
  });
}

function topologiesFrom(given: Arguments): TrimOptions['topologies'] {
  const asked = given.choices('topologies');
  return asked && topologies.filter((topology) => asked.includes(topology));
}

function refuseContradictions(given: Arguments): void {
  const bounds = ['series', 'lowest-ohm', 'highest-ohm'].find((name) => given.text(name) !== undefined);
  if (given.text('stock') !== undefined && bounds !== undefined) {
    throw new InputError(`give either --${bounds} or --stock: parts come from a shop or from the drawer`);
  }
  for (const [lower, higher] of [
    ['from', 'to'],
    ['lowest-ohm', 'highest-ohm'],
  ] as const) {
    const [low, high] = [given.number(lower), given.number(higher)];
    if (low !== undefined && high !== undefined && low >= high)
      throw new InputError(`--${lower} ${low} must be below --${higher} ${high}`);
  }
  const usualVolt = given.number('supply-V') ?? trimDefaults.supplyVolt;
  const worstVolt = given.number('highest-supply-V');
  if (worstVolt !== undefined && worstVolt < usualVolt)
    throw new InputError(`--highest-supply-V ${worstVolt} cannot be below the usual feed of ${usualVolt} V`);
}

type Loose<T> = { readonly [K in keyof T]: T[K] | undefined };

/** An option that was not given is absent, not undefined: the core tells the two apart. */
function withoutMissing(options: Loose<TrimOptions>): TrimOptions {
  return Object.fromEntries(Object.entries(options).filter(([, value]) => value !== undefined));
}

async function readWeights(file: string, surroundings: Surroundings): Promise<Weight[]> {
  const columns = recogniseColumns(await readGrid(file, surroundings), ['value', 'weight']);
  const value = requireColumn(file, columns, 'value', 'value');
  const weight = requireColumn(file, columns, 'weight', 'weight');
  const reader = new CellReader(columns);
  const weights = columns.table.rows.map((row) => ({
    value: reader.number(row, value),
    weight: reader.number(row, weight, notNegative),
  }));
  finish(file, reader);
  if (weights.length === 0) throw new InputError('there is a header row and nothing below it', { file });
  return weights;
}

async function readStock(file: string, surroundings: Surroundings): Promise<StockPart[]> {
  const grid = await readGrid(file, surroundings);
  const columns = recogniseColumns(grid, ['resistance', 'count', 'tolerance']);
  const resistance = requireColumn(file, columns, 'resistance', 'resistance_ohm');
  const count = optionalColumn(columns, 'count');
  const tolerance = optionalColumn(columns, 'tolerance');
  const reader = new CellReader(columns);
  const parts = grid.table.rows.map((row) => {
    const counted = reader.optionalNumber(row, count, wholeNumber);
    const tolerancePercent = reader.optionalNumber(row, tolerance, notNegative);
    return {
      resistanceOhm: reader.number(row, resistance, positive),
      ...(counted === undefined ? {} : { count: counted }),
      ...(tolerancePercent === undefined ? {} : { tolerancePercent }),
    };
  });
  finish(file, reader);
  if (parts.length === 0) throw new InputError('the drawer is empty', { file });
  return parts;
}

const positive = (value: number): string | undefined => (value > 0 ? undefined : 'it must be above 0');
const wholeNumber = (value: number): string | undefined =>
  Number.isInteger(value) && value >= 0 ? undefined : 'a count is a whole number';
