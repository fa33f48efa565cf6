// Bundles the firmware as one small script. What only a person reads (sentences of the catalogues, meanings of fields)
// stays out of it, and words of our own, names of properties and words in quotes alike, become one or two letters: the
// microcontroller stores numbers, not prose.
import { build, transform } from 'esbuild';
import { readFile } from 'node:fs/promises';
import { minify } from 'terser';
import ts from 'typescript';

const root = new URL('..', import.meta.url).pathname;

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

/** Calls `visit` for every node of a script. */
function walk(source, visit) {
  const step = (node) => {
    visit(node);
    ts.forEachChild(node, step);
  };
  step(source);
}

const parse = (path, contents) => ts.createSourceFile(path, contents, ts.ScriptTarget.ES2022, true);

/** Names and words by which board and firmware know each other: all that device.ts and ecma419.ts declare. */
async function namesOfTheDevice() {
  const names = new Set();
  for (const file of ['device.ts', 'ecma419.ts']) {
    const path = `${root}firmware-ts/${file}`;
    walk(parse(path, await readFile(path, 'utf8')), (node) => {
      if (ts.isPropertySignature(node) || ts.isMethodSignature(node)) names.add(node.name.text);
      if (ts.isLiteralTypeNode(node) && ts.isStringLiteral(node.literal)) names.add(node.literal.text);
    });
  }
  return names;
}

const isWord = (value) => /^[A-Za-z][A-Za-z0-9_-]+$/.test(value);

/** The quoted words of a script that may become shorter: not file names, and not what `typeof` answers. */
function quotedWords(source) {
  const found = [];
  walk(source, (node) => {
    if (!ts.isStringLiteral(node) || !isWord(node.text)) return;
    const { parent } = node;
    if (ts.isImportDeclaration(parent) || ts.isExportDeclaration(parent)) return;
    if (ts.isBinaryExpression(parent) && [parent.left, parent.right].some(ts.isTypeOfExpression)) return;
    found.push(node);
  });
  return found;
}

/** Words that firmware and protocol themselves put into quotes. */
async function wordsOfTheFirmware(inputs) {
  const words = new Set();
  for (const input of inputs) {
    if (!/(?:^|\/)(?:protocol|firmware-ts)\//.test(input)) continue;
    for (const { text } of quotedWords(parse(input, await readFile(input, 'utf8')))) words.add(text);
  }
  return words;
}

/** Marks each quoted word of the firmware's own, so that it is shortened as the property of the same name is. */
function marked(script, words) {
  const kept = new Set();
  const places = [];
  for (const node of quotedWords(parse('bundle.js', script))) {
    if (words.has(node.text)) places.push(node.getStart());
    else kept.add(node.text);
  }
  let result = script;
  for (const place of places.reverse()) {
    result = `${result.slice(0, place)}/* @__KEY__ */ ${result.slice(place)}`;
  }
  return { result, kept };
}

/**
 * One script of an entry and all it imports, minified as for the microcontroller.
 * @param {string} entry absolute path
 * @param {{ format?: 'esm' | 'iife' }} [options]
 * @returns {Promise<{ text: string, bytes: number, names: Record<string, string> }>} `names`: what became of each word
 */
export async function firmwareBundle(entry, { format = 'esm' } = {}) {
  const bundle = await build({
    entryPoints: [entry],
    absWorkingDir: root,
    bundle: true,
    format,
    target: 'es2022',
    write: false,
    metafile: true,
    logLevel: 'silent',
    plugins: [withoutProse],
  });
  const inputs = Object.keys(bundle.metafile.inputs).map((input) => `${root}${input}`);
  const { result, kept } = marked(bundle.outputFiles[0].text, await wordsOfTheFirmware(inputs));
  const reserved = [...namesOfTheLanguage(), ...(await namesOfTheDevice()), ...kept];
  const small = await transform(result, {
    minify: true,
    format,
    target: 'es2022',
    mangleProps: /^[A-Za-z]/,
    mangleQuoted: true,
    mangleCache: {},
    reserveProps: new RegExp(`^(?:${reserved.map((name) => name.replace(/\W/g, '\\$&')).join('|')})$`),
  });
  // A second compressor joins what the first leaves apart.
  const { code } = await minify(small.code, {
    ecma: 2020,
    module: format === 'esm',
    toplevel: true,
    compress: { passes: 3, unsafe_arrows: true, unsafe_methods: true, keep_fargs: false },
  });
  return { text: code, bytes: Buffer.byteLength(code), names: small.mangleCache };
}
