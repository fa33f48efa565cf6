import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import * as typescript from 'typescript';
import { describe, expect, it } from 'vitest';
import { wordList } from '../host/words/word-list';

const { discarded, words } = wordList;

const root = fileURLToPath(new URL('..', import.meta.url));

/** Where what a person reads is written. The core has no sentences but those of its file readers. */
const parts = [
  'host/words',
  'host/job',
  'host/catalogue',
  'host/bench',
  'host/server',
  'host/store',
  'host/record',
  'host/web',
  'host/cli',
  'host/core/text',
];

const sources = parts.flatMap((part) =>
  readdirSync(join(root, part), { recursive: true, encoding: 'utf8' })
    .filter((name) => /\.tsx?$/.test(name) && !name.endsWith('.d.ts'))
    .map((name) => join(part, name)),
);

/** Text of a file that may reach a person: strings, templates and page text, without comments and imports. */
function textsOf(file: string, source: string): string[] {
  const texts: string[] = [];
  const tree = typescript.createSourceFile(
    file,
    source,
    typescript.ScriptTarget.Latest,
    true,
    file.endsWith('x') ? typescript.ScriptKind.TSX : typescript.ScriptKind.TS,
  );
  const visit = (node: typescript.Node): void => {
    if (typescript.isImportDeclaration(node) || typescript.isRegularExpressionLiteral(node)) return;
    if (typescript.isTemplateExpression(node)) texts.push(node.getText(tree));
    else if (typescript.isStringLiteralLike(node) || typescript.isJsxText(node)) texts.push(node.text);
    typescript.forEachChild(node, visit);
  };
  visit(tree);
  return texts;
}

/** Only what has such a word at all is taken apart. */
const mayHave = (source: string): boolean => discarded.some(([pattern]) => pattern.test(source));

const found = (file: string, source: string): string[] =>
  (mayHave(source) ? textsOf(file, source) : []).flatMap((text) =>
    discarded
      .filter(([pattern]) => pattern.test(text))
      .map(([, instead]) => `${file}: "${text.trim().slice(0, 90)}": say ${instead}`),
  );

describe('the words of the house', () => {
  it('have no discarded word in any text that a person reads', () => {
    const wrong = sources
      .filter((file) => file !== 'host/words/word-list.ts')
      .flatMap((file) => found(file, readFileSync(join(root, file), 'utf8')));
    expect(sources.length).toBeGreaterThan(200);
    expect(wrong).toEqual([]);
  });

  it.each([
    ["const words = 'Pass over this';"],
    ['const words = `error ${size.toFixed(1)} K at ${at}`;'],
    ['const page = <p>The gauge is fed 12 V</p>;'],
    ["const label = 'sure to';"],
    ['const line = `+-${size}`;'],
    ['const line = `worst ${worst} V, rms ${typical} V`;'],
    ["const chance = 'p > 0.999';"],
    ['const head = <th>Leg</th>;'],
  ])('would be refused in %s', (source) => {
    expect(found('planted.tsx', source)).toHaveLength(1);
  });

  it('leave comments, names and Beta alone', () => {
    expect(found('planted.ts', '// passed over\nconst B = `B 25/85 = ${beta.toFixed(0)} K`;')).toEqual([]);
  });

  it('are each explained once, in order', () => {
    const names = words.map(([word]) => word);
    expect(new Set(names).size).toBe(names.length);
    expect(names.slice(0, -1)).toEqual([...names.slice(0, -1)].sort());
  });
});
