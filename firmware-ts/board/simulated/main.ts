// The simulated box as a program: standard input and output are its serial line; with --watched file descriptor 3 shows
// the needle and 4 takes changes of the world. `--help` tells the rest.
import { writeSync } from 'node:fs';
import { Socket } from 'node:net';
import { createInterface } from 'node:readline';
import { parseArgs } from 'node:util';
import { SimulatedBox } from './bench';
import { describeGauges } from './describe';
import { simulatedGauge, simulatedGauges } from './gauges/catalogue';
import { applyChange } from './world-change';

const NEEDLE_FD = 3;
const WORLD_FD = 4;
const PACE_MS = 2;
/** A machine that slept or was busy for longer does not make the box catch up: it would only find the host silent. */
const LONGEST_LEAP_MS = 100;
const NEEDLE_PERIOD_MS = 50;
const DAY_MS = 86_400_000;
const CALIBRATED_DAYS_AGO = 30;
const MIN_SPEED = 0.1;
const MAX_SPEED = 1000;
const MAX_SERIAL = 0xffff_ffff;

const help = `simulated box: a serial line on standard input and output
  --gauge NAME      one of ${simulatedGauges.map(({ name }) => name).join(', ')}
  --seed N          one number makes one box and one day (default 1)
  --speed X         the needle lives X times faster than the box (default 1); the box keeps real time
  --watched         descriptor 3 shows the needle (20 lines of JSON a second), 4 takes changes of the world (lines of JSON)
  --serial N        serial number the box gives in its greeting
  --uncalibrated    the box comes without an element table
  --describe        prints the gauges as JSON and ends
`;

function fail(message: string): never {
  process.stderr.write(`${message}\n`);
  process.exit(2);
}

function options() {
  try {
    return parseArgs({
      options: {
        gauge: { type: 'string', default: 'thermal-temperature' },
        seed: { type: 'string', default: '1' },
        speed: { type: 'string', default: '1' },
        serial: { type: 'string' },
        watched: { type: 'boolean', default: false },
        uncalibrated: { type: 'boolean', default: false },
        describe: { type: 'boolean', default: false },
        help: { type: 'boolean', default: false },
      },
    }).values;
  } catch (reason) {
    return fail(`${reason instanceof Error ? reason.message : String(reason)}; --help tells what there is`);
  }
}

function main(): void {
  const given = options();
  if (given.help) return void process.stdout.write(help);
  if (given.describe) return void process.stdout.write(`${JSON.stringify(describeGauges(), null, 2)}\n`);
  const gauge =
    simulatedGauge(given.gauge) ?? fail(`--gauge ${given.gauge}: no such gauge; --help lists them`);
  const seed = Number(given.seed);
  const speed = Number(given.speed);
  if (!Number.isInteger(seed)) fail(`--seed ${given.seed}: must be a whole number`);
  if (!(speed >= MIN_SPEED && speed <= MAX_SPEED))
    fail(`--speed ${given.speed}: must be ${MIN_SPEED} to ${MAX_SPEED}`);
  const serial = given.serial === undefined ? undefined : Number(given.serial);
  if (serial !== undefined && !(Number.isInteger(serial) && serial >= 0 && serial <= MAX_SERIAL))
    fail(`--serial ${given.serial}: must be a whole number of at most 32 bits`);
  const today = Math.floor(Date.now() / DAY_MS);
  const calibrated = given.uncalibrated ? {} : { calibrationDay: today - CALIBRATED_DAYS_AGO };
  const box = new SimulatedBox({
    gauge,
    seed,
    speed,
    ...calibrated,
    ...(serial === undefined ? {} : { boxSerial: serial }),
    bootSalt: Math.floor(Math.random() * 2 ** 32),
    sent: (bytes) => process.stdout.write(bytes),
  });
  listenToHost(box);
  // Asked for, never guessed from what is open: a program that started us may have left us descriptors of its own.
  if (given.watched) listenToWorld(box);
  pace(box, given.watched);
}

function listenToHost(box: SimulatedBox): void {
  process.stdin.on('data', (bytes: Buffer) => box.receive(bytes));
  // The cable is gone for good: nobody can ever hear this box again.
  process.stdin.on('end', () => process.exit(0));
  process.stdout.on('error', () => process.exit(0));
}

function listenToWorld(box: SimulatedBox): void {
  // A socket, not a file stream: a blocked file read would keep the program from ending.
  const lines = new Socket({ fd: WORLD_FD, readable: true, writable: false });
  lines.on('error', () => undefined);
  createInterface({ input: lines }).on('line', (line) => {
    const trouble = applyChange(box, line);
    if (trouble !== undefined) process.stderr.write(`${trouble}\n`);
  });
}

function showNeedle(box: SimulatedBox): void {
  const { world, nowMs } = box;
  const { angleFraction } = world.vehicle.needle;
  const ohm = world.pathOhm;
  const { calPost } = world;
  const senderOhm = Number.isFinite(ohm) ? Math.round(ohm * 1000) / 1000 : null;
  const look = {
    ms: Math.round(nowMs),
    angleFraction: Math.round(angleFraction * 1e5) / 1e5,
    senderOhm,
    ...(calPost.kind === 'bath' ? { thermometer: Math.round(calPost.bath.thermometer * 10) / 10 } : {}),
  };
  try {
    writeSync(NEEDLE_FD, `${JSON.stringify(look)}\n`);
  } catch {
    // Nobody looks, or looks too slowly: a look that is missed is gone.
  }
}

function pace(box: SimulatedBox, hasNeedle: boolean): void {
  let lastMs = performance.now();
  let shownMs = 0;
  setInterval(() => {
    const nowMs = performance.now();
    box.advance(Math.min(nowMs - lastMs, LONGEST_LEAP_MS));
    lastMs = nowMs;
    if (!hasNeedle || box.nowMs - shownMs < NEEDLE_PERIOD_MS) return;
    shownMs = box.nowMs;
    showNeedle(box);
  }, PACE_MS);
}

main();
