import { mkdtempSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, it, describe } from 'vitest';
import { capHeap } from './capped-heap';
import { engineState } from './xsnap-install';
import { EngineEnded, EngineThrew, XsnapWorker } from './xsnap-worker';

const engine = engineState();
if (engine.kind === 'absent') {
  if (process.env['CI'] === 'true') throw new Error(`the XS engine is mandatory here: ${engine.why}`);
  console.log(`SKIPPED: real XS engine tests: ${engine.why}`);
}

describe.skipIf(engine.kind === 'absent')('the real XS engine', () => {
  it('evaluates, answers commands, and reports a throw without ending', async () => {
    const worker = XsnapWorker.start();
    await worker.evaluate(
      'globalThis.handleCommand = (bytes) => { const b = new Uint8Array(bytes); return Uint8Array.from(b, (x) => x + 1).buffer; }',
    );
    const reply = await worker.command(Uint8Array.of(1, 2, 255));
    expect([...reply.bytes]).toEqual([2, 3, 0]);
    expect(reply.compute).toBeGreaterThan(0);
    await expect(worker.evaluate('throw new Error("no")')).rejects.toThrow(EngineThrew);
    expect((await worker.command(Uint8Array.of(7))).bytes[0]).toBe(8);
    await worker.quit();
  });

  it('ends with out of memory when a capped heap is full, and works inside it', async () => {
    const folder = mkdtempSync(join(tmpdir(), 'needlewright-engine-'));
    const full = join(folder, 'full.xss');
    const capped = join(folder, 'capped.xss');
    const first = XsnapWorker.start();
    await first.evaluate(
      'globalThis.kept = []; globalThis.handleCommand = () => { kept.push({ a: 1 }); return new ArrayBuffer(1); }',
    );
    await first.writeSnapshot(full);
    await first.quit();
    capHeap(full, capped, { slots: 1024, chunkBytes: 8192, stackSlots: 512 });
    const worker = XsnapWorker.start({ snapshotFile: capped });
    await worker.command(Uint8Array.of(1));
    const eat = async (): Promise<void> => {
      for (let round = 0; round < 5000; round += 1) await worker.command(Uint8Array.of(1));
    };
    await expect(eat()).rejects.toThrow(EngineEnded);
  });
});
