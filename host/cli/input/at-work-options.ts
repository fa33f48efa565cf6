import {
  factorFound,
  factorFromFlowing,
  factorInStill,
  leadSourceFrom,
  type DissipationFactor,
  type FlowingVolt,
  type InPlace,
  type LeadReading,
  type LeadSource,
  type StillVolt,
} from '../../core/at-work';
import type { SenderResponse } from '../../core/response';
import type { Surroundings } from '../command';
import { InputError, refusedError } from '../input-error';
import type { Arguments, OptionTable } from '../options';
import { cellOf, CellReader, finish, optionalColumn, recogniseColumns, requireColumn } from './columns';
import { readGrid } from './input-file';

const MILLI = 1e-3;

/** What stands behind the sender lead. */
export const LEAD_OPTIONS = {
  'lead-V': {
    kind: 'text',
    value: 'OHM:V,OHM:V',
    help: 'volts on the sender lead with two known resistors on it; "open" for none: open:10,40:4.1',
  },
} as const satisfies OptionTable;

/** What the sender sheds, where it is known by a figure. */
export const DISSIPATION_OPTIONS = {
  'dissipation-mW-per-K': {
    kind: 'number',
    value: 'X',
    min: 0.1,
    max: 10_000,
    help: 'heat it gives off in its place for each degree that it is hotter (mW a kelvin); the usual range of senders when left out',
  },
  'u-dissipation-mW-per-K': {
    kind: 'number',
    value: 'U',
    min: 0,
    max: 10_000,
    help: 'its standard uncertainty; an eighth of it when left out',
  },
} as const satisfies OptionTable;

function leadReading(text: string): LeadReading {
  const [ohmText = '', voltText = '', ...rest] = text.trim().split(':');
  const ohm = ohmText.trim().toLowerCase() === 'open' ? Infinity : Number(ohmText);
  const volt = Number(voltText);
  if (rest.length > 0 || voltText.trim() === '' || !(ohm > 0) || !(volt > 0 && volt < 1000))
    throw new InputError(`--lead-V: "${text.trim()}" is not ohm:volts, such as 40:4.1 or open:10`);
  return { ohm, volt };
}

/** The source behind the sender lead as two readings give it. Throws InputError, RefusedError. */
export function leadFrom(given: Arguments): LeadSource | undefined {
  const text = given.text('lead-V');
  if (text === undefined) return undefined;
  const readings = text.split(',').map(leadReading);
  const [one, other] = readings;
  if (one === undefined || other === undefined || readings.length > 2)
    throw new InputError('--lead-V: give two readings, such as open:10,40:4.1');
  const source = leadSourceFrom(one, other);
  if (source.kind === 'refused') throw refusedError(source, '--lead-V: ');
  return { volt: source.volt, ohm: source.ohm };
}

/** What was typed of the sender's heat; undefined when nothing was. Throws InputError. */
export function dissipationFrom(given: Arguments): DissipationFactor | undefined {
  const typed = given.number('dissipation-mW-per-K');
  const uncertainty = given.number('u-dissipation-mW-per-K');
  if (typed === undefined) {
    if (uncertainty !== undefined)
      throw new InputError('--u-dissipation-mW-per-K stands alone: say --dissipation-mW-per-K too');
    return undefined;
  }
  return factorFound(MILLI * typed, uncertainty === undefined ? undefined : MILLI * uncertainty, 'typed');
}

/** The source that the volts of a measurement in place were read on. Throws InputError. */
function sourceFor(given: Arguments): LeadSource {
  const lead = leadFrom(given);
  if (lead !== undefined) return lead;
  const [volt, ohm] = [given.number('supply-V'), given.number('gauge-ohm')];
  if (volt === undefined || ohm === undefined)
    throw new InputError(
      '--working-current needs what stands behind the sender lead: --lead-V, or --supply-V and --gauge-ohm of a gauge with two terminals',
    );
  return { volt, ohm };
}

const above = (value: number): string | undefined => (value > 0 ? undefined : 'it must be above 0');
const since = (value: number): string | undefined => (value >= 0 ? undefined : 'it cannot be before 0');

type Volts =
  | { readonly kind: 'flowing'; readonly readings: readonly FlowingVolt[] }
  | { readonly kind: 'still'; readonly readings: readonly StillVolt[] };

/** Volts read at working current: `when` (cold, warm) with the coolant flowing, or `second` in still coolant. */
async function readVolts(path: string, surroundings: Surroundings): Promise<Volts> {
  const columns = recogniseColumns(await readGrid(path, surroundings), [
    'when',
    'second',
    'sender_volt',
    'open_volt',
  ]);
  const sender = requireColumn(path, columns, 'sender_volt', 'sender_V');
  const open = optionalColumn(columns, 'open_volt');
  const when = optionalColumn(columns, 'when');
  const second = when === undefined ? requireColumn(path, columns, 'second', 'second') : undefined;
  const reader = new CellReader(columns);
  const { rows } = columns.table;
  const volts = rows.map((row) => ({
    senderVolt: reader.number(row, sender, above),
    openVolt: reader.optionalNumber(row, open, above),
  }));
  const flowing = rows.flatMap((row, index): FlowingVolt[] => {
    const said = when === undefined ? '' : cellOf(row, when).text.trim().toLowerCase();
    if (when !== undefined && said !== 'cold' && said !== 'warm')
      reader.reject(row, when, `"${said}" is neither cold (just on) nor warm (on for a minute)`);
    return [{ ...volts[index]!, when: said === 'warm' ? 'warm' : 'cold' }];
  });
  const still = rows.map((row, index) => ({
    ...volts[index]!,
    second: second === undefined ? 0 : reader.number(row, second, since),
  }));
  finish(path, reader);
  return when === undefined ? { kind: 'still', readings: still } : { kind: 'flowing', readings: flowing };
}

/** What the sender sheds by the volts of `--working-current`; undefined without it. Throws InputError, RefusedError. */
export async function inPlaceFrom(
  given: Arguments,
  surroundings: Surroundings,
  sender: SenderResponse,
): Promise<InPlace | undefined> {
  const path = given.text('working-current');
  if (path === undefined) return undefined;
  const circuit = { source: sourceFor(given), sender };
  const volts = await readVolts(path, surroundings);
  const found =
    volts.kind === 'flowing'
      ? factorFromFlowing(volts.readings, circuit)
      : factorInStill(volts.readings, circuit);
  if (found.kind === 'refused') throw refusedError(found, `${path}: `);
  return found;
}
