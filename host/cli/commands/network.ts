import { solveNetwork, topologies, type Solution } from '../../core/network';
import { JSON_OPTION, type Command, type Report } from '../command';
import type { AnswerOf } from '../output/schemas';
import { InputError, refusedError } from '../input-error';
import { placeWords, wiringWords } from '../../words/network';
import { plain } from '../../words/notation';
import { saidRefusal } from '../../words/refusal';
import { typedNumber } from '../../core/text/number';
import type { Arguments } from '../options';
import { ohmText, textTable } from '../output/text-table';

type Pair = { readonly senderOhm: number; readonly wantedOhm: number };

/** Exact parts for one, two or three pairs of sender resistance and wanted resistance. */
export const networkCommand: Command = {
  name: 'network',
  summary: 'the exact resistors that turn sender resistances into wanted ones',
  usage: '--pairs "SENDER:WANTED,..." [options]',
  example: 'needlewright network --pairs "287:230,74:60" --topology shunt',
  details: [
    'Pairs are ohms at the sender and ohms the gauge should see, for example --pairs "100:60,25:30".',
    'One, two or three pairs. When no resistors can do it, the reason is given and the exit code is 3.',
  ],
  options: {
    pairs: { kind: 'text', value: 'S:W,...', help: 'sender ohm : wanted ohm, up to three pairs' },
    topology: { kind: 'choice', choices: topologies, help: 'only this arrangement' },
    'gauge-ohm': { kind: 'number', value: 'R', min: 0, help: 'resistance of the gauge, for gauge-shunt' },
    ...JSON_OPTION,
  },
  words: { least: 0, most: 0 },
  run: (given) => Promise.resolve(solve(given)),
};

function solve(given: Arguments): Report {
  const text = given.text('pairs');
  if (text === undefined) throw new InputError('--pairs is missing, for example --pairs "100:60,25:30"');
  const topology = topologies.find((name) => name === given.text('topology'));
  const result = solveNetwork(pairsFromText(text), topology, given.number('gauge-ohm'));
  if (result.kind === 'refused') {
    // What is wrong with the pairs themselves is bad input; what circuits forbid is a refusal.
    if (result.code.startsWith('PAIR')) throw new InputError(`--pairs: ${saidRefusal(result, plain)}`);
    throw refusedError(result);
  }
  const { solutions, middle } = result;
  return {
    text: [...solutions.flatMap(solutionText), ...(middle === undefined ? [] : middleText(middle))],
    json: {
      schema: 'needlewright/network/1',
      solutions: solutions.map(solutionJson),
      ...(middle === undefined
        ? {}
        : {
            middle: {
              sender_ohm: middle.senderOhm,
              lowest_seen_ohm: middle.lowestOhm,
              highest_seen_ohm: middle.highestOhm,
            },
          }),
    },
  };
}

/** Pairs are separated by commas, semicolons or spaces; an ohm value has no comma here. */
function pairsFromText(text: string): Pair[] {
  const parts = text.split(/[,;\s]+/).filter((part) => part !== '');
  return parts.map((part) => {
    const [sender, wanted, ...rest] = part.split(/[:=]/);
    if (sender === undefined || wanted === undefined || rest.length > 0) {
      throw new InputError(
        `--pairs: "${part}" is not a pair; write sender ohm, a colon, wanted ohm, as 100:60`,
      );
    }
    return { senderOhm: ohmFrom(sender, part), wantedOhm: ohmFrom(wanted, part) };
  });
}

function ohmFrom(text: string, pair: string): number {
  const read = typedNumber(text);
  if (read.kind === 'refused') throw new InputError(`--pairs: in "${pair}", ${read.message}`);
  if (read.value < 0) throw new InputError(`--pairs: in "${pair}", a resistance cannot be negative`);
  return read.value;
}

function solutionText({ topology, parts, seen }: Solution): string[] {
  const heading = parts
    .map(({ place, resistanceOhm }) => `${ohmText(resistanceOhm, 5)} ${placeWords[place]}`)
    .join(', ');
  return [
    `${topology}: ${heading === '' ? 'no parts needed' : heading}`,
    `  ${wiringWords[topology]}`,
    ...textTable(
      [{ title: 'sender ohm' }, { title: 'wanted ohm' }, { title: 'seen ohm' }],
      seen.map((pair) =>
        [pair.senderOhm, pair.wantedOhm, pair.seenOhm].map((ohm) => String(Number(ohm.toPrecision(6)))),
      ),
    ).map((line) => `  ${line}`),
    '',
  ];
}

const middleText = (middle: { senderOhm: number; lowestOhm: number; highestOhm: number }): string[] => [
  `Between the two ends nothing is free: at a sender of ${ohmText(middle.senderOhm)} every network of two or three`,
  `resistors through both ends makes the gauge see ${ohmText(middle.lowestOhm)} to ${ohmText(middle.highestOhm)}.`,
];

const solutionJson = ({ topology, parts, seen }: Solution): AnswerOf<'network'>['solutions'][number] => ({
  topology,
  wiring: wiringWords[topology],
  parts: parts.map(({ place, resistanceOhm }) => ({ place, resistance_ohm: resistanceOhm })),
  seen: seen.map(({ senderOhm, wantedOhm, seenOhm }) => ({
    sender_ohm: senderOhm,
    wanted_ohm: wantedOhm,
    seen_ohm: seenOhm,
  })),
});
