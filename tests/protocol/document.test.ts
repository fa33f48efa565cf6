import { execFileSync } from 'node:child_process';
import { readFileSync, writeFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { documentFaults, documentLimits, documentMessages, documentRefusals } from '../../protocol';

const root = new URL('../..', import.meta.url).pathname;
const path = `${root}protocol/README.md`;
const sections = {
  limits: documentLimits,
  messages: documentMessages,
  faults: documentFaults,
  refusals: documentRefusals,
};

const isUpdating = process.env.UPDATE_DOCUMENTS === '1';

function withTables(text: string): string {
  let result = text;
  for (const [name, document] of Object.entries(sections)) {
    const block = new RegExp(`(<!-- generated: ${name} -->\n)[\\s\\S]*?(<!-- end -->)`);
    expect(block.test(result), `README has a place for ${name}`).toBe(true);
    result = result.replace(
      block,
      (_, start: string, end: string) => `${start}\n${document().join('\n')}\n\n${end}`,
    );
  }
  return execFileSync(`${root}node_modules/.bin/oxfmt`, ['--stdin-filepath', 'README.md'], {
    input: result,
  }).toString();
}

describe('the wire specification', () => {
  it('shows the tables that the code has (UPDATE_DOCUMENTS=1 writes them anew)', () => {
    const text = readFileSync(path, 'utf8');
    const wanted = withTables(text);
    if (isUpdating) writeFileSync(path, wanted);
    else expect(text).toBe(wanted);
  });
});
