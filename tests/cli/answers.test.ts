import { cpSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { z } from 'zod';
import { commands } from '../../host/cli/commands';
import { answerNames, type AnswerName } from '../../host/cli/output/schemas';
import { commandLine, type Files, type Ran } from '../support/command-line';
import { isDeep } from '../support/deep';
import { telephoneJpeg } from '../support/pictures';
import { isServerWanted, onPrivateServer } from '../support/private-postgres';
import { startProgram } from '../support/running-host';
import { simulatedProgram } from '../support/simulated-program';
import { strictAnswer } from '../support/strict-answer';

simulatedProgram();

/**
 * Every command with --json, run once on small input, and every answer read strictly by its own schema. What must be run
 * is told by the command table: a new command, or a new word of `catalogue` or `cluster`, fails here until it is.
 */
const DEMO = fileURLToPath(new URL('../../demo-sessions/tern-1100-fuel/', import.meta.url));

const sender = 'temperature_C,resistance_ohm\n30,700\n60,235\n80,122\n100,68\n120,40\n';
const files: Files = {
  'gauge.csv': [
    'resistance_ohm,reading_C,leg,supply_V',
    ...[450, 220, 100, 70, 40].map((ohm, at) => `${ohm},${[40, 59, 84, 96, 118][at]},up,13.5`),
    '100,82.5,down,12.5',
  ].join('\n'),
  'sender.csv': sender,
  'low.csv': sender.replace('700', '560').replace('235', '190').replace('122', '98').replace('68', '54'),
  'check.csv': 'test,value,unit\nas-found,25,%',
  'pairs.csv':
    'temperature_C,reading_C,leg,made,second\n60,60.5,up,run,0\n85,86,up,run,90\n110,111,up,run,600',
  'steps.csv': ['level_l,reading_percent', ...[2, 8, 15, 30, 48].map((l) => `${l},${2 * l}`)].join('\n'),
  'marks.csv': 'label,arc_fraction\nE,0\n1/2,0.42\nF,1',
  'dial.jpg': telephoneJpeg(),
  'budget.json': JSON.stringify({
    ...{ name: 'ohms', unit: 'ohm' },
    components: [{ name: 'box', value: 100, distribution: 'rectangular', half_width: 0.1 }],
  }),
};

let folder = '';
const at = (name: string): string => join(folder, name);
/** Answers that were given, and the words they were given to. */
const given = new Set<AnswerName>();
const asked = new Set<string>();

function ran(
  argv: readonly string[],
  typed: readonly string[] = [],
  more: Files = {},
  environment: Readonly<Record<string, string>> = {},
): Promise<Ran> {
  const [name = '', word = ''] = argv;
  asked.add(['catalogue', 'cluster'].includes(name) ? `${name} ${word}` : name);
  return commandLine([...argv, '--json'], { ...files, ...more }, typed, environment);
}

async function answer(argv: readonly string[], more: Files = {}): Promise<unknown> {
  const { code, err, json } = await ran(argv, [], more);
  expect(code, `${argv.join(' ')}: ${err}`).toBe(0);
  const document = json();
  given.add(strictAnswer(document));
  return document;
}
/** One document, or one a line. */
const documentsIn = (text: string): readonly string[] => (text.startsWith('{\n') ? [text] : text.split('\n'));
const take = (text: string): void => {
  for (const document of documentsIn(text)) given.add(strictAnswer(JSON.parse(document)));
};
const MOST_TRIES = 5;
/** On a busy machine a box may be too late to be greeted, and the command ends without a word: it is run again. */
async function atBox(argv: readonly string[], typed: readonly string[] = []): Promise<string> {
  for (let left = MOST_TRIES; ; left -= 1) {
    const { out, err } = await ran(argv, typed);
    if (out === '' && left > 1) continue;
    expect(out, `${argv.join(' ')}: ${err}`).not.toBe('');
    take(out);
    return out;
  }
}

const gauge = ['--gauge', 'gauge.csv', '--sender', 'sender.csv'];
const SIMULATED = ['--simulate', 'two-coil-fuel'];
const QUICK = [
  '--speed',
  '400',
  '--seed',
  '4',
  '--auto',
  '--points',
  '3',
  '--legs',
  'up',
  '--repeats',
  '0',
  '--refinements',
  '0',
];

/** Each takes as long as the sweep, which asks them too: run in the soak. */
const LONG_WORDS = ['roll-call', 'neighbours'] as const;

const swept = () => atBox(['sweep', ...SIMULATED, ...QUICK, '--job', at('swept')]);
/** It ends without a curve. */
const leftAtOnce = () => atBox(['sweep', ...SIMULATED, '--speed', '400', '--job', at('left')], ['q']);
const calibrated = () => atBox(['calibrate', ...SIMULATED, '--yes', '--days', '100']);
const held = () => atBox(['hold', ...SIMULATED], ['y', '400', 'q']);
const watched = () => atBox(['watch', ...SIMULATED, '--frames', '3']);
const clusters = async () => {
  const boxes = ['--simulate', 'thermal-cluster', '--boxes', '2', ...QUICK, '--jobs', at('jobs')];
  const cluster = (word: string, ...more: readonly string[]) => atBox(['cluster', word, ...more, ...boxes]);
  const Named = z.looseObject({ cluster: z.string() });
  const { cluster: id } = Named.parse(JSON.parse(await cluster('open')));
  if (isDeep) for (const word of LONG_WORDS) await cluster(word, id);
  await cluster('sweep', id, '--no-neighbours');
  await cluster('sheet', id);
  await cluster('again', id);
  await cluster('table');
};
const served = async () => {
  const host = startProgram(['serve', '--json', '--listen', '127.0.0.1:0', '--jobs', at('served')]);
  await expect.poll(host.out, { message: host.err() }).toContain('"url"');
  asked.add('serve');
  take(host.out().trim());
  host.child.kill('SIGINT');
  await host.ended;
};

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'answers-'));
  cpSync(DEMO, at('job'), { recursive: true });
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

describe('every --json answer is what its schema says', () => {
  it.each([
    [['curve', 'gauge.csv', '--at', '95.5', '--supply-V', '13']],
    [['sender', 'sender.csv', '--at', '90,500', '--ohm', '100']],
    [['trim', ...gauge, '--max-parts', '1', '--supply-V', '13.8', '--gauge-ohm', '65']],
    [['match', '--gauge', 'gauge.csv', 'sender.csv', 'low.csv', '--max-parts', '1']],
    [['network', '--pairs', '100:60,25:30']],
    [['boil', '--altitude-m', '500']],
    [['budget', 'budget.json', '--monte-carlo', '1000']],
    [['check', 'check.csv', '--gauge', 'thermal-temperature', '--stands-at', '30']],
    [['chain', 'pairs.csv', ...gauge, '--reference', 'flow-probe']],
    [['proof', 'pairs.csv', '--scale', '40,120', '--division', '2', '--reference', 'flow-probe']],
    [['strap', 'steps.csv', '--unusable-l', '3']],
    [['overlay', 'marks.csv', '--radius-mm', '40', '--start', '-50', '--sweep', '100']],
    [['plot', 'gauge.csv']],
    [['identify', 'gauge.csv', '--known', 'gauge.csv']],
    [['ports']],
  ])('%j', async (argv) => {
    await answer(argv);
  });

  it('a job and its record', async () => {
    await answer(['job', at('job')]);
    await answer(['job', 'photograph', at('job'), 'dial.jpg', '--of', 'gauge']);
    await answer(['job', 'export', at('job'), at('job.zip')]);
    await answer(['job', 'import', 'job.zip', at('again')], { 'job.zip': readFileSync(at('job.zip')) });
    const record = JSON.stringify(await answer(['record', at('job')]));
    await answer(['record', at('job'), '--verify', 'record.json'], { 'record.json': record });
  });

  /** Simulated boxes make one wait more than they work: all of them at once. */
  it('boxes, clusters and the host', async () => {
    await Promise.all([swept(), leftAtOnce(), calibrated(), held(), watched(), clusters(), served()]);
  });

  it('the catalogue, and what belongs to it', async () => {
    const shop = ['--catalogue', at('shop')];
    const catalogue = (word: string, ...more: readonly string[]) =>
      answer(['catalogue', word, ...more, ...shop]);
    const Cards = z.looseObject({ cards: z.array(z.looseObject({ id: z.string() })) });
    const { cards } = Cards.parse(await catalogue('add', 'gauge.csv', 'sender.csv', '--model', 'Tern'));
    const [first = '', second = ''] = cards.map(({ id }) => id);
    await catalogue('add', 'low.csv', '--model', 'Tern');
    await catalogue('rebuild');
    await catalogue('list');
    for (const id of [first, second]) await catalogue('show', id);
    await catalogue('find', 'temperature');
    await catalogue('model', 'Tern');
    await catalogue('same', first, second);
    await catalogue('apart', second);
    await catalogue('withdraw', second, '--because', 'read with the engine running');
    await catalogue('keys');
    await catalogue('verify');
    await catalogue('export', at('shop.zip'));
    await catalogue('import', 'gauge.csv', '--dry-run');
    await catalogue('import', 'gauge.csv');
    await answer(['catalogue', 'import', 'shop.zip', ...shop], { 'shop.zip': readFileSync(at('shop.zip')) });
    const [kept] = Cards.parse(
      await answer(['catalogue', 'add', 'job.ndjson', ...shop], {
        'job.ndjson': readFileSync(join(at('job'), 'job.ndjson')),
      }),
    ).cards;
    await catalogue('show', kept?.id ?? '');
    await catalogue('erase-slip', kept?.id ?? '');
    await answer(['identify', 'gauge.csv', '--simulated', ...shop]);
    await answer(['catalogue', 'demo', '--catalogue', at('demo')]);
  });

  it('a refusal, with what some of them tell beside the reason', async () => {
    const refused = async (argv: readonly string[], more: Files = {}) => {
      const { code, json } = await ran(argv, [], more);
      expect(code, argv.join(' ')).toBe(3);
      given.add(strictAnswer(json()));
    };
    await refused(['network', '--pairs', '100:60,25:70']);
    const flat = 'temperature_C,resistance_ohm\n30,40\n60,122\n80,235\n120,700\n';
    await refused(['trim', '--gauge', 'gauge.csv', '--sender', 'flat.csv', '--max-parts', '1'], {
      'flat.csv': flat,
    });
  });

  it('the catalogue and a server', async () => {
    const sync = ['catalogue', 'sync', '--catalogue', at('shop')];
    const away = await ran(sync, [], {}, { DATABASE_URL: 'postgres://bench@127.0.0.1:1/bench' });
    expect(away.code).toBe(3);
    given.add(strictAnswer(away.json()));
    if (!isServerWanted) return void given.add('catalogue-sync');
    await onPrivateServer(async (url) => {
      const { code, err, json } = await ran(sync, [], {}, { DATABASE_URL: url });
      expect(code, err).toBe(0);
      given.add(strictAnswer(json()));
    });
  });
});

describe('what was run above', () => {
  it('is every command that has --json, word by word', () => {
    const words = commands
      .filter(({ options }) => 'json' in options)
      .flatMap(({ name, usage }) =>
        ['catalogue', 'cluster'].includes(name)
          ? (usage.split(' ')[0] ?? '').split('|').map((word) => `${name} ${word}`)
          : name,
      );
    expect(words.length).toBeGreaterThan(40);
    const run = new Set([...asked, ...LONG_WORDS.map((word) => `cluster ${word}`)]);
    expect([...run].sort()).toEqual([...words].sort());
  });

  it('gave every answer that has a schema', () => {
    const all = new Set<string>([...given, ...LONG_WORDS.map((word) => `cluster-${word}`)]);
    expect([...all].sort()).toEqual([...answerNames]);
  });

  it.each(answerNames)(
    '%s has a schema that is printed, and takes what a later program adds',
    async (name) => {
      const { code, out, json } = await commandLine(['schema', name]);
      expect(code).toBe(0);
      expect(json()).toMatchObject({ $id: `needlewright/${name}/1` });
      expect(out).not.toMatch(/"additionalProperties": false/);
    },
  );
});
