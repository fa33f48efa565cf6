// Makes the demo sessions anew with the built program alone: `npm run build && node demo-sessions/make.mjs`.
// Every number in a job comes from the simulated box, its simulated vehicle, or the published table; nothing is typed in
// but the words of the shop. The needle of the simulated gauge is watched by the program's simulated person.
import { execFileSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

const here = fileURLToPath(new URL('.', import.meta.url));
const program = fileURLToPath(new URL('../.build/cli/main.js', import.meta.url));
const simulated = fileURLToPath(new URL('../.build/box/simulated.js', import.meta.url));
const scratch = mkdtempSync(join(tmpdir(), 'needlewright-demo-'));
const BY = 'bench';
const SPEED = '30';

const needlewright = (words, cwd = here) =>
  execFileSync(process.execPath, [program, ...words], {
    cwd,
    encoding: 'utf8',
    stdio: ['ignore', 'pipe', 'inherit'],
    maxBuffer: 1e8,
  });

const gauges = JSON.parse(execFileSync(process.execPath, [simulated, '--describe'], { encoding: 'utf8' }));

/** Small repeatable errors of a bath: the same numbers at every making. */
function scatter(seed) {
  let state = seed;
  return () => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
    return state / 2 ** 31 - 1;
  };
}

/** Straight in ln R between the rows of a sender table. */
function ohmAt(table, value) {
  const next = Math.max(
    1,
    table.findIndex((row) => row.value >= value),
  );
  const [low, high] = [table[next - 1], table[next]];
  const part = (value - low.value) / (high.value - low.value);
  return low.ohm * (high.ohm / low.ohm) ** part;
}

/** What the dial shows with this resistance on it: the value the dial was drawn for at that resistance. */
function shownAt(table, ohm) {
  let [low, high] = [table[0].value, table.at(-1).value];
  const falls = table[0].ohm > table.at(-1).ohm;
  for (let round = 0; round < 50; round += 1) {
    const middle = (low + high) / 2;
    if (ohmAt(table, middle) > ohm === falls) low = middle;
    else high = middle;
  }
  return Math.round(low);
}

function makeJob(folder, job) {
  const gauge = gauges.find((each) => each.name === job.gauge);
  const [first, last] = [gauge.originalSender[0], gauge.originalSender.at(-1)];
  const opening = {
    title: job.title,
    vehicle: job.vehicle,
    place: job.place,
    complaint: job.complaint,
    simulated: true,
    gauge: {
      quantity: gauge.quantity,
      mechanism: gauge.mechanism,
      unit: gauge.unit,
      marks: gauge.marks,
      terminals: gauge.terminals,
      family: { lowEndOhm: first.ohm, highEndOhm: last.ohm },
    },
  };
  const path = join(here, folder);
  rmSync(path, { recursive: true, force: true });
  writeFileSync(join(scratch, 'opening.json'), JSON.stringify(opening));
  needlewright(['job', path, '--open', join(scratch, 'opening.json'), '--by', BY]);
  tell(path, before(gauge, job));
  needlewright([
    'sweep',
    '--job',
    path,
    '--simulate',
    job.gauge,
    '--auto',
    '--seed',
    job.seed,
    '--speed',
    SPEED,
    ...(job.confirm ? ['--confirm', job.confirm] : []),
  ]);
  tell(path, after(gauge, job));
  needlewright(['job', path, '--choose-trim', '--by', BY]);
  const options = ['--from', String(job.from), '--to', String(job.to), ...(job.options ?? [])];
  const trim = ['trim', '--gauge', 'job.ndjson', '--sender', 'job.ndjson', ...options, '--json'];
  writeFileSync(join(path, 'recommendation.json'), needlewright(trim, path));
  writeFileSync(join(path, 'README.md'), job.readme);
}

function tell(path, commands) {
  const file = join(scratch, 'commands.ndjson');
  writeFileSync(file, commands.map((command) => JSON.stringify(command)).join('\n'));
  needlewright(['job', path, '--tell', file, '--by', BY]);
}

const before = (gauge, job) => [
  ...job.asFoundAt.map((reference) => ({
    kind: 'record-as-found',
    state: job.asFoundState,
    reference,
    referenceUncertainty: job.valueError,
    indicated: shownAt(gauge.originalSender, ohmAt(gauge.replacementSender, reference)),
  })),
  ...Object.entries(job.answers).map(([question, answer]) => ({ kind: 'answer-check', question, answer })),
  { kind: 'conclude-check', finding: 'sender-suspect', sentence: job.conclusion, evidence: job.evidence },
];

function after(gauge, job) {
  const error = scatter(Number(job.seed));
  const points = gauge.replacementSender.map(({ value, ohm }) => ({
    kind: 'add-sender-point',
    senderId: 'fitted',
    value: Math.round((value + job.valueError * error()) * 10) / 10,
    valueUncertainty: job.valueError,
    resistanceOhm: Math.round(ohm * (1 + 0.005 * error()) * 10) / 10,
    resistanceUncertaintyOhm: Math.max(0.1, Math.round(ohm * 0.05) / 10),
    source: 'person',
  }));
  const { unit } = gauge;
  return [
    { kind: 'describe-sender', senderId: 'fitted', title: job.senderTitle, model: job.model, unit },
    ...points,
    { kind: 'request-trim', options: { senderId: 'fitted', from: job.from, to: job.to } },
    { kind: 'test-chain' },
    { kind: 'add-note', text: job.note },
  ];
}

makeJob('harrow-six-coolant', {
  gauge: 'thermal-temperature',
  seed: '11',
  title: 'Harrow Six runs hot since the new sender, says the needle',
  vehicle: 'Harrow Six saloon (1964)',
  place: 'car',
  complaint: 'The needle stands near H in town since a new sender was fitted; a thermometer in the radiator says 90 degC.',
  asFoundState: 'hot, idling',
  asFoundAt: [60, 80, 90],
  answers: { 'other-gauges-wrong': 'no', 'needle-steps-with-lights': 'no', 'needle-with-sender-off': 'low-end' },
  conclusion: 'Ground, supply and wire are sound; the new sender has too little resistance for this dial.',
  evidence: ['the needle does not step with the lights', 'no other gauge is wrong', 'cold with the wire off, as it should be'],
  senderTitle: 'new sender, measured in a pan of water',
  model: 'steinhart-hart',
  valueError: 0.5,
  from: 50,
  to: 115,
  confirm: 'connected-ignition-off',
  note: 'SIMULATED demo of Quarry Lane Instrument Works: box, gauge, needle and bath are simulated.',
  options: ['--mechanism', 'thermal', '--terminals', '2'],
  readme: `# Harrow Six: coolant gauge reads high with a new sender (SIMULATED)

What it shows: a whole job from complaint to recommendation. As found the gauge reads high over a true temperature; the
check clears ground, supply and wire; a step-and-read sweep of the thermal gauge gives its curve; the new sender is
measured in a bath; the search finds the resistors that make both agree. Everything here was made by the program with
the simulated box (\`node demo-sessions/make.mjs\`), and \`tests/demo-sessions\` replays it.

- \`job.ndjson\`: the journal, one event a line.
- \`recommendation.json\`: what
  \`needlewright trim --gauge job.ndjson --sender job.ndjson --from 50 --to 115 --mechanism thermal --terminals 2 --json\` answered.
`,
});

makeJob('tern-1100-fuel', {
  gauge: 'two-coil-fuel',
  seed: '12',
  title: 'Tern 1100 shows fuel that is not there',
  vehicle: 'Tern 1100 van (1971)',
  place: 'car',
  complaint: 'Ran dry with the needle at an eighth; the tank unit was replaced last year.',
  asFoundState: 'level ground, ignition on',
  asFoundAt: [25, 50, 75],
  answers: { 'other-gauges-wrong': 'no', 'needle-steps-with-lights': 'no', 'needle-with-sender-off': 'high-end' },
  conclusion: 'Ground, supply and wire are sound; the replaced tank unit has more resistance than this dial expects.',
  evidence: ['the needle does not step with the lights', 'full with the wire off, as a gauge of this kind should'],
  senderTitle: 'replaced tank unit, measured at the dash end while filling',
  model: 'table',
  valueError: 1,
  from: 0,
  to: 100,
  confirm: 'fuel-dash-end,connected-ignition-off',
  note: 'SIMULATED demo of Quarry Lane Instrument Works: box, gauge, needle and tank are simulated.',
  options: ['--mechanism', 'two-coil', '--terminals', '3'],
  readme: `# Tern 1100: fuel gauge shows fuel that is not there (SIMULATED)

What it shows: a fuel job with its safety statements (dash end only, tank closed, connected with the ignition off), a
two-coil gauge swept up and down, a tank unit that was replaced by one of another resistance, and resistors chosen so
that the gauge is not optimistic near empty. Everything here was made by the program with the simulated box
(\`node demo-sessions/make.mjs\`), and \`tests/demo-sessions\` replays it.

- \`job.ndjson\`: the journal, one event a line.
- \`recommendation.json\`: what
  \`needlewright trim --gauge job.ndjson --sender job.ndjson --from 0 --to 100 --mechanism two-coil --terminals 3 --json\` answered.
`,
});

// A sender nobody here made: the resistance-temperature table of a thermistor material, scaled to 1 kohm at 25 degC.
const R25_OHM = 1000;
const FROM_CELSIUS = 20;
const table = JSON.parse(readFileSync(join(here, '../tests/vectors/thermistor-ntc-ratio-table.json'), 'utf8'));
const real = join(here, 'ntc-table-sender');
rmSync(real, { recursive: true, force: true });
mkdirSync(real);
const rows = table.t_degC
  .map((celsius, index) => [celsius, table.ratio_R_over_R25[index] * R25_OHM])
  .filter(([celsius]) => celsius >= FROM_CELSIUS);
writeFileSync(
  join(real, 'sender.csv'),
  [
    `# Published: ${table.source.published}.`,
    `# Ratios R/R25 of the table times ${R25_OHM} ohm; nobody here measured or made them.`,
    'temperature_C,resistance_ohm',
    ...rows.map(([celsius, ohm]) => `${celsius},${Number(ohm.toPrecision(6))}`),
    '',
  ].join('\n'),
);
const lookup = ['sender', 'sender.csv', '--model', 'steinhart-hart', '--at', '40,90,120', '--ohm', '100', '--json'];
writeFileSync(join(real, 'sender.json'), needlewright(lookup, real));
const gaugeOfDemo = '../harrow-six-coolant/job.ndjson';
const trimOfDemo = ['trim', '--gauge', gaugeOfDemo, '--sender', 'sender.json', '--from', '70', '--to', '115', '--json'];
writeFileSync(join(real, 'recommendation.json'), needlewright([...trimOfDemo, '--mechanism', 'thermal'], real));
writeFileSync(
  join(real, 'README.md'),
  `# A sender from a published table, on the gauge of the Harrow Six

What it shows: real data that nobody here made, taken to a recommendation. \`sender.csv\` holds the published
resistance-temperature ratios of a thermistor material (${table.source.published})
times ${R25_OHM} ohm at 25 degC. \`sender.json\` is the Steinhart-Hart fit to it, \`recommendation.json\` the search for
the resistors that suit it to the gauge of \`../harrow-six-coolant\`; that gauge, and therefore the recommendation, is SIMULATED.

    needlewright sender sender.csv --model steinhart-hart --at 40,90,120 --ohm 100 --json
    needlewright trim --gauge ${gaugeOfDemo} --sender sender.json --from 70 --to 115 --mechanism thermal --json
`,
);
rmSync(scratch, { recursive: true, force: true });
