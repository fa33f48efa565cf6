import { parseArgs } from 'node:util';

export const scenarioNames = [
  'calibrate',
  'hold',
  'measure',
  'pulsing',
  'ohmmeter',
  'hung-bus',
  'clock-wrap',
  'power-cut',
] as const;

export type ScenarioName = (typeof scenarioNames)[number];

export type RunOptions = {
  readonly image: string;
  readonly bootRom: string;
  readonly emulator: string;
  readonly map: string | undefined;
  /** File that the end of the flash is read from when it is there, and written to after a calibration. */
  readonly storage: string | undefined;
  readonly missClocks: number;
  readonly seconds: number;
  readonly ohms: readonly number[];
  readonly scenarios: readonly ScenarioName[];
};

export const USAGE = `node .build/chip/main.js --image FILE.uf2 --boot-rom FILE --emulator FOLDER [options] [SCENARIO...]

  --image FILE       what would be flashed, as the SDK makes it
  --boot-rom FILE    boot ROM of the RP2040, 16 KB, plain bytes
  --emulator FOLDER  where the npm package rp2040js was installed, outside this project
  --map FILE         xs_pico.map beside the image: times the firmware's turns
  --storage FILE     keeps the calibration between runs
  --miss-clocks N    clocks of a miss of the flash cache; 50, 0 = flash as fast as RAM
  --seconds N        chip time of each hold; 60
  --ohm N,N,...      resistances to hold; 8,30,100,1000,6000
  SCENARIO           ${scenarioNames.join(', ')}; all when none is named`;

const isScenario = (name: string): name is ScenarioName => scenarioNames.some((known) => known === name);

function wholeNumber(text: string, name: string): number {
  const value = Number(text);
  if (Number.isInteger(value) && value >= 0) return value;
  throw new Error(`--${name} wants a whole number, not "${text}".\n${USAGE}`);
}

/** Reads the command line. Throws with the usage when something is missing or unknown. */
export function readArguments(given: readonly string[]): RunOptions {
  const text = { type: 'string' } as const;
  const { values, positionals } = parseArgs({
    args: [...given],
    allowPositionals: true,
    options: {
      image: text,
      'boot-rom': text,
      emulator: text,
      map: text,
      storage: text,
      'miss-clocks': { ...text, default: '50' },
      seconds: { ...text, default: '60' },
      ohm: { ...text, default: '8,30,100,1000,6000' },
    },
  });
  const { image, 'boot-rom': bootRom, emulator, map, storage } = values;
  if (image === undefined || bootRom === undefined || emulator === undefined) {
    throw new Error(
      `--image, --boot-rom and --emulator are needed; none of them comes with this project.\n${USAGE}`,
    );
  }
  const unknown = positionals.find((name) => !isScenario(name));
  if (unknown !== undefined) throw new Error(`There is no scenario "${unknown}".\n${USAGE}`);
  const named = positionals.filter(isScenario);
  return {
    image,
    bootRom,
    emulator,
    map,
    storage,
    missClocks: wholeNumber(values['miss-clocks'], 'miss-clocks'),
    seconds: wholeNumber(values.seconds, 'seconds'),
    ohms: values.ohm.split(',').map((ohm) => wholeNumber(ohm, 'ohm')),
    scenarios: named.length > 0 ? named : scenarioNames,
  };
}
