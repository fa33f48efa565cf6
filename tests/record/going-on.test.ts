import { describe, expect, it } from 'vitest';
import type { JobEvent } from '../../host/job/schema/events';
import { recordOfJournal } from '../../host/record/record-file';
import { findingsOfJob } from '../../host/server/findings/findings-of-job';
import { barely, longTables, provedCoolant } from './record-jobs';

function recordOf(events: readonly JobEvent[]) {
  const record = recordOfJournal({ events, findings: findingsOfJob, program: '0.1.0', photographs: [] });
  if (record === undefined) throw new Error('no record');
  return record;
}

/** What a drawing says, piece by piece, in the order it is drawn. */
const said = (svg: string): string[] =>
  [...svg.matchAll(/<text[^>]*>([^<]*)</g)].map(([, text = '']) => text);

describe('what is too long for a sheet', () => {
  it('goes on under its heading, and no line of a remark stands alone at a foot or a head', () => {
    const sheets = recordOf(longTables()).svgSheets().map(said);
    const last = sheets.at(-1) ?? [];
    const at = last.indexOf('Remarks (continued)');
    expect(at).toBeGreaterThan(0);
    // Each remark of that job takes three lines: a sheet ends with a whole one, and the next begins with a whole one.
    expect(last[at + 1]).toMatch(/Remark \d+\./);
    expect(sheets.flat().filter((text) => text === 'Remarks')).toHaveLength(1);
  });
});

describe('the label for the loom', () => {
  it('asks to leave in what was fitted, and nothing where nothing was', () => {
    const words = (events: readonly JobEvent[]) => said(recordOf(events).labelSvg()).join(' ');
    expect(words(provedCoolant())).toMatch(/16 .* in the sender lead.*Do not remove/);
    expect(words(barely())).toContain('No part was added.');
    expect(words(barely())).not.toContain('Do not remove');
  });
});
