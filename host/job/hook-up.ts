import type { JobState } from './state/state';

/** A lead of the box: what stands at its socket, its colour, and where it goes when the box stands in for a sender. */
export type BoxLead = {
  readonly name: string;
  readonly colour: 'red' | 'black' | 'yellow' | 'blue';
  readonly says: string;
  /** Senses and carries nothing: a thin wire. */
  readonly isThin: boolean;
};

/** The leads in the order of their sockets. Source: the hook-up drawing of the hardware notes is made from this list. */
export const boxLeads: readonly BoxLead[] = [
  { name: 'FEED', colour: 'yellow', says: 'thin: senses only', isThin: true },
  { name: 'SENDER', colour: 'red', says: 'on the wire taken off the sender', isThin: false },
  { name: 'GROUND', colour: 'black', says: 'where the sender body sat', isThin: false },
  { name: 'BATTERY \u2212', colour: 'blue', says: 'thin: senses only', isThin: true },
];

/** What is at the far end of a lead, as it is drawn. */
export type FarEnd = 'wire' | 'terminal' | 'ground' | 'battery' | 'sender';
export type Join = {
  readonly from: string;
  readonly colour: BoxLead['colour'] | 'any';
  readonly isThin: boolean;
  readonly to: string;
  readonly end: FarEnd;
};

/** One picture: what the leads come out of, where each goes, and what must be said beside it. */
export type HookUp = {
  readonly of: 'box' | 'resistor' | 'potentiometer' | 'switch' | 'ohmmeter' | 'meter' | 'gauge';
  readonly joins: readonly Join[];
  readonly notes: readonly string[];
};

/** Where the battery's positive post is ground, what is told of the negative one holds for that one. */
export const onGroundedPost = (words: string): string =>
  words.replaceAll(/(battery) negative/gi, '$1 positive, which is ground here');

type Job = Pick<JobState, 'place' | 'gauge'>;

const isTank = ({ place, gauge }: Job): boolean => place === 'car' && gauge.quantity === 'fuel';

/** Where the ground of the sender is met. */
const groundOf = (job: Job): string =>
  job.place === 'bench'
    ? 'negative of the supply'
    : isTank(job)
      ? 'bare metal of the body, at the dash'
      : 'bare metal of the engine, where the sender body sat';

const wireOf = (job: Job): string =>
  job.place === 'bench'
    ? 'the gauge\u2019s sender terminal'
    : isTank(job)
      ? 'the sender wire, parted at the dash end'
      : 'the wire taken off the sender';

/** What holds for this gauge and this place whatever is clipped on. Source: the cautions of the hardware notes. */
function wireNotes(job: Job): readonly string[] {
  const { place, gauge } = job;
  return [
    place === 'car' ? 'Ignition off while any clip is moved.' : 'Supply off while any clip is moved.',
    ...(place === 'car' ? ['The sender itself is unplugged and hangs free.'] : []),
    ...(isTank(job) ? ['Nothing is clipped, made or broken at the tank, the GROUND clip neither.'] : []),
    ...(gauge.terminals === 3 ? ['The third wire of the gauge, its ground, stays on.'] : []),
    ...(gauge.mechanism === 'thermal' || gauge.mechanism === 'unknown'
      ? ['Never hold the sender wire on ground: a hot-wire gauge burns.']
      : []),
  ];
}

/** The box in the sender's place. */
export function standInHookUp(job: Job): HookUp {
  const ends: Readonly<Record<string, readonly [to: string, end: FarEnd]>> = {
    FEED: ['the gauge\u2019s feed terminal', 'terminal'],
    SENDER: [wireOf(job), job.place === 'bench' ? 'terminal' : 'wire'],
    GROUND: [groundOf(job), 'ground'],
    'BATTERY \u2212':
      job.place === 'bench'
        ? ['negative of the supply', 'battery']
        : ['battery negative, at the post', 'battery'],
  };
  return {
    of: 'box',
    joins: boxLeads.flatMap(({ name, colour, isThin }) => {
      const at = ends[name];
      return at === undefined ? [] : [{ from: name, colour, isThin, to: at[0], end: at[1] }];
    }),
    notes: wireNotes(job),
  };
}

/** The box as an ohmmeter on a sender that is connected to nothing else. */
export function ohmmeterHookUp(job: Job): HookUp {
  const join = (from: string, colour: Join['colour'], to: string, end: FarEnd): Join => ({
    ...{ from, colour, to, end },
    isThin: false,
  });
  return {
    of: 'box',
    joins: [
      join('SENDER', 'red', 'the sender\u2019s terminal', 'sender'),
      join('CAL +', 'any', 'the same terminal, beside it', 'terminal'),
      join('GROUND', 'black', 'the sender\u2019s body', 'sender'),
      join('CAL \u2212', 'any', 'the same body, beside it', 'terminal'),
    ],
    notes: [
      'Nothing else on the sender: its wire is off.',
      'The two leads of the CAL posts bring the current, the clips sense.',
      ...(isTank(job) ? ['At the dash end of the wire, the tank closed; never with more than 0.5 mA.'] : []),
    ],
  };
}

type Lead = readonly [from: string, to: string, end: FarEnd];
const plainJoins = (leads: readonly Lead[]): readonly Join[] =>
  leads.map(([from, to, end]) => ({ from, colour: 'any', isThin: false, to, end }));
const wireEnd = ({ place }: Job): FarEnd => (place === 'bench' ? 'terminal' : 'wire');

/** A potentiometer as a variable resistor: its slider and one end, with a fixed resistor that nobody takes out. */
export const potentiometerHookUp = (job: Job): HookUp => ({
  of: 'potentiometer',
  joins: plainJoins([
    ['slider', `a fixed resistor, its other end on ${wireOf(job)}`, wireEnd(job)],
    ['one end', groundOf(job), 'ground'],
  ]),
  notes: [
    ...wireNotes(job),
    'The fixed resistor stays in: it is what the gauge sees when it is turned right down.',
  ],
});

/** Two resistors on a change-over switch: one is on while the other is measured and changed. */
export const switchHookUp = (job: Job): HookUp => ({
  of: 'switch',
  joins: plainJoins([
    ['middle', wireOf(job), wireEnd(job)],
    ['side 1', `a resistor, its other end on ${groundOf(job)}`, 'ground'],
    ['side 2', `the next resistor, its other end on ${groundOf(job)}`, 'ground'],
  ]),
  notes: [...wireNotes(job), 'Change and measure only what is on the free side; then switch over to it.'],
});

/** What was on, by itself on the ohmmeter. */
export const measureHookUp = (job: Job): HookUp => ({
  of: 'ohmmeter',
  joins: plainJoins([
    ['one lead', 'the end that was on the sender wire', 'terminal'],
    ['other lead', 'the end that was on ground', 'terminal'],
  ]),
  notes: [
    job.place === 'car' ? 'Ignition off, both clips off.' : 'Supply off, both clips off.',
    'On a live circuit an ohmmeter shows nonsense and may be hurt.',
  ],
});

/** A known resistor in the sender's place. */
export const resistorHookUp = (job: Job): HookUp => ({
  of: 'resistor',
  joins: [
    {
      from: 'one end',
      colour: 'any',
      isThin: false,
      to: wireOf(job),
      end: job.place === 'bench' ? 'terminal' : 'wire',
    },
    { from: 'other end', colour: 'any', isThin: false, to: groundOf(job), end: 'ground' },
  ],
  notes: [...wireNotes(job), 'It gets warm: lay it on nothing that melts.'],
});

const plain = (from: string, to: string, end: FarEnd): Join => ({
  ...{ from, to, end },
  colour: 'any',
  isThin: false,
});

/** The sender's wire off, and nothing in its place. */
export const wireOffHookUp = (job: Job): HookUp => ({
  of: 'gauge',
  joins: [
    plain(
      'sender wire',
      isTank(job) ? 'parted at the dash end, touching nothing' : 'off the sender, touching nothing',
      'wire',
    ),
    ...(job.gauge.terminals === 3 ? [plain('ground wire', 'stays on', 'ground')] : []),
  ],
  notes: wireNotes(job),
});

/** A meter on the parted sender wire, with nothing else there or across a resistor that stands in for the sender. */
export const wireMeterHookUp = (job: Job): HookUp => ({
  of: 'meter',
  joins: [
    plain('V', wireOf(job), job.place === 'bench' ? 'terminal' : 'wire'),
    plain('COM', groundOf(job), 'ground'),
  ],
  notes: ['Set to DC volts before its tips touch anything.', ...wireNotes(job)],
});

/** A meter on the sender by itself. */
export const senderMeterHookUp = (job: Job): HookUp => ({
  of: 'meter',
  joins: isTank(job)
    ? [
        plain('\u03a9', 'the sender\u2019s side of the wire, parted at the dash end', 'wire'),
        plain('COM', groundOf(job), 'ground'),
      ]
    : [
        plain('\u03a9', 'the sender\u2019s terminal', 'sender'),
        plain('COM', 'the sender\u2019s body', 'sender'),
      ],
  notes: [
    job.place === 'car' ? 'Ignition off: an ohmmeter on a live wire shows nonsense.' : 'Supply off.',
    'Touch the tips together first and take off what they show.',
    ...(isTank(job) ? ['The tank stays closed; nothing is clipped at it.'] : []),
  ],
});
