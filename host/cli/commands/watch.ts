import { faultSentence } from '../../../protocol';
import type { LinkEvent } from '../../link';
import { BOX_OPTIONS, boxFrom } from '../input/box-options';
import { JSON_OPTION, type Command, type Surroundings } from '../command';
import { InputError } from '../input-error';
import type { Arguments } from '../options';
import type { AnswerOf } from '../output/schemas';

/** Frames between host and box, decoded, as they pass. */
export const watchCommand: Command = {
  name: 'watch',
  summary: 'what box and host say to each other, decoded, live',
  usage: '[--port PATH | --simulate NAME] [options]',
  example: 'needlewright watch --frames 20',
  details: [
    'Opens the box itself and sends heartbeats; nothing is armed and the output stays open.',
    'One line a frame: seconds, direction, message, sequence, fields. With --json one JSON object a line.',
    'Ends at Ctrl-C or after --frames.',
  ],
  options: {
    ...BOX_OPTIONS,
    frames: { kind: 'number', value: 'N', min: 1, isWhole: true, help: 'end after this many frames' },
    ...JSON_OPTION,
  },
  words: { least: 0, most: 0 },
  run,
};

async function run(given: Arguments, surroundings: Surroundings): Promise<undefined> {
  const box = boxFrom(given, surroundings);
  const isJson = given.flag('json');
  const mostFrames = given.number('frames') ?? Infinity;
  const link =
    box.simulated === undefined && given.text('port') === undefined ? await box.openOnce() : box.keep();
  let frames = 0;
  let failure: string | undefined;
  let hasBeenLive = false;
  await new Promise<void>((resolve) => {
    const end = link.subscribe((event) => {
      if (event.kind === 'state' && event.state === 'live') hasBeenLive = true;
      const line = isJson ? jsonLine(event) : textLine(event);
      if (line !== undefined && frames < mostFrames) surroundings.out(line);
      if (event.kind === 'frame') frames += 1;
      if (event.kind === 'waiting' && !hasBeenLive) failure = event.reason.message;
      if (event.kind === 'waiting' && hasBeenLive) surroundings.err(event.reason.message);
      if (failure === undefined && frames < mostFrames) return;
      end();
      resolve();
    });
    void surroundings.interrupted.then(resolve);
  });
  await box.end();
  if (failure !== undefined) throw new InputError(failure);
  return undefined;
}

function textLine(event: LinkEvent): string | undefined {
  switch (event.kind) {
    case 'frame': {
      const fields = Object.entries(event.fields).map(([name, value]) => `${name}=${value}`);
      const arrow = event.direction === 'out' ? '-->' : '<--';
      return `${seconds(event.atMs)} ${arrow} ${event.name} #${event.sequence} ${fields.join(' ')}`.trimEnd();
    }
    case 'frame-damaged':
      return `${seconds(event.atMs)} <-- damaged (${event.code})`;
    case 'tripped':
      return `          tripped: ${faultSentence(event.fields.faultCode, event.fields.measured, event.fields.limit)}`;
    case 'state':
      return `          link ${event.state}${event.reason === undefined ? '' : `: ${event.reason.message}`}`;
    case 'restarted':
      return `          the box restarted (boot nonce ${event.greeting.bootNonce})`;
    case 'heartbeat':
    case 'waiting':
      return undefined;
  }
}

const seconds = (atMs: number): string => (atMs / 1000).toFixed(3).padStart(9);

function jsonLine(event: LinkEvent): string | undefined {
  if (event.kind === 'heartbeat' || event.kind === 'waiting') return undefined;
  const answer: AnswerOf<'watch'> = { schema: 'needlewright/watch/1', ...event };
  return JSON.stringify(answer);
}
