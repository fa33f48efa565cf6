import { spawn } from 'node:child_process';
import type { ChildProcess } from 'node:child_process';
import type { Readable, Writable } from 'node:stream';
import { build } from 'esbuild';
import { afterEach, beforeAll, describe, expect, it } from 'vitest';
import { FrameReader, decodeForHost, encodeFrame, hasCapability } from '../../../protocol';
import type { AnyAnswer } from '../../../protocol';

const root = new URL('../../..', import.meta.url).pathname;
const program = `${root}.test-output/simulated-box.js`;
const children: ChildProcess[] = [];

beforeAll(async () => {
  await build({
    entryPoints: [`${root}firmware-ts/board/simulated/main.ts`],
    bundle: true,
    platform: 'node',
    format: 'esm',
    outfile: program,
    logLevel: 'silent',
  });
});
afterEach(() => {
  for (const child of children.splice(0)) child.kill();
});

function start(...words: string[]): ChildProcess {
  const child = spawn(process.execPath, [program, '--watched', ...words], {
    stdio: ['pipe', 'pipe', 'pipe', 'pipe', 'pipe'],
  });
  children.push(child);
  return child;
}

const ended = async (child: ChildProcess): Promise<{ code: number | null; said: string }> => {
  let said = '';
  child.stderr?.on('data', (text: Buffer) => (said += text.toString()));
  const code = await new Promise<number | null>((resolve) => child.once('exit', resolve));
  return { code, said };
};

const isReadable = (stream: unknown): stream is Readable =>
  typeof stream === 'object' && stream !== null && 'read' in stream;
const isWritable = (stream: unknown): stream is Writable =>
  typeof stream === 'object' && stream !== null && 'write' in stream;

/** First answer of the program to a greeting. */
function greet(child: ChildProcess): Promise<AnyAnswer> {
  return new Promise((resolve, reject) => {
    const reader = new FrameReader({
      frame: (frame) => {
        const message = decodeForHost(frame);
        if (message.kind === 'answer') resolve(message);
        else reject(new Error(message.kind));
      },
    });
    child.stdout?.on('data', (bytes: Buffer) => reader.push(bytes));
    const fields = { protocolMajorMin: 1, protocolMajorMax: 1, hostNonce: 77, hostDay: 20_700 };
    child.stdin?.write(encodeFrame({ kind: 'request', name: 'hello', sequence: 1, fields }));
  });
}

const keysOf = (value: unknown): string[] =>
  typeof value === 'object' && value !== null ? Object.keys(value) : [];

const lines = async (stream: unknown, count: number): Promise<string[]> => {
  if (!isReadable(stream)) throw new Error('no stream');
  let text = '';
  for await (const chunk of stream) {
    text += String(chunk);
    if (text.split('\n').length > count) break;
  }
  return text.split('\n').slice(0, count);
};

describe('the simulated box as a program', () => {
  it('answers a greeting over its standard streams and says that it is simulated', async () => {
    const answer = await greet(start('--gauge', 'two-coil-fuel', '--seed', '3'));
    expect(answer.name).toBe('hello');
    if (answer.name !== 'hello') return;
    expect(answer.fields.hostNonce).toBe(77);
    expect(hasCapability(answer.fields.capabilities, 'simulated')).toBe(true);
  });

  it('shows its needle on descriptor 3 as lines of JSON', async () => {
    const child = start('--gauge', 'two-coil-fuel');
    const [first] = await lines(child.stdio[3], 2);
    const look: unknown = JSON.parse(first!);
    expect(look).toMatchObject({ senderOhm: null });
    expect(keysOf(look)).toEqual(['ms', 'angleFraction', 'senderOhm']);
  });

  it('takes changes of the world on descriptor 4 and complains about what it does not know', async () => {
    const child = start('--gauge', 'two-coil-fuel');
    const world = child.stdio[4];
    if (!isWritable(world)) throw new Error('no stream');
    world.write('{"moon":true}\n{"supplyVolt":99}\nnot json\n{"ignition":false}\n');
    const said = await lines(child.stderr, 3);
    expect(said[0]).toContain('moon: unknown');
    expect(said[1]).toContain('supplyVolt must be 0 to 30 V');
    expect(said[2]).toContain('not JSON');
  });

  it('ends with the serial line', async () => {
    const child = start();
    const end = ended(child);
    child.stdin?.end();
    expect((await end).code).toBe(0);
  });

  it('refuses a gauge, a seed, a speed and a word it does not know, each in one line', async () => {
    for (const [words, part] of [
      [['--gauge', 'sundial'], 'sundial'],
      [['--seed', 'x'], 'whole number'],
      [['--speed', '0'], '0.1 to 1000'],
      [['--moon'], '--help'],
    ] as const) {
      const { code, said } = await ended(start(...words));
      expect(code).toBe(2);
      expect(said.trim().split('\n')).toHaveLength(1);
      expect(said).toContain(part);
    }
  });

  it('describes its gauges with marks and two senders, as JSON', async () => {
    const child = start('--describe');
    let text = '';
    child.stdout?.on('data', (bytes: Buffer) => (text += bytes.toString()));
    await ended(child);
    const gauges: unknown = JSON.parse(text);
    if (!Array.isArray(gauges)) throw new Error('no list');
    expect(gauges.length).toBeGreaterThanOrEqual(5);
    for (const gauge of gauges) {
      expect(keysOf(gauge)).toEqual([
        'name',
        'title',
        'quantity',
        'unit',
        'mechanism',
        'terminals',
        'marks',
        'senderRangeOhm',
        'originalSender',
        'replacementSender',
      ]);
    }
  });
});
