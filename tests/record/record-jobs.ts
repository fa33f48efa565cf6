import type { EventBody, JobEvent } from '../../host/job/schema/events';
import type { TrimCandidate } from '../../host/job/schema/trim';
import { chosenFrom } from '../../host/job/state/chosen';
import { foldJob } from '../../host/job/state/fold';
import { findingsOfJob } from '../../host/server/findings/findings-of-job';
import type { Gauge, Opening } from '../../host/job/schema/gauge';

/** A journal written down entry by entry, a minute apart, in an invented shop. */
class Journal {
  readonly events: JobEvent[] = [];
  add(body: EventBody, by = 'bench laptop'): this {
    const n = this.events.length + 1;
    const at = new Date(Date.UTC(2026, 4, 12, 9, 0) + n * 60_000).toISOString();
    this.events.push({ n, at, by, ...body });
    return this;
  }
}

export const opened = (jobId: string, opening: Opening): Journal =>
  new Journal().add({ kind: 'job-opened', schema: 1, jobId, ...opening });

const coolant: Gauge = {
  quantity: 'temperature',
  mechanism: 'thermal',
  unit: 'degC',
  marks: [
    { label: 'C', reading: 40, angleFraction: 0 },
    { label: '60', reading: 60, angleFraction: 0.12 },
    { label: '80', reading: 80, angleFraction: 0.33 },
    { label: '100', reading: 100, angleFraction: 0.64 },
    { label: 'H', reading: 120, angleFraction: 1 },
  ],
  zones: [{ fromReading: 108, toReading: 120, meaning: 'danger' }],
  divisionReading: 5,
};

export const PARTICULARS = {
  customer: 'Mrs A. Lindqvist',
  shop: 'Quarry Lane Instrument Works',
  technician: 'J. Abara',
  registration: 'LQV 164',
  odometer: { distance: 61_204, unit: 'mile' },
  gaugeSerialNumber: 'HS 20731',
} as const;

/** Thermal gauge of 58 ohm on a sender with B = 3556 K, read to half a degree: invented. */
const UP = [
  [455, 40.5],
  [287, 52.5],
  [181, 67],
  [114, 83.5],
  [72, 101],
  [45, 119],
] as const;

type Reading = readonly [resistanceOhm: number, reading: number, leg: 'up' | 'down'];

export const bothWays = (up: readonly (readonly [number, number])[], lag: number): Reading[] => [
  ...up.map(([ohm, reading]): Reading => [ohm, reading, 'up']),
  ...[...up]
    .reverse()
    .slice(1)
    .map(([ohm, reading]): Reading => [ohm, reading + lag, 'down']),
];

export function swept(journal: Journal, readings: readonly Reading[], by: 'box' | 'hand' = 'box'): Journal {
  const ohms = readings.map(([ohm]) => ohm);
  journal.add({
    kind: 'sweep-started',
    sweepId: 'w1',
    mode: 'step-and-read',
    fromOhm: Math.max(...ohms),
    toOhm: Math.max(0.5, Math.min(...ohms)),
    refinements: 0,
    settleMs: 60_000,
    dashCelsius: 19,
    steps: readings.map(([resistanceOhm, , leg], index) => ({
      stepId: `s${index}`,
      leg,
      aim: { kind: 'resistance', resistanceOhm },
      why: 'plan',
    })),
  });
  for (const [index, [resistanceOhm, reading, leg]] of readings.entries())
    journal.add({
      kind: 'reading',
      readingId: `r${index}`,
      sweepId: 'w1',
      stepId: `s${index}`,
      resistanceOhm,
      uncertaintyOhm: 0.05,
      reading,
      leg,
      waitedMs: 60_000,
      method: 'step',
      supplyVolt: 13.6,
      ...(by === 'hand'
        ? { source: 'hand', ohmmeter: { name: 'workshop meter', limitPercent: 0.8, limitOhm: 0.3 } }
        : {}),
    });
  return journal.add({ kind: 'sweep-finished', sweepId: 'w1', complete: true });
}

export function sender(
  journal: Journal,
  unit: string,
  points: readonly (readonly [number, number])[],
  title = 'new sender',
): Journal {
  journal.add({
    kind: 'sender-described',
    senderId: 'sender-1',
    title,
    model: 'unknown',
    unit,
    serialNumber: 'stamped 7/26',
  });
  for (const [index, [value, resistanceOhm]] of points.entries())
    journal.add({
      kind: 'sender-point',
      pointId: `p${index}`,
      senderId: 'sender-1',
      value,
      resistanceOhm,
      source: 'person',
    });
  return journal;
}

type Pair = readonly [
  state: 'as-found' | 'as-left',
  reference: number,
  indicated: number,
  leg: 'up' | 'down',
  substituteOhm?: number,
];

export function pairs(journal: Journal, taken: readonly Pair[], from = 0): Journal {
  for (const [index, [state, reference, indicated, leg, substituteOhm]] of taken.entries())
    journal.add({
      kind: 'proof-pair',
      pairId: `q${from + index}`,
      state,
      method: substituteOhm === undefined ? 'run' : 'substituted',
      reference,
      referenceUncertainty: 0.5,
      indicated,
      leg,
      ...(substituteOhm === undefined
        ? { referencePlace: 'probe TP-9 in the heater tee, fitted cold' }
        : {
            substitute: {
              with: 'resistor',
              resistanceOhm: substituteOhm,
              uncertaintyOhm: 0.2,
              senderId: 'sender-1',
            },
          }),
    });
  return journal;
}

const NTC = [
  [40, 410],
  [60, 192],
  [80, 97.3],
  [100, 52.8],
  [120, 30.4],
] as const;

const checked = (journal: Journal): Journal =>
  journal
    .add({ kind: 'as-found', state: 'hot, idling', indicated: 97, reference: 88 })
    .add({ kind: 'check-measured', what: 'supply-volt', value: 13.4, loads: 'off', source: 'person' })
    .add({ kind: 'check-measured', what: 'sender-body-ohm', value: 0.06, source: 'person' })
    .add({
      kind: 'check-concluded',
      finding: 'nothing-found',
      sentence: 'Supply and ground are sound: what is wrong is the curve of gauge or sender.',
      evidence: ['supply: 13.40 V'],
      notAsked: ['whether the needle moves with a known resistance'],
    });

const coolantOpening: Opening = {
  title: 'Coolant gauge reads high',
  gauge: coolant,
  vehicle: 'Harrow Six saloon, 1964',
  place: 'car',
  complaint: 'Reads high since the new sender',
  simulated: false,
  particulars: PARTICULARS,
};

/** The network that the program itself recommends, as the page enters it. */
function recommended(events: readonly JobEvent[]): TrimCandidate {
  const state = foldJob(events);
  const trimmed = state && findingsOfJob(state).trim?.trimmed;
  const best = trimmed?.kind === 'trimmed' ? trimmed.candidates[trimmed.nearest] : undefined;
  if (best === undefined) throw new Error('nothing can be recommended');
  return chosenFrom(best);
}

/** From the complaint to the proof: swept, a sender, one resistor fitted, found and left. */
export function provedCoolant(opening: Partial<Opening> = {}): JobEvent[] {
  const journal = checked(opened('harrow-six-0417', { ...coolantOpening, ...opening }));
  swept(journal, bothWays(UP, 0.5));
  sender(journal, 'degC', NTC);
  pairs(journal, [
    ['as-found', 60, 67, 'up'],
    ['as-found', 88, 97, 'up'],
  ]);
  journal.add({ kind: 'trim-requested', options: { senderId: 'sender-1', series: 'E24' } });
  const candidate = recommended(journal.events);
  journal.add({ kind: 'trim-chosen', candidate });
  journal.add({ kind: 'network-fitted', fitted: 'network', senderId: 'sender-1', candidate });
  journal.add({ kind: 'proof-limit', limit: { kind: 'size', size: 6 } });
  pairs(
    journal,
    [
      ['as-left', 60, 62.5, 'up'],
      ['as-left', 88, 89.5, 'up'],
      ['as-left', 112, 111, 'up', 38.4],
      ['as-left', 88, 90, 'down'],
    ],
    2,
  );
  return journal.add({ kind: 'note', text: 'Sender body cleaned before the proof.' }).events;
}

/** The sender runs the other way: no resistors can turn it round. */
export function refusedCoolant(): JobEvent[] {
  const journal = swept(opened('harrow-six-refused', coolantOpening), bothWays(UP, 0.5));
  sender(journal, 'degC', [
    [40, 120],
    [60, 135],
    [80, 147],
    [100, 160],
  ]);
  return journal.add({ kind: 'trim-requested', options: { senderId: 'sender-1' } }).events;
}

const oil: Gauge = {
  quantity: 'pressure',
  mechanism: 'two-coil',
  unit: 'bar',
  marks: [
    { label: '0', reading: 0, angleFraction: 0 },
    { label: '2', reading: 2, angleFraction: 0.4 },
    { label: '4', reading: 4, angleFraction: 0.75 },
    { label: '6', reading: 6, angleFraction: 1 },
  ],
};

/** An oil gauge on the bench by resistors and an ohmmeter. */
export function oilByHand(): JobEvent[] {
  const journal = opened('petrel-oil', {
    title: 'Oil pressure gauge on the bench',
    gauge: oil,
    vehicle: 'Petrel 900 roadster',
    place: 'bench',
    simulated: false,
  });
  const readings = bothWays(
    [
      [10, 0.05],
      [52, 2],
      [104, 3.9],
      [184, 6.1],
    ],
    0.1,
  );
  return swept(journal, readings, 'hand').events;
}

const LONG =
  'Frau Zsófia Čechová-Ångström y Núñez de la Peña-Őrségi, Société Générale des Établissements Mécaniques de Łódź-Śródmieście, c/o Þórður Ævar Guðmundsdóttir, Übergrößenträger';

/** Names of many letters, and of letters from many lands; a word without a blank. */
export const longNames = (): JobEvent[] =>
  provedCoolant({
    title:
      'Kühlwasseranzeige, seit dem Einbau des neuen Gebers zu hoch; nach Probefahrt über den Pass noch höher als zuvor gezeigt',
    vehicle: 'Harrow Six Landaulet de Ville Spezialausführung Nr. 7 (1964), Ωμέγα, Привет',
    particulars: {
      customer: LONG,
      shop: `${LONG} & Söhne`,
      technician: 'Wolfeschlegelsteinhausenbergerdorffwelchevoralternwarengewissenhaftschaferswessenschafe',
      registration: 'ABCDEFGHIJKLMNOPQRSTUVWXYZ-0123456789',
      odometer: { distance: 1_234_567.8, unit: 'km' },
      gaugeSerialNumber: 'N\u00ba 000-111-222-333-444-555-666-777-888-999',
      gaugePartNumber: '8A/1234567890/B',
      senderSerialNumber: 'N\u00ba 000-111-222-333-444-555-666-777-888-000',
      senderPartNumber: '8A/0987654321/C',
    },
  });

/** Three resistors, each with its own ways to fail, a hundred readings, and a page of remarks. */
export function longTables(): JobEvent[] {
  const journal = checked(opened('harrow-six-long', coolantOpening));
  const many = Array.from({ length: 6 }, () => bothWays(UP, 0.5)).flat();
  swept(journal, many);
  sender(journal, 'degC', NTC);
  journal.add({ kind: 'trim-requested', options: { senderId: 'sender-1', maxParts: 3 } });
  for (let index = 0; index < 14; index += 1)
    journal.add({
      kind: 'note',
      text: `Remark ${index + 1}. ${'The lead runs behind the heater box and was taped where it rubs. '.repeat(4)}`,
    });
  journal.add({ kind: 'network-fitted', fitted: 'nothing', senderId: 'sender-1' });
  return pairs(
    journal,
    Array.from({ length: 24 }, (_, index): Pair => [
      'as-left',
      60 + 2 * (index % 12),
      63 + 2 * (index % 12),
      index < 12 ? 'up' : 'down',
    ]),
  ).events;
}

export const barely = (): JobEvent[] => opened('bare', { ...coolantOpening, particulars: {} }).events;
