import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { hostRefusals, refuse, statusOf } from '../host/refusals';

const root = fileURLToPath(new URL('..', import.meta.url));
const LIST = 'host/refusals/README.md';

const sourcesIn = (folder: string): string[] =>
  readdirSync(join(root, folder), { recursive: true, encoding: 'utf8' })
    .filter((name) => /\.tsx?$/.test(name) && !name.includes('node_modules'))
    .map((name) => readFileSync(join(root, folder, name), 'utf8'));

const codes = Object.keys(hostRefusals).sort();

/** The table of `host/refusals/README.md`; UPDATE_DOCUMENTS=1 writes it anew. */
const table = [
  '| code | HTTP | what to do |',
  '| --- | --- | --- |',
  ...Object.entries(hostRefusals)
    .sort(([one], [other]) => (one < other ? -1 : 1))
    .map(
      ([code, { status, remedy }]) =>
        `| \`${code}\` | ${status} | ${remedy === '' ? 'as it says' : remedy} |`,
    ),
].join('\n');

const withTable = (text: string): string =>
  text.replace(/<!-- codes -->[^]*<!-- end -->/, `<!-- codes -->\n\n${table}\n\n<!-- end -->`);

describe('the refusals of the host', () => {
  it('are all refused by some part, and no part refuses with a code that is not listed', () => {
    const sourceOf = (...parts: readonly string[]): string =>
      parts.flatMap((part) => sourcesIn(`host/${part}`)).join('\n');
    const source = sourceOf('job', 'store', 'bench', 'server');
    const all = `${source}\n${sourceOf('cli/commands/catalogue', 'cli/input')}`;
    expect(codes.filter((code) => !all.includes(`'${code}'`))).toEqual([]);
    expect(source).not.toMatch(/import \{[^}]*\brefuse\b[^}]*\} from '[./]*core\/result'/);
  });

  it('are each met by some test', () => {
    const texts = sourcesIn('tests').join('\n');
    expect(codes.filter((code) => !new RegExp(`\\b${code}\\b`).test(texts))).toEqual([]);
  });

  it('are documented with what to do', () => {
    const path = join(root, LIST);
    const text = readFileSync(path, 'utf8');
    if (process.env.UPDATE_DOCUMENTS === '1') writeFileSync(path, withTable(text));
    expect(readFileSync(path, 'utf8').replace(/ +/g, ' ').replace(/-{3,}/g, '---')).toContain(table);
  });

  it('say what was wrong, then what to do', () => {
    expect(refuse('BOX_BUSY', { title: 'Tern 1100' })).toEqual({
      kind: 'refused',
      code: 'BOX_BUSY',
      message: 'The box is driving another job, "Tern 1100". Pause that sweep first.',
    });
  });

  it.each([
    ['JOURNAL_MISSING', 404],
    ['NOT_PAIRED', 401],
    ['WATCH_ONLY', 403],
    ['TOO_FAST', 429],
    ['HOST_FULL', 503],
    ['SWEEP_RUNNING', 422],
    ['A_CODE_OF_THE_BOX', 422],
  ])('become HTTP by one list: %s is %s', (code, status) => {
    expect(statusOf(code)).toBe(status);
  });
});
