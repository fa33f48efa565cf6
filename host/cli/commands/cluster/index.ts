import { nearest } from '../../../core/text/nearest';
import { MOST_BOXES } from '../../../job/wire/host-messages';
import { JSON_OPTION, type Command } from '../../command';
import { jobsFolderOf, SIMULATED_CLUSTERS } from '../../input/cluster-boxes';
import { InputError } from '../../input-error';
import { clusterJson, clusterText, neighbourText } from '../../output/cluster-text';
import { HAND_OPTIONS } from '../../input/hand-options';
import { SWEEP_OPTIONS } from '../../input/sweep-options';
import { schemaOf, type Action } from './action';
import { sweepByHand } from './by-hand';
import { openAction } from './open';
import { ClusterAtWork } from './run';
import { againAction, sheetAction, sheetOf, tableAction } from './sheet';

const rollCallAction: Action = {
  name: 'roll-call',
  usage: 'ID',
  help: 'each box moves once: which needle moved? Nothing else is driven before',
  words: { least: 0, most: 1 },
  run: ([clusterId], given, surroundings) =>
    ClusterAtWork.with(clusterId, given, surroundings, async (cluster) => {
      await cluster.callRoll();
      return {
        text: clusterText(cluster.state),
        json: { schema: schemaOf('roll-call'), kind: 'cluster', ...clusterJson(cluster.state) },
      };
    }),
};

const neighboursAction: Action = {
  name: 'neighbours',
  usage: 'ID',
  help: 'roll call, then what each gauge does to the others, by the boxes\u2019 own meters',
  words: { least: 0, most: 1 },
  run: ([clusterId], given, surroundings) =>
    ClusterAtWork.with(clusterId, given, surroundings, async (cluster) => {
      await cluster.callRoll();
      await cluster.testNeighbours();
      return {
        text: neighbourText(cluster.state),
        json: { schema: schemaOf('neighbours'), kind: 'cluster', ...clusterJson(cluster.state) },
      };
    }),
};

const sweepAction: Action = {
  name: 'sweep',
  usage: '[ID]',
  help: 'roll call, neighbours, then all gauges together; a new cluster when none is named',
  words: { least: 0, most: 1 },
  run: async ([clusterId], given, surroundings) => {
    if (given.flag('by-hand')) {
      const state = await sweepByHand(clusterId, given, surroundings);
      return sheetOf(state, jobsFolderOf(given, surroundings), 'sweep');
    }
    return ClusterAtWork.with(clusterId, given, surroundings, async (cluster) => {
      surroundings.err(`cluster ${cluster.state.clusterId}`);
      await cluster.callRoll();
      if (!given.flag('no-neighbours')) await cluster.testNeighbours();
      surroundings.err(`sweeping: ${cluster.orderWanted()}`);
      await cluster.sweep();
      return sheetOf(cluster.state, jobsFolderOf(given, surroundings), 'sweep');
    });
  },
};

const ACTIONS: readonly Action[] = [
  openAction,
  rollCallAction,
  sweepAction,
  neighboursAction,
  sheetAction,
  againAction,
  tableAction,
];

const width = Math.max(...ACTIONS.map(({ name, usage }) => `${name} ${usage}`.length));
const {
  seed,
  speed,
  jobs,
  auto,
  'settle-s': settle,
  points,
  legs,
  repeats,
  refinements,
  title,
  vehicle,
  confirm,
} = SWEEP_OPTIONS;

/** Several gauges of one cluster, each with a box, read by one person. */
export const clusterCommand: Command = {
  name: 'cluster',
  summary: 'a whole cluster: several gauges, a box each, swept together by one person',
  usage: `${ACTIONS.map(({ name }) => name).join('|')} ...`,
  example: 'needlewright cluster sweep --simulate thermal-cluster --auto',
  details: [
    'Every gauge is an ordinary job; the cluster keeps which belong together, which box is on which, and what they do',
    'to each other. Whichever needle is ready is asked for; the others settle meanwhile. q stops and opens all.',
    'With --by-hand there are no boxes: one gauge after the other, resistances put on and typed, on the same sheet.',
    '',
    ...ACTIONS.map(({ name, usage, help }) => `  ${`${name} ${usage}`.padEnd(width)}  ${help}`),
  ],
  options: {
    ...HAND_OPTIONS,
    port: {
      kind: 'texts',
      value: 'PATH',
      help: `port of a box, up to ${MOST_BOXES} times; every USB port when left out`,
    },
    simulate: {
      kind: 'choice',
      choices: Object.keys(SIMULATED_CLUSTERS),
      help: 'simulated boxes at one cluster',
    },
    boxes: {
      kind: 'number',
      value: 'N',
      min: 1,
      max: MOST_BOXES,
      isWhole: true,
      help: 'simulated: how many gauges have a box',
    },
    order: {
      kind: 'numbers',
      value: 'A,B,...',
      min: 0,
      max: MOST_BOXES - 1,
      isWhole: true,
      help: 'simulated: the gauge each box stands at, from 0',
    },
    'common-feed-ohm': {
      kind: 'number',
      value: 'OHM',
      min: 0,
      max: 20,
      help: 'simulated: ohms in the feed of all gauges',
    },
    'common-ground-ohm': {
      kind: 'number',
      value: 'OHM',
      min: 0,
      max: 20,
      help: 'simulated: ohms in the ground of all gauges',
    },
    gauge: { kind: 'texts', value: 'FILE:PLACE', help: 'open: a gauge as JSON, and where it sits' },
    'feed-V': { kind: 'number', value: 'V', min: 0.1, max: 30, help: 'open: volts of the common feed' },
    'fuse-A': { kind: 'number', value: 'A', min: 0.1, max: 30, help: 'open: its fuse' },
    stabiliser: { kind: 'text', value: 'TEXT', help: 'open: what stabilises it' },
    'battery-lead': {
      kind: 'choice',
      choices: ['bench', 'ground'],
      help: 'open: where the BATTERY - leads lie; only on the bench\u2019s negative do they tell ground from feed',
    },
    state: {
      kind: 'choice',
      choices: ['as-found', 'as-left'],
      help: 'sweep: before or after the gauges were worked on',
    },
    free: { kind: 'flag', help: 'sweep: freely, whatever the neighbours do' },
    rounds: { kind: 'flag', help: 'sweep: all are set, all rest, all are read; nothing moves meanwhile' },
    'one-by-one': { kind: 'flag', help: 'sweep: one gauge at a time, the others at rest' },
    'no-neighbours': { kind: 'flag', help: 'sweep: leave the neighbour test out' },
    csv: { kind: 'flag', help: 'table: as CSV' },
    pdf: { kind: 'text', value: 'FILE', help: 'sheet: write it as a PDF file' },
    paper: { kind: 'choice', choices: ['a4', 'letter'], help: 'sheet: its paper' },
    'settle-s': settle,
    ...{ seed, speed, jobs, auto, points, legs, repeats, refinements, title, vehicle, confirm },
    ...JSON_OPTION,
  },
  words: { least: 0, most: 2 },
  run: ({ words: [name = 'table', ...words], ...given }, surroundings) => {
    const action = ACTIONS.find((each) => each.name === name) ?? unknownAction(name);
    const { least, most } = action.words;
    if (words.length < least || words.length > most)
      throw new InputError(`usage: needlewright cluster ${action.name} ${action.usage}`.trimEnd());
    return action.run(words, { words, ...given }, surroundings);
  },
};

function unknownAction(name: string): never {
  const names = ACTIONS.map((each) => each.name);
  const near = nearest(name, names);
  throw new InputError(
    `cluster ${name}: ${near === undefined ? `choose one of ${names.join(', ')}` : `did you mean ${near}?`}`,
  );
}
