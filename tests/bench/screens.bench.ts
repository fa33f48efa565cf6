import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { z } from 'zod';
import { startServer } from '../../host/server';
import { sampleGauge } from '../e2e/sample-job';
import { hello, openTestScreen } from '../server/support';
import { addRow } from './table';

const ROUNDS = 100;

/** From what one screen says to what another is told, with the journal flushed to disk in between. */
it('keeps two screens in step', async () => {
  const jobsFolder = await mkdtemp(join(tmpdir(), 'needlewright-screens-'));
  const server = await startServer({ jobsFolder, listenPort: 0 });
  if (server.kind === 'refused') throw new Error(server.message);
  try {
    const opening = {
      title: 'Two screens',
      gauge: sampleGauge,
      vehicle: 'Tern 1100 van (1971)',
      place: 'bench',
      simulated: false,
    };
    const made = await fetch(new URL('/api/jobs', server.url), {
      method: 'POST',
      headers: { 'content-type': 'application/json', origin: new URL(server.url).origin },
      body: JSON.stringify(opening),
    });
    const { jobId } = z.looseObject({ jobId: z.string() }).parse(await made.json());
    const place = new URL(server.url).host;
    const [one, other] = ['laptop', 'phone'].map((screen) => {
      const opened = openTestScreen(place, { hello: hello(screen) });
      opened.say({ kind: 'follow', jobId, afterN: 0 });
      return opened;
    });
    if (one === undefined || other === undefined) throw new Error('no screens');
    await one.next('events');
    await other.next('events');
    const times: number[] = [];
    for (let round = 1; round <= ROUNDS; round += 1) {
      const startMs = performance.now();
      one.say({ kind: 'command', id: round, command: { kind: 'add-note', text: `note ${round}` } });
      await other.next('events');
      times.push(performance.now() - startMs);
    }
    times.sort((a, b) => a - b);
    const at = (part: number): string =>
      `${(times[Math.floor(part * (times.length - 1))] ?? NaN).toFixed(1)} ms`;
    addRow({
      part: 'page',
      what: `a second screen told of an event, ${ROUNDS} events flushed to disk, median / 99 % / worst`,
      measured: `${at(0.5)} / ${at(0.99)} / ${at(1)}`,
      goal: '< 100 ms',
    });
    expect(times).toHaveLength(ROUNDS);
    one.socket.terminate();
    other.socket.terminate();
  } finally {
    await server.close();
    await rm(jobsFolder, { recursive: true });
  }
});
