import { existsSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { faults } from './faults.mjs';

/** The list rots when the code moves on: a fault that fits nowhere proves nothing, and nobody runs it every day. */
describe('the list of deliberate faults', () => {
  it.each(faults)('$file: $rule', ({ file, from, to, tests }) => {
    expect(to).not.toBe(from);
    expect(readFileSync(file, 'utf8').split(from), `how often "${from}" stands in ${file}`).toHaveLength(2);
    expect(tests.length).toBeGreaterThan(0);
    for (const each of tests) expect(existsSync(each), each).toBe(true);
  });

  it('plants each fault once', () => {
    expect(new Set(faults.map(({ file, from }) => `${file} ${from}`)).size).toBe(faults.length);
  });

  it('has faults in every part', () => {
    const parts = ['core', 'bench', 'server', 'store', 'link', 'web'].map((part) => `host/${part}/`);
    for (const part of [...parts, 'firmware-ts/'])
      expect(
        faults.filter(({ file }) => file.startsWith(part)),
        part,
      ).not.toHaveLength(0);
  });
});
