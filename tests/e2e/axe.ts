import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type { Page } from 'playwright-core';

const axeSource = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

type Violation = {
  readonly id: string;
  readonly nodes: readonly { readonly html: string; readonly failureSummary?: string }[];
};

/** What the accessibility checker finds wrong with the page as it is now, each with its place. */
export async function violations(page: Page): Promise<string[]> {
  await page.evaluate(axeSource);
  const found = await page.evaluate<Violation[]>(
    'axe.run(document, { resultTypes: ["violations"] }).then((result) => result.violations)',
  );
  return found.map(
    (each) =>
      `${each.id}: ${each.nodes
        .map((node) => `${node.html} ${node.failureSummary ?? ''}`)
        .slice(0, 2)
        .join(' | ')}`,
  );
}
