import type { SimulatedBox } from './bench';
import type { ContactName } from './chain';
import type { Weld } from './contact';

const MAX_SUPPLY_VOLT = 30;

type Change = (box: SimulatedBox, value: unknown) => string | undefined;

const isRecord = (value: unknown): value is Readonly<Record<string, unknown>> =>
  typeof value === 'object' && value !== null;

const flag =
  (set: (box: SimulatedBox, value: boolean) => void): Change =>
  (box, value) => {
    if (typeof value !== 'boolean') return 'must be true or false';
    set(box, value);
    return undefined;
  };

const contactName = (value: unknown): ContactName | undefined => {
  if (value === 'limiter' || value === 'output') return value;
  return typeof value === 'number' && Number.isInteger(value) ? value : undefined;
};

const weldKind = (value: unknown): { readonly weld: Weld } | undefined => {
  if (value === 'closed' || value === 'open') return { weld: value };
  return value === null ? { weld: undefined } : undefined;
};

const weld: Change = (box, value) => {
  if (!isRecord(value))
    return 'must be {"contact": 0..13 | "limiter" | "output", "as": "closed" | "open" | null}';
  const name = contactName(value.contact);
  const kind = weldKind(value.as);
  const contact = name === undefined ? undefined : box.world.chain.contact(name);
  if (contact === undefined || kind === undefined)
    return 'names no contact, or neither "closed" nor "open" nor null';
  contact.weld = kind.weld;
  return undefined;
};

const calPost: Change = (box, value) => {
  if (value === 'open' || value === 'chain') {
    box.world.calPost = { kind: value };
    return undefined;
  }
  if (typeof value !== 'number' || !(value > 0)) return 'must be "open", "chain" or the ohms of a sender';
  box.world.calPost = { kind: 'sender', ohm: value };
  return undefined;
};

const BATH_TROUBLE = 'must be "off" or {"sender": "original" | "replacement", "holdAt": number or left out}';

const bath: Change = (box, value) => {
  if (value === 'off') {
    box.world.calPost = { kind: 'open' };
    return undefined;
  }
  if (!isRecord(value)) return BATH_TROUBLE;
  const { sender, holdAt } = value;
  if (sender !== 'original' && sender !== 'replacement') return BATH_TROUBLE;
  if (holdAt !== undefined && !(typeof holdAt === 'number' && Number.isFinite(holdAt))) return BATH_TROUBLE;
  box.world.putInBath({ sender, ...(holdAt === undefined ? {} : { holdAt }) });
  return undefined;
};

const supplyVolt: Change = (box, value) => {
  if (typeof value !== 'number' || !(value >= 0 && value <= MAX_SUPPLY_VOLT))
    return `must be 0 to ${MAX_SUPPLY_VOLT} V`;
  box.world.vehicle.settings.supplyVolt = value;
  return undefined;
};

/** The box's clips come off while a person holds resistors in the sender's place. */
const handOhm: Change = (box, value) => {
  const { settings } = box.world.vehicle;
  if (value === 'off') settings.handOhm = undefined;
  else if (value === 'free') settings.handOhm = Infinity;
  else if (typeof value === 'number' && value > 0) settings.handOhm = value;
  else return 'must be ohms above 0, "free" or "off"';
  return undefined;
};

const restart: Change = (box, value) => {
  if (value !== 'power' && value !== 'watchdog' && value !== 'brown-out')
    return 'must be "power", "watchdog" or "brown-out"';
  box.restart(value);
  return undefined;
};

/** What can be told to the world, by name. */
const changes: Readonly<Record<string, Change>> = {
  supplyVolt,
  ignition: flag((box, value) => (box.world.vehicle.settings.isIgnitionOn = value)),
  lights: flag((box, value) => (box.world.vehicle.settings.areLightsOn = value)),
  connected: flag((box, value) => (box.world.vehicle.settings.isConnected = value)),
  unplug: flag((box, value) => (box.world.vehicle.settings.isConnected = !value)),
  reversed: flag((box, value) => (box.world.vehicle.settings.isReversed = value)),
  meterHangs: flag((box, value) => {
    for (const converter of box.world.converters) converter.isHung = value;
  }),
  programHangs: flag((box, value) => value && box.hang()),
  weld,
  calPost,
  bath,
  handOhm,
  restart,
};

/** Applies one line of JSON to the world; answers what was wrong with it, or nothing. */
export function applyChange(box: SimulatedBox, line: string): string | undefined {
  let parsed: unknown;
  try {
    parsed = JSON.parse(line);
  } catch {
    return `world: not JSON: ${line}`;
  }
  if (!isRecord(parsed)) return `world: not an object: ${line}`;
  for (const [name, value] of Object.entries(parsed)) {
    const change = changes[name];
    if (change === undefined) return `world: ${name}: unknown; there are ${Object.keys(changes).join(', ')}`;
    const trouble = change(box, value);
    if (trouble !== undefined) return `world: ${name} ${trouble}`;
  }
  return undefined;
}
