import { createHash } from 'node:crypto';
import { beforeAll, describe, expect, it } from 'vitest';
import { jobEvent, type JobEvent } from '../../host/job/schema/events';
import type { Picture } from '../../host/record/paper/items';
import { recordOfJournal, type JobRecord } from '../../host/record/record-file';
import { findingsOfJob } from '../../host/server/findings/findings-of-job';
import { someOf } from '../support/deep';
import { hasPdfReaders, readPdf, type ReadPdf, type Word } from '../support/pdf-readers';
import { jpeg } from '../support/pictures';
import { fuelWithThree, photographed } from './further-jobs';
import { barely, longNames, longTables, oilByHand, provedCoolant, refusedCoolant } from './record-jobs';

/** Every photograph that the journal names, the same picture each. */
const photographsOf = (events: readonly JobEvent[]): Picture[] =>
  events.flatMap((event) =>
    event.kind === 'photograph-added'
      ? [{ photographId: event.photographId, kind: 'jpeg', bytes: jpeg(), widthPixel: 160, heightPixel: 128 }]
      : [],
  );

const jobRecord = (events: readonly JobEvent[]): JobRecord => {
  const record = recordOfJournal({
    ...{ events, findings: findingsOfJob, program: '0.1.0' },
    photographs: photographsOf(events),
  });
  if (record === undefined) throw new Error('no record');
  return record;
};

/** Searches take seconds: each job is made, and reckoned, once. */
const made = new Map<string, { readonly events: readonly JobEvent[]; readonly record: JobRecord }>();
function once(name: string, make: () => readonly JobEvent[]) {
  const events = made.get(name)?.events ?? make();
  const known = made.get(name) ?? { events, record: jobRecord(events) };
  made.set(name, known);
  return known;
}
const recordOf = (name: keyof typeof jobs): JobRecord => once(name, jobs[name]).record;
/** Two programs read each sheet: once as well. */
const readings = new Map<string, Promise<ReadPdf>>();
function sheetsOf(name: keyof typeof jobs, paper: keyof typeof PAPERS): Promise<ReadPdf> {
  const known = readings.get(`${name} ${paper}`) ?? recordOf(name).pdf(paper).then(readPdf);
  readings.set(`${name} ${paper}`, known);
  return known;
}
const eventsOf = (name: keyof typeof jobs): readonly JobEvent[] => once(name, jobs[name]).events;

/** Sizes in points. Source: ISO 216 for A4, ANSI/ASME Y14.1 for Letter; 25.4 mm and 72 points to the inch. */
const POINT_PER_MM = 72 / 25.4;
const PAPERS = { a4: [210 * POINT_PER_MM, 297 * POINT_PER_MM], letter: [612, 792] } as const;
const SHEET = [190 * POINT_PER_MM, 257 * POINT_PER_MM] as const;

const jobs = {
  temperature: () => provedCoolant(),
  simulated: () => provedCoolant({ simulated: true }),
  refusal: refusedCoolant,
  'oil by hand': oilByHand,
  'fuel with three resistors': fuelWithThree,
  'with photographs': photographed,
  'long names': longNames,
  'long tables': longTables,
  'hardly begun': barely,
} as const;
const names = Object.keys(jobs).filter((each): each is keyof typeof jobs => each in jobs);

/** What two boxes share, as a part of the smaller one. */
function shared(one: Word, other: Word): number {
  const width = Math.min(one.xMax, other.xMax) - Math.max(one.xMin, other.xMin);
  const height = Math.min(one.yMax, other.yMax) - Math.max(one.yMin, other.yMin);
  if (!(width > 0 && height > 0)) return 0;
  const area = ({ xMin, xMax, yMin, yMax }: Word): number => (xMax - xMin) * (yMax - yMin);
  return (width * height) / Math.min(area(one), area(other));
}

/** Boxes of a reader reach from the highest accent to the lowest tail: lines that stand close share a little. */
const MOST_SHARED = 0.25;

const overlapping = (words: readonly Word[]): string[] =>
  words.flatMap((one, index) =>
    words
      .slice(index + 1)
      .filter((other) => other.page === one.page && shared(one, other) > MOST_SHARED)
      .map((other) => `sheet ${one.page}: "${one.text}" and "${other.text}"`),
  );

describe.skipIf(!hasPdfReaders())('the record as a PDF file', () => {
  describe.each(Object.keys(PAPERS).filter((each): each is keyof typeof PAPERS => each in PAPERS))(
    'on %s',
    (paper) => {
      // The two papers carry the same sheet: `npm test` looks at some of the jobs on the second.
      describe.each(paper === 'a4' ? names : someOf(names, 3))('of %s', (name) => {
        let pdf: ReadPdf;
        beforeAll(async () => {
          pdf = await sheetsOf(name, paper);
        });

        it('is opened by two readers without a complaint, every page of this paper', () => {
          expect(pdf.complaints).toBe('');
          expect(pdf.pages.length).toBeGreaterThanOrEqual(2);
          expect(pdf.otherPages.filter((text) => text.trim() !== '')).toHaveLength(pdf.pages.length);
          for (const { width, height } of pdf.pages) {
            expect(width).toBeCloseTo(PAPERS[paper][0], 1);
            expect(height).toBeCloseTo(PAPERS[paper][1], 1);
          }
        });

        it('has all its letters within, and they can be searched', () => {
          expect(pdf.fonts.length).toBeGreaterThanOrEqual(2);
          expect(pdf.fonts.filter(({ embedded, hasUnicode }) => !embedded || !hasUnicode)).toEqual([]);
        });

        it('says on every sheet what it is not, and which sheet it is', () => {
          for (const [index, { text }] of pdf.pages.entries()) {
            expect(text).toContain('no accredited certificate');
            expect(text).toContain(`sheet ${index + 1} of ${pdf.pages.length}`);
            expect(pdf.otherPages[index]).toContain('no accredited certificate');
          }
        });

        it('has no word outside of the sheet and none over another', () => {
          const [width, height] = PAPERS[paper];
          const left = (width - SHEET[0]) / 2;
          const top = (height - SHEET[1]) / 2;
          const outside = pdf.words.filter(
            ({ xMin, xMax, yMin, yMax }) =>
              xMin < left || xMax > left + SHEET[0] || yMin < top || yMax > top + SHEET[1],
          );
          expect(outside).toEqual([]);
          expect(overlapping(pdf.words)).toEqual([]);
        });
      });
    },
  );

  it('would see two words that lie over one another', () => {
    const word = { text: 'a', page: 1, xMin: 0, yMin: 0, xMax: 10, yMax: 10 };
    expect(overlapping([word, { ...word, xMin: 6 }])).toHaveLength(1);
  });

  it('says SIMULATED on every sheet of a simulated job and nowhere else', async () => {
    const simulated = await sheetsOf('simulated', 'a4');
    for (const { text } of simulated.pages) expect(text).toContain('SIMULATED');
    const real = await sheetsOf('temperature', 'a4');
    for (const { text } of real.pages) expect(text).not.toContain('SIMULATED');
  });

  it('keeps every letter of names from many lands, as both readers read them', async () => {
    const pdf = await sheetsOf('long names', 'a4');
    for (const text of [pdf.words.map((word) => word.text).join(' '), pdf.otherPages.join(' ')])
      for (const name of [
        'Čechová-Ångström',
        'Peña-Őrségi,',
        'Þórður',
        'Übergrößenträger',
        'Ωμέγα,',
        'Привет',
      ])
        expect(text).toContain(name);
  });

  it('takes two sheets for a whole job, simulated or not; a page of remarks and a hundred readings take more', async () => {
    const pagesOf = async (name: keyof typeof jobs): Promise<number> =>
      (await sheetsOf(name, 'a4')).pages.length;
    for (const name of ['temperature', 'simulated', 'refusal', 'oil by hand', 'hardly begun'] as const)
      expect(await pagesOf(name), name).toBe(2);
    expect(await pagesOf('long tables')).toBeGreaterThan(2);
  });

  it('says on each sheet but the last that it goes on, and how many there are, where two do not hold it', async () => {
    const record = recordOf('long tables');
    const { pages } = await sheetsOf('long tables', 'a4');
    expect(record.sheetCount).toBe(pages.length);
    expect(pages.map(({ text }) => text.includes(', continued'))).toEqual([
      ...pages.slice(1).map(() => true),
      false,
    ]);
    const { pages: two } = await sheetsOf('temperature', 'a4');
    for (const { text } of two) expect(text).not.toContain('continued');
  });

  it.each(['a4', 'letter'] as const)('leaves no heading without a row under it, on %s', async (paper) => {
    for (const name of paper === 'a4' ? names : someOf(names, 3)) {
      const lines = (await sheetsOf(name, paper)).pages.flatMap(({ text }) =>
        text.split('\n').filter((line) => line.trim() !== ''),
      );
      const at = lines.flatMap((line, index) => (/^\s*Every pair of the proof/.test(line) ? [index] : []));
      // A heading, the titles of the columns, and then a pair: as found or as left.
      for (const index of at)
        expect(lines.slice(index + 1, index + 5).join('\n'), `${name}: ${lines[index]}`).toMatch(
          /as (?:found|left)/,
        );
    }
  });

  it('draws the circuit on a further sheet where long names leave it no room on the first', async () => {
    const { pages } = await sheetsOf('long names', 'letter');
    expect(pages.filter(({ text }) => text.includes('Circuit as left'))).toHaveLength(1);
    expect(pages.filter(({ text }) => text.includes('behind the dash'))).toHaveLength(1);
  });

  it('tells of each resistor what its failing does, however many there are', async () => {
    const { pages } = await sheetsOf('fuel with three resistors', 'a4');
    const text = pages.map((page) => page.text).join('\n');
    const { failures, parts } = recordOf('fuel with three resistors').model;
    expect(parts).toHaveLength(3);
    expect(failures.length).toBeGreaterThanOrEqual(6);
    for (const { part } of failures) expect(text).toContain(part);
  });

  it('names a letter that no font here has by its number, and loses none; what is never seen is left out', async () => {
    const events = eventsOf('hardly begun').map((event) =>
      event.kind === 'job-opened'
        ? {
            ...event,
            vehicle:
              'Kar\u200b \u65e5\u672c \u03a9\u03bc\u03ad\u03b3\u03b1 \u041f\u0440\u0438\u0432\u0435\u0442',
          }
        : event,
    );
    const [first] = readPdf(await jobRecord(events).pdf('a4')).pages;
    expect(first?.text).toContain('Kar [U+65E5][U+672C] \u03a9\u03bc\u03ad\u03b3\u03b1');
    expect(first?.text).toContain('\u041f\u0440\u0438\u0432\u0435\u0442');
  });

  it('tells a customer what was found: in which vehicle, by whom, how far off and how well that is known', async () => {
    const pdf = await sheetsOf('temperature', 'a4');
    const [first] = pdf.pages;
    for (const said of [
      'Mrs A. Lindqvist',
      'Quarry Lane Instrument Works',
      'LQV 164',
      'HS 20731',
      'J. Abara',
      'Harrow Six saloon, 1964',
    ])
      expect(first?.text).toContain(said);
    // Half a division of 5, rectangular: 5 / (2 sqrt 3) = 1.443; with the reference's 0.5: 1.528; twice that: 3.1.
    expect(first?.text).toContain('\u00b13.1 \u00b0C (95 %, k = 2)');
    expect(first?.text).toContain('Within \u00b16 \u00b0C');
    expect(first?.text).toMatch(/61.204 mi/);
  });
});

describe('the record of a job', () => {
  it('says which sender it is: as it was described, or as the particulars name the one in the vehicle', () => {
    const valueOf = (record: JobRecord): string | undefined =>
      record.model.particulars.find(({ name }) => name === 'Sender')?.value;
    expect(valueOf(recordOf('temperature'))).toBe('new sender, stamped 7/26');
    expect(valueOf(recordOf('long names'))).toContain('888-000, part 8A/0987654321/C');
    expect(recordOf('long names').model.senders[0]?.about).toContain('Part 8A/0987654321/C');
  });

  it('is the same file, byte for byte, however often it is made, and after it was noted that it was made', async () => {
    const events = eventsOf('temperature');
    const noted: JobEvent = {
      n: events.length + 1,
      at: '2026-05-20T08:00:00.000Z',
      by: 'desk',
      kind: 'record-made',
      file: 'printed',
      format: 'print',
    };
    const sums = await Promise.all(
      [events, events, [...events, noted]].map(async (each) =>
        createHash('sha256')
          .update(await jobRecord(each).pdf('a4'))
          .digest('hex'),
      ),
    );
    expect(new Set(sums).size).toBe(1);
  });

  it('bears the sum of its journal: SHA-256 over the entries, keys in order, one a line', () => {
    const events = eventsOf('temperature');
    const ordered = (value: unknown): unknown =>
      Array.isArray(value)
        ? value.map(ordered)
        : typeof value === 'object' && value !== null
          ? Object.fromEntries(
              Object.entries(value)
                .sort(([one], [other]) => (one < other ? -1 : 1))
                .map(([key, each]) => [key, ordered(each)]),
            )
          : value;
    const hash = createHash('sha256');
    for (const event of events) hash.update(`${JSON.stringify(ordered(event))}\n`);
    const { journal } = recordOf('temperature').model;
    expect(journal).toEqual({ entries: events.length, sha256: hash.digest('hex') });
  });

  it('reckons each \u00b1 as coverage factor times the root of the sum of squares', () => {
    const { budget } = recordOf('temperature').model;
    for (const of of ['curve', 'proof'] as const) {
      const parts = budget.filter(({ kind }) => kind === 'part').flatMap((row) => row[of] ?? []);
      const [combined, factor, expanded] = (['combined', 'factor', 'expanded'] as const).map(
        (kind) => budget.find((row) => row.kind === kind)?.[of] ?? NaN,
      );
      expect(parts.length).toBeGreaterThanOrEqual(2);
      expect(combined).toBeCloseTo(Math.sqrt(parts.reduce((sum, each) => sum + each * each, 0)), 9);
      expect(expanded).toBeCloseTo((factor ?? NaN) * (combined ?? NaN), 9);
      // Student's t for 95 % lies between the normal's 1.96 and 4.303 for two degrees of freedom. Source: published tables.
      expect(factor).toBeGreaterThanOrEqual(1.96);
      expect(factor).toBeLessThan(4.31);
    }
  });

  it('says of a refused trim which law forbids it, and what will do', () => {
    const { model } = recordOf('refusal');
    expect(model.found.sign).toBe('refused');
    expect(model.found.sentence).toContain('The sender runs the other way');
    expect(model.ways.length).toBeGreaterThanOrEqual(2);
  });

  it('is no proof before everything that is wanted is there', () => {
    const events = eventsOf('temperature');
    const withoutHot = events.filter(
      (event) => !(event.kind === 'proof-pair' && event.method === 'substituted'),
    );
    const { found } = jobRecord(withoutHot).model;
    expect(found.sign).toBe('open');
    expect(found.sentence).toContain('not finished');
  });
});

/** Names as they come from telephones and from people who try: signs, other directions, controls, halves of signs. */
describe('a name of any kind', () => {
  it.each([
    '\u{1f600} tank \u{1f469}\u200d\u{1f527}',
    '\u0645\u0624\u0634\u0631 \u0627\u0644\u0648\u0642\u0648\u062f',
    'left\u202eright\u202c',
    'half \ud800 a sign',
    'e\u0301\u0301\u0301\u0301\u0301',
    'x'.repeat(120),
    '=1+1',
  ])('gives sheets and a label, and the same journal is read again: %j', async (name) => {
    const [event] = eventsOf('hardly begun');
    const read = jobEvent.parse({
      ...event,
      title: name,
      vehicle: name,
      by: name,
      particulars: { customer: name, shop: name, technician: name, gaugeSerialNumber: name.slice(0, 60) },
    });
    const record = jobRecord([read]);
    const sheets = [...record.svgSheets(), record.labelSvg()].join('');
    expect(sheets).not.toMatch(/[\u0000-\u0008\u000b\u000c\u000e-\u001f]/);
    // Half of a sign would come back from its bytes as another one.
    expect(new TextDecoder().decode(new TextEncoder().encode(sheets)) === sheets).toBe(true);
    for (const bytes of [await record.pdf('a4'), await record.labelPdf()])
      expect(new TextDecoder('latin1').decode(bytes.slice(0, 5))).toBe('%PDF-');
  });
});

describe('the sheets as SVG', () => {
  it('are as many as the pages, and no name can open a tag in them', () => {
    const evil = eventsOf('hardly begun').map((event) =>
      event.kind === 'job-opened' ? { ...event, vehicle: '<script>alert(1)</script> & "x"' } : event,
    );
    const sheets = jobRecord(evil).svgSheets();
    expect(sheets.length).toBeGreaterThanOrEqual(2);
    for (const sheet of sheets) {
      expect(sheet).not.toContain('<script');
      expect(sheet).toContain('&lt;script&gt;');
    }
  });
});
