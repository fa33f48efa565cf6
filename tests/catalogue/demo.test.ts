import { createHash } from 'node:crypto';
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { documentText, readDocument } from '../../host/catalogue';
import { demoDocuments } from '../support/catalogue/demo-recipe';

const FILE = join(import.meta.dirname, '..', '..', 'demo-sessions', 'shop-catalogue.ndjson');
const hashOf = (text: string): string => createHash('sha256').update(text, 'utf8').digest('hex');
const recipe = (): string =>
  demoDocuments((each) => hashOf(documentText(each)))
    .map((each) => `${documentText(each)}\n`)
    .join('');

describe('the demo catalogue', () => {
  it('is what its recipe makes (UPDATE_DOCUMENTS=1 writes it anew)', () => {
    if (process.env.UPDATE_DOCUMENTS !== undefined) writeFileSync(FILE, recipe());
    expect(readFileSync(FILE, 'utf8')).toBe(recipe());
  });

  it('holds at least 60 gauges of 12 models and 40 senders, all marked', () => {
    const documents = readFileSync(FILE, 'utf8')
      .trimEnd()
      .split('\n')
      .map((line) => readDocument(line));
    const cards = documents.flatMap((each) => (each.kind === 'card' ? [each.card] : []));
    const gauges = cards.filter(({ kind }) => kind === 'gauge');
    const models = documents.flatMap((each) => {
      if (each.kind !== 'statement' || each.statement.says !== 'belongs-to-model') return [];
      return [each.statement];
    });
    const ofGauges = models.filter(({ about }) =>
      gauges.some((card) => about.includes(hashOf(documentText(card)))),
    );
    expect(gauges.length).toBeGreaterThanOrEqual(60);
    expect(ofGauges).toHaveLength(12);
    expect(cards.length - gauges.length).toBeGreaterThanOrEqual(40);
    expect(cards.every(({ simulated, demo }) => simulated && demo === true)).toBe(true);
    expect(documents.some(({ kind }) => kind === 'bad')).toBe(false);
  });
});
