// Several simulated boxes at one cluster as one program: file descriptors 5, 6, 7 ... are their serial lines, 3 shows the
// needles, 4 takes changes of the world. It ends when standard input ends. `--help` tells the rest.
import { writeSync } from 'node:fs';
import { Socket } from 'node:net';
import { createInterface } from 'node:readline';
import { parseArgs } from 'node:util';
import { describeGauge } from '../describe';
import { ClusterBoxes } from './boxes';
import { simulatedCluster, simulatedClusters } from './clusters';

const NEEDLE_FD = 3;
const WORLD_FD = 4;
const FIRST_LINE_FD = 5;
const PACE_MS = 2;
/** As for one box: a machine that was busy for longer does not make the boxes catch up. */
const LONGEST_LEAP_MS = 100;
const NEEDLE_PERIOD_MS = 50;
const DAY_MS = 86_400_000;
const CALIBRATED_DAYS_AGO = 30;
const MIN_SPEED = 0.1;
const MAX_SPEED = 1000;

const help = `simulated cluster: one serial line a box on descriptors ${FIRST_LINE_FD}, ${FIRST_LINE_FD + 1}, ...
  --cluster NAME  one of ${simulatedClusters.map(({ name }) => name).join(', ')}
  --boxes N       how many of its gauges have a box (default: all)
  --order A,B,..  box k drives gauge number k of this list, counted from 0 (default: 0,1,2,...)
  --seed N        one number makes one set of boxes and one day (default 1)
  --speed X       the needles live X times faster than the boxes (default 1); the boxes keep real time
  --describe      prints the clusters as JSON and ends
Descriptor 3 shows the needles (lines of JSON), 4 takes changes (lines of JSON): {"box": 0, "change": {...}} for one box's
world, {"common": {"feedOhm": 0.5}} for what all share.
`;

function fail(message: string): never {
  process.stderr.write(`${message}\n`);
  process.exit(2);
}

function options() {
  try {
    return parseArgs({
      options: {
        cluster: { type: 'string', default: 'thermal-cluster' },
        boxes: { type: 'string' },
        order: { type: 'string' },
        seed: { type: 'string', default: '1' },
        speed: { type: 'string', default: '1' },
        describe: { type: 'boolean', default: false },
        help: { type: 'boolean', default: false },
      },
    }).values;
  } catch (reason) {
    return fail(`${reason instanceof Error ? reason.message : String(reason)}; --help tells what there is`);
  }
}

const describeClusters = () =>
  simulatedClusters.map(({ name, title, gauges }) => ({
    name,
    title,
    gauges: gauges.map(({ place, gauge }) => ({ place, gauge: describeGauge(gauge) })),
  }));

const wholeNumbers = (text: string, most: number): number[] =>
  text.split(',').map((word) => {
    const value = Number(word);
    return Number.isInteger(value) && value >= 0 && value < most
      ? value
      : fail(`${text}: numbers 0 to ${most - 1}`);
  });

function main(): void {
  const given = options();
  if (given.help) return void process.stdout.write(help);
  if (given.describe) return void process.stdout.write(`${JSON.stringify(describeClusters(), null, 2)}\n`);
  const cluster =
    simulatedCluster(given.cluster) ?? fail(`--cluster ${given.cluster}: no such cluster; --help lists them`);
  const most = cluster.gauges.length;
  const count = given.boxes === undefined ? most : Number(given.boxes);
  if (!(Number.isInteger(count) && count >= 1 && count <= most)) fail(`--boxes: must be 1 to ${most}`);
  const seed = Number(given.seed);
  const speed = Number(given.speed);
  if (!Number.isInteger(seed)) fail(`--seed ${given.seed}: must be a whole number`);
  if (!(speed >= MIN_SPEED && speed <= MAX_SPEED))
    fail(`--speed ${given.speed}: must be ${MIN_SPEED} to ${MAX_SPEED}`);
  const lines: Socket[] = [];
  const boxes = new ClusterBoxes({
    cluster,
    count,
    seed,
    speed,
    ...(given.order === undefined ? {} : { order: wholeNumbers(given.order, most) }),
    calibrationDay: Math.floor(Date.now() / DAY_MS) - CALIBRATED_DAYS_AGO,
    bootSalt: Math.floor(Math.random() * 2 ** 32),
    sent: (box, bytes) => void lines[box]?.write(bytes),
  });
  for (let box = 0; box < count; box += 1) lines.push(lineOf(boxes, box));
  listen(boxes);
  pace(boxes);
}

function lineOf(boxes: ClusterBoxes, box: number): Socket {
  const line = new Socket({ fd: FIRST_LINE_FD + box, readable: true, writable: true });
  line.on('error', () => undefined);
  line.on('data', (bytes: Buffer) => boxes.receive(box, bytes));
  return line;
}

function listen(boxes: ClusterBoxes): void {
  // Nobody can ever hear these boxes again.
  process.stdin.on('end', () => process.exit(0)).resume();
  const world = new Socket({ fd: WORLD_FD, readable: true, writable: false });
  world.on('error', () => undefined);
  createInterface({ input: world }).on('line', (line) => {
    const trouble = boxes.applyChange(line);
    if (trouble !== undefined) process.stderr.write(`${trouble}\n`);
  });
}

function showNeedles(boxes: ClusterBoxes): void {
  const looks = boxes.boxes.map(({ world, nowMs }, box) => ({
    box,
    gauge: boxes.gaugeOf[box],
    ms: Math.round(nowMs),
    angleFraction: Math.round(world.vehicle.needle.angleFraction * 1e5) / 1e5,
    senderOhm: Number.isFinite(world.pathOhm) ? Math.round(world.pathOhm * 1000) / 1000 : null,
  }));
  try {
    writeSync(NEEDLE_FD, looks.map((look) => `${JSON.stringify(look)}\n`).join(''));
  } catch {
    // Nobody looks, or looks too slowly: a look that is missed is gone.
  }
}

function pace(boxes: ClusterBoxes): void {
  let lastMs = performance.now();
  let shownMs = 0;
  setInterval(() => {
    const nowMs = performance.now();
    boxes.advance(Math.min(nowMs - lastMs, LONGEST_LEAP_MS));
    lastMs = nowMs;
    if (boxes.nowMs - shownMs < NEEDLE_PERIOD_MS) return;
    shownMs = boxes.nowMs;
    showNeedles(boxes);
  }, PACE_MS);
}

main();
