import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type { Page } from 'playwright-core';

const axeSource = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

type Violation = {
  readonly id: string;
  readonly nodes: readonly { readonly html: string; readonly failureSummary?: string }[];
};

/** What the accessibility checker finds wrong with the page as it is now, each with its place; of `rules`, if given. */
export async function violations(page: Page, rules?: readonly string[]): Promise<string[]> {
  await page.evaluate(axeSource);
  const options = JSON.stringify({ resultTypes: ['violations'], ...(rules && { runOnly: rules }) });
  const found = await page.evaluate<Violation[]>(
    `axe.run(document, ${options}).then((result) => result.violations)`,
  );
  return found.map(
    (each) =>
      `${each.id}: ${each.nodes
        .map((node) => `${node.html} ${node.failureSummary ?? ''}`)
        .slice(0, 2)
        .join(' | ')}`,
  );
}
