// Bundles the firmware as one small script. What only a person reads (sentences of the catalogues, meanings of fields)
// stays out of it, and property names of our own become short: the microcontroller stores numbers, not prose.
import { build } from 'esbuild';
import { readFile, readdir } from 'node:fs/promises';
import { dirname } from 'node:path';

const text = `'(?:[^'\\\\]|\\\\.)*'|"(?:[^"\\\\]|\\\\.)*"|\`(?:[^\`\\\\]|\\\\.)*\``;
const prose = [
  // Sentences of faults, refusals, limits and messages: the whole property goes.
  [new RegExp(`\\b(?:purpose|remedy|why|unit):\\s*(?:${text})\\s*,?`, 'g'), ''],
  [new RegExp(`\\bsays:\\s*\\([^)]*\\)\\s*=>\\s*(?:${text})\\s*,?`, 'g'), ''],
  // Meanings of fields: the first argument of each field.
  [new RegExp(`\\b(u8|u16|u32|i32|resistance|day)\\(\\s*(?:${text}|meaning)`, 'g'), '$1(0'],
];

const withoutProse = {
  name: 'without-prose',
  setup(context) {
    context.onLoad({ filter: /protocol\/(messages|faults|refusals|limits)\.ts$/ }, async ({ path }) => {
      let contents = await readFile(path, 'utf8');
      for (const [pattern, replacement] of prose) contents = contents.replace(pattern, replacement);
      return { contents, loader: 'ts' };
    });
  },
};

/** Names that the language itself knows. */
function namesOfTheLanguage() {
  const names = new Set(['constructor', 'prototype', 'handleCommand']);
  const roots = [
    Object,
    Function,
    Array,
    Number,
    String,
    Math,
    Map,
    Set,
    Promise,
    JSON,
    Error,
    RangeError,
    Reflect,
  ];
  const buffers = [
    ArrayBuffer,
    DataView,
    Uint8Array,
    Uint32Array,
    Float32Array,
    Float64Array,
    Symbol,
    Date,
    RegExp,
  ];
  for (const root of [...roots, ...buffers]) {
    for (let at = root; at !== null && at !== undefined; at = Object.getPrototypeOf(at)) {
      for (const name of Object.getOwnPropertyNames(at)) names.add(name);
    }
    for (let at = root.prototype; at !== null && at !== undefined; at = Object.getPrototypeOf(at)) {
      for (const name of Object.getOwnPropertyNames(at)) names.add(name);
    }
  }
  return names;
}

/** Names by which the board and the firmware know each other: they must stay as ECMA-419 and device.ts have them. */
const deviceNames = [
  ...['io', 'system', 'storage', 'boot', 'boxSerial', 'isSimulated', 'nonce', 'cause', 'restartCount'],
  ...['Digital', 'DigitalBank', 'Analog', 'I2C', 'Serial', 'Input', 'InputPullUp', 'Output'],
  ...['now', 'set', 'clear', 'read', 'write', 'close', 'pin', 'pins', 'mode', 'resolution'],
  ...['data', 'clock', 'hz', 'address', 'receive', 'transmit', 'baud', 'format', 'onReadable', 'onWritable'],
];

/** Words in quotes anywhere in the sources: a name that is also a value, looked up in a table, must stay as it is. */
async function quotedWords(entry) {
  const root = new URL('..', import.meta.url).pathname;
  const words = new Set();
  for (const folder of [`${root}protocol`, `${root}firmware-ts`, dirname(entry)]) {
    for (const file of await readdir(folder, { recursive: true })) {
      if (!file.endsWith('.ts') || file.includes('node_modules')) continue;
      const source = await readFile(`${folder}/${file}`, 'utf8');
      for (const [, word] of source.matchAll(/'([A-Za-z][A-Za-z0-9]*)'/g)) words.add(word);
    }
  }
  return words;
}

/**
 * One script of an entry and all it imports, minified as for the microcontroller.
 * @param {string} entry absolute path
 * @param {{ format?: 'esm' | 'iife' }} [options]
 * @returns {Promise<{ text: string, bytes: number }>}
 */
export async function firmwareBundle(entry, { format = 'esm' } = {}) {
  const names = [...namesOfTheLanguage(), ...deviceNames, ...(await quotedWords(entry))];
  const reserved = names.map((name) => name.replace(/\W/g, '\\$&'));
  const { outputFiles } = await build({
    entryPoints: [entry],
    bundle: true,
    minify: true,
    format,
    target: 'es2022',
    write: false,
    logLevel: 'silent',
    plugins: [withoutProse],
    mangleProps: /^[a-z]/,
    reserveProps: new RegExp(`^(?:${reserved.join('|')})$`),
  });
  const [{ text: script, contents }] = outputFiles;
  return { text: script, bytes: contents.length };
}
