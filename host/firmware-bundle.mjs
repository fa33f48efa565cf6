// Bundles the firmware as one small script. What only a person reads (sentences of the catalogues, meanings of fields)
// stays out of it, and words of our own, names of properties and words in quotes alike, become one or two letters: the
// microcontroller stores numbers, not prose.
import { build } from 'esbuild';
import { readFile } from 'node:fs/promises';
import { minify } from 'terser';
import ts from 'typescript';

const root = new URL('..', import.meta.url).pathname;

const text = `'(?:[^'\\\\]|\\\\.)*'|"(?:[^"\\\\]|\\\\.)*"|\`(?:[^\`\\\\]|\\\\.)*\``;
const wire = '\\b(u8|u16|u32|i32|resistance|day)\\(';
/** The meaning of a field, the first argument of each field, is for people. */
const meanings = [
  [new RegExp(`${wire}\\s*(?:${text}|meaning)\\s*,?\\s*`, 'g'), '$1('],
  [/\(meaning: string(?:, |(?=\)))/g, '('],
  [/\bmeaning,/g, ''],
  [/\bmeaning: string;/g, ''],
];
/** So is the purpose of a message, and what an error of the programmer says. */
const sentences = [
  [new RegExp(`\\bpurpose:\\s*(?:${text})\\s*,?`, 'g'), ''],
  [new RegExp(`\\bsuper\\(\\s*(?:${text})\\s*,?\\s*\\)`, 'g'), 'super()'],
];

const withoutProse = {
  name: 'without-prose',
  setup(context) {
    const filter = /(?:protocol\/(?:messages|field|codec)|calibration\/record)\.ts$/;
    context.onLoad({ filter }, async ({ path }) => {
      let contents = await readFile(path, 'utf8');
      for (const [pattern, replacement] of [...meanings, ...sentences]) {
        contents = contents.replace(pattern, replacement);
      }
      return { contents, loader: 'ts' };
    });
  },
};

const BUILT_IN =
  'Object Function Array Number String Math Map Set Promise JSON Error RangeError Reflect ArrayBuffer DataView ' +
  'Uint8Array Uint32Array Float32Array Float64Array Symbol Date RegExp';
/** The language has these names too, of functions and of regular expressions, which the firmware never asks. */
const OURS = ['name', 'input', 'source', 'flags'];

/** Names that the language itself knows, and the one by which the XS worker calls what it runs. */
function namesOfTheLanguage() {
  const names = new Set(['constructor', 'prototype', 'handleCommand']);
  const addFrom = (start) => {
    for (let at = start; at !== null && at !== undefined; at = Object.getPrototypeOf(at)) {
      for (const name of Object.getOwnPropertyNames(at)) names.add(name);
    }
  };
  for (const name of BUILT_IN.split(' ')) {
    addFrom(globalThis[name]);
    addFrom(globalThis[name].prototype);
  }
  for (const name of OURS) names.delete(name);
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

/** Catalogues and electrical design: rows are asked for by name, so what nobody asks for need not be there. */
const TABLES = /(?:protocol\/(?:faults|refusals|limits)|board\/reference-design)\.ts$/;

/** True for what lies in a module whose objects are such tables; esbuild writes each module's path above it. */
function tableTest(script) {
  const heads = [...script.matchAll(/^\s*\/\/ (\S+\.ts)$/gm)];
  return (place) => {
    const head = heads.findLast(({ index }) => index < place);
    return head !== undefined && TABLES.test(head[1]);
  };
}

/** Names that a script asks for: after a dot, when it takes an object apart, or in quotes. */
function namesAskedFor(source) {
  const names = new Set(quotedWords(source).map((node) => node.text));
  walk(source, (node) => {
    if (ts.isPropertyAccessExpression(node)) names.add(node.name.text);
    if (ts.isBindingElement(node)) names.add((node.propertyName ?? node.name).text);
  });
  return names;
}

/** Where properties of tables lie that nobody asks for. */
function unaskedProperties(source) {
  const asked = namesAskedFor(source);
  const isTable = tableTest(source.text);
  const places = [];
  walk(source, (node) => {
    if (!ts.isPropertyAssignment(node) && !ts.isShorthandPropertyAssignment(node)) return;
    if (ts.isComputedPropertyName(node.name) || asked.has(node.name.text)) return;
    // A catalogue is kept as a whole: its rows are looked up by codes that come from elsewhere.
    if (!isTable(node.getStart()) || /^[A-Z]/.test(node.name.text)) return;
    const [comma = ''] = /^\s*,/.exec(source.text.slice(node.end)) ?? [];
    places.push({ start: node.getStart(), end: node.end + comma.length });
  });
  return places;
}

/** Without the properties that nobody asks for; in a parsed tree an inner place comes after its outer one. */
function withoutUnasked(script) {
  const places = unaskedProperties(parse('bundle.js', script));
  let result = '';
  let at = 0;
  for (const { start, end } of places) {
    if (start < at) continue;
    result += script.slice(at, start);
    at = end;
  }
  return result + script.slice(at);
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
  const options = { bundle: true, format, target: 'es2022', write: false, logLevel: 'silent' };
  const bundle = await build({
    ...options,
    entryPoints: [entry],
    absWorkingDir: root,
    metafile: true,
    plugins: [withoutProse],
  });
  const inputs = Object.keys(bundle.metafile.inputs).map((input) => `${root}${input}`);
  const script = withoutUnasked(bundle.outputFiles[0].text);
  const { result, kept } = marked(script, await wordsOfTheFirmware(inputs));
  const reserved = [...namesOfTheLanguage(), ...(await namesOfTheDevice()), ...kept];
  const small = await build({
    ...options,
    stdin: { contents: result },
    minify: true,
    mangleProps: /^[A-Za-z]/,
    mangleQuoted: true,
    mangleCache: {},
    reserveProps: new RegExp(`^(?:${reserved.map((name) => name.replace(/\W/g, '\\$&')).join('|')})$`),
  });
  // A second compressor joins what the first leaves apart. Functions stay where they are: made anew at every call, as
  // `reduce_funcs` would have them, they cost XS 13 KB of heap.
  const { code } = await minify(small.outputFiles[0].text, {
    ecma: 2020,
    module: format === 'esm',
    toplevel: true,
    compress: { passes: 3, unsafe: true, unsafe_arrows: true, keep_fargs: false, reduce_funcs: false },
  });
  return { text: code, bytes: Buffer.byteLength(code), names: small.mangleCache };
}
