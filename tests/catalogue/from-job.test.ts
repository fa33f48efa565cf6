import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { card, cardsFromJob, documentText, readDocument, slipFromJob } from '../../host/catalogue';
import { foldJob, jobEvent, type JobEvent, type JobState } from '../../host/job';
import { parseJournal } from '../../host/store';

const making = { jobHash: 'a'.repeat(64), program: '0.1.0', licence: 'private' } as const;

function demo(name: string): { readonly job: JobState; readonly events: readonly JobEvent[] } {
  const file = new URL(`../../demo-sessions/${name}/job.ndjson`, import.meta.url);
  const journal = parseJournal(readFileSync(file), name);
  if (journal.kind === 'refused') throw new Error(journal.message);
  return folded(journal.events);
}

function folded(events: readonly JobEvent[]): {
  readonly job: JobState;
  readonly events: readonly JobEvent[];
} {
  const job = foldJob(events);
  if (job === undefined) throw new Error('not a job');
  return { job, events };
}

describe('the cards of a job', () => {
  const { job, events } = demo('harrow-six-coolant');
  const cards = cardsFromJob(job, events, making);

  it('are one of the gauge and one of each sender, readings as they were given', () => {
    expect(cards.map(({ kind }) => kind)).toEqual(['gauge', ...job.senders.map(() => 'sender')]);
    const [gauge] = cards;
    expect(gauge?.kind === 'gauge' && gauge.points.map((one) => [one.resistance_ohm, one.reading])).toEqual(
      job.readings.map((one) => [one.resistanceOhm, one.reading]),
    );
    expect(gauge).toMatchObject({ mechanism: 'thermal', terminals: 2, unit: 'degC', simulated: true });
    expect(gauge?.instrument).toHaveProperty('calibration_day');
  });

  it('are marked as simulated, and have no fit and nobody’s vehicle in them', () => {
    const text = cards.map(documentText).join('\n');
    expect(cards.every(({ simulated }) => simulated)).toBe(true);
    expect(text).not.toMatch(/"(law|fit|marks_ohm|residual)"/);
    expect(text).not.toContain(job.vehicle);
    expect(slipFromJob(job)?.note).toContain(job.vehicle);
  });

  it('are documents: their text reads back as the same card', () => {
    for (const each of cards) {
      expect(card.parse(each)).toEqual(each);
      expect(readDocument(documentText(each))).toEqual({ kind: 'card', card: each });
    }
  });

  it('do not change when somebody adds a note to the job', () => {
    const note: JobEvent = jobEvent.parse({
      ...{ n: job.lastN + 1, at: '2031-01-01T00:00:00.000Z', by: 'bench', kind: 'note', text: 'seen again' },
    });
    const later = folded([...events, note]);
    expect(cardsFromJob(later.job, later.events, making)).toEqual(cards);
  });
});

describe('as found and as left', () => {
  const { job } = demo('harrow-six-coolant');

  /** The same sweep twice: before and after the gauge was worked on. */
  const twice: JobState = {
    ...job,
    sweeps: job.sweeps.flatMap((sweep) => [
      { ...sweep, state: 'as-found' as const },
      { ...sweep, sweepId: `${sweep.sweepId}-left`, state: 'as-left' as const },
    ]),
    readings: job.readings.flatMap((one) => [
      one,
      { ...one, sweepId: `${one.sweepId}-left`, reading: one.reading + 1 },
    ]),
  };

  it('are two cards', () => {
    const gauges = cardsFromJob(twice, [], making).filter(({ kind }) => kind === 'gauge');
    expect(gauges.map(({ found }) => found)).toEqual(['as-found', 'as-left']);
    expect(gauges.map(({ points }) => points.length)).toEqual([job.readings.length, job.readings.length]);
  });

  it('of which one that is still running is not kept', () => {
    const running: JobState = {
      ...twice,
      sweeps: twice.sweeps.map((sweep) =>
        sweep.state === 'as-left' ? { ...sweep, status: { kind: 'paused', reason: 'lunch' } } : sweep,
      ),
    };
    const gauges = cardsFromJob(running, [], making).filter(({ kind }) => kind === 'gauge');
    expect(gauges.map(({ found }) => found)).toEqual(['as-found']);
  });

  it('keeps a struck reading with its reason', () => {
    const struck: JobState = {
      ...job,
      readings: job.readings.map((one, i) =>
        i === 1 ? { ...one, struckBecause: 'read the wrong gauge' } : one,
      ),
    };
    const [gauge] = cardsFromJob(struck, [], making);
    expect(gauge?.points[1]).toMatchObject({ struck: 'read the wrong gauge' });
  });
});
