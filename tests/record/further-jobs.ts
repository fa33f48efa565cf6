import type { EventBody, JobEvent } from '../../host/job/schema/events';
import { chosenFrom } from '../../host/job/state/chosen';
import { foldJob } from '../../host/job/state/fold';
import { findingsOfJob } from '../../host/server/findings/findings-of-job';
import type { Gauge } from '../../host/job/schema/gauge';
import { bothWays, opened, pairs, PARTICULARS, provedCoolant, sender, swept } from './record-jobs';

const fuel: Gauge = {
  quantity: 'fuel',
  mechanism: 'cross-coil',
  unit: '%',
  marks: [
    { label: 'E', reading: 0, angleFraction: 0 },
    { label: '1/4', reading: 25, angleFraction: 0.27 },
    { label: '1/2', reading: 50, angleFraction: 0.52 },
    { label: '3/4', reading: 75, angleFraction: 0.77 },
    { label: 'F', reading: 100, angleFraction: 1 },
  ],
};

/** A fuel gauge with as many resistors as there are places for, each with its own ways to fail: a long failure table. */
export function fuelWithThree(): JobEvent[] {
  const journal = opened('tern-fuel', {
    title: 'Fuel gauge reads full too long',
    gauge: fuel,
    vehicle: 'Tern 1100 estate, 1971',
    place: 'car',
    simulated: false,
    particulars: PARTICULARS,
  });
  const readings: readonly (readonly [number, number])[] = [
    [238, 1],
    [170, 21],
    [118, 45],
    [84, 66],
    [58, 86],
    [36, 101],
  ];
  swept(journal, bothWays(readings, -1));
  sender(journal, '%', [
    [0, 172],
    [25, 126],
    [50, 88],
    [75, 52],
    [100, 11],
  ]);
  journal.add({ kind: 'trim-requested', options: { senderId: 'sender-1', series: 'E24', maxParts: 3 } });
  const state = foldJob(journal.events);
  const trimmed = state && findingsOfJob(state).trim?.trimmed;
  const all = trimmed?.kind === 'trimmed' ? trimmed.candidates : [];
  const [most] = [...all].sort((one, other) => other.parts.length - one.parts.length);
  if (most === undefined) throw new Error('nothing can be fitted');
  const candidate = chosenFrom(most);
  journal.add({ kind: 'trim-chosen', candidate });
  journal.add({ kind: 'network-fitted', fitted: 'network', senderId: 'sender-1', candidate });
  return pairs(journal, [
    ['as-found', 50, 68, 'up'],
    ['as-left', 25, 27, 'up'],
    ['as-left', 50, 52, 'up'],
    ['as-left', 75, 74, 'up'],
    ['as-left', 50, 51, 'down'],
  ]).events;
}

/** The proved coolant gauge with photographs of which their names are long. */
export function photographed(): JobEvent[] {
  const events = provedCoolant();
  const subjects = ['gauge', 'sender', 'wiring', 'as-left', 'other'] as const;
  return subjects.reduce<JobEvent[]>((before, of, index) => {
    const n = before.length + 1;
    const photograph: EventBody = {
      kind: 'photograph-added',
      photographId: `f${index}`,
      file: `photograph-f${index}.jpg`,
      sha256: String(index).repeat(64),
      of,
      ...(index % 2 === 0 ? { title: `Řidítko ${'behind the heater box '.repeat(3)}${index}` } : {}),
    };
    return [
      ...before,
      { n, at: new Date(Date.UTC(2026, 4, 12, 12, n)).toISOString(), by: 'desk', ...photograph },
    ];
  }, events);
}
