import { version } from '../../../package.json';
import { startServer, USUAL_PORT } from '../../server';
import { MOST_BOXES, type BoxChoice } from '../../job/wire/host-messages';
import { defaultJobsFolder } from '../../store';
import { BOX_OPTIONS } from '../input/box-options';
import { CATALOGUE_OPTIONS, catalogueFolder } from '../input/catalogue-place';
import { JSON_OPTION, type Command, type Surroundings } from '../command';
import { InputError, RefusedError } from '../input-error';
import type { Arguments } from '../options';
import type { AnswerOf } from '../output/schemas';
import { pairAtTerminal } from '../output/pair-terminal';

/** Several boxes are served at once, each known by its number. */
const { box: _oneOfSeveral, ...boxOptions } = BOX_OPTIONS;

/** Host and page on one port, until interrupted. */
export const serveCommand: Command = {
  name: 'serve',
  summary: 'host and page: the job sheet in a browser',
  usage: '[--port PATH ... | --simulate NAME] [--listen 127.0.0.1:8377] [--lan] [options]',
  example: 'needlewright serve --lan',
  details: [
    'Serves this machine only, until --lan says that other devices of the local network may come in.',
    'Each is paired first: here, or on the page under "Devices", a code is shown for five minutes and one device.',
    'With neither --port nor --simulate the page says that no box is connected and offers the simulated one.',
  ],
  options: {
    ...boxOptions,
    port: {
      kind: 'texts',
      value: 'PATH',
      help: `serial port of the box; up to ${MOST_BOXES} times, one a box`,
    },
    listen: {
      kind: 'text',
      value: 'HOST:PORT',
      help: `address to listen on; 127.0.0.1:${USUAL_PORT} when left out`,
    },
    lan: { kind: 'flag', help: 'let other devices of the local network in, once they are paired' },
    jobs: { kind: 'text', value: 'DIR', help: 'folder of the jobs; ~/needlewright/jobs when left out' },
    ...CATALOGUE_OPTIONS,
    ...JSON_OPTION,
  },
  words: { least: 0, most: 0 },
  run,
};

/** Nobody waits a quarter of an hour to see how a sweep goes: the simulated bench of the page is hurried. */
const USUAL_SPEED = 10;

async function run(given: Arguments, surroundings: Surroundings): Promise<undefined> {
  const ports = given.texts('port');
  const gauge = given.text('simulate');
  if (ports.length > 0 && gauge !== undefined)
    throw new InputError('give either --port or --simulate, not both');
  const isLan = given.flag('lan');
  const { host, listenPort } = addressFrom(given.text('listen'), isLan);
  const server = await startServer({
    jobsFolder: given.text('jobs') ?? defaultJobsFolder(surroundings.environment),
    catalogueFolder: catalogueFolder(given, surroundings),
    version,
    listenHost: host,
    listenPort,
    isLan,
    box: gauge === undefined ? portsChoice(ports) : { kind: 'simulated', gauge },
    simulation: { seed: given.number('seed'), speed: given.number('speed') ?? USUAL_SPEED },
    watchOutput: (output) => surroundings.outputs.add(output),
    trouble: surroundings.err,
  });
  if (server.kind === 'refused') throw new RefusedError(server.code, server.message);
  const answer: AnswerOf<'serve'> = { schema: 'needlewright/serve/1', kind: 'serving', url: server.url };
  if (given.flag('json')) surroundings.out(JSON.stringify(answer));
  else {
    surroundings.out(`the job sheet is at ${server.url}`);
    surroundings.out(
      isLan
        ? 'other devices of the local network may open it too, once they are paired; Ctrl-C ends it'
        : 'this machine only; Ctrl-C ends it',
    );
  }
  for (const warning of server.warnings) surroundings.err(`warning: ${warning}`);
  if (isLan) void pairAtTerminal(server, surroundings, given.flag('json'));
  await surroundings.interrupted;
  await server.close();
  return undefined;
}

function portsChoice(paths: readonly string[]): BoxChoice | undefined {
  const [path] = paths;
  if (path === undefined) return undefined;
  const twice = paths.find((each, at) => paths.indexOf(each) !== at);
  if (twice !== undefined) throw new InputError(`--port ${twice} is given twice; name each box once`);
  if (paths.length > MOST_BOXES)
    throw new InputError(`${paths.length} ports: at most ${MOST_BOXES} boxes are served at once`);
  return paths.length === 1 ? { kind: 'port', path } : { kind: 'ports', paths: [...paths] };
}

const HIGHEST_PORT = 65_535;

/** `HOST:PORT`, a host or a port alone. With --lan and no host every address of this machine is meant. */
function addressFrom(
  text: string | undefined,
  isLan: boolean,
): { readonly host: string; readonly listenPort: number } {
  const usualHost = isLan ? '0.0.0.0' : '127.0.0.1';
  if (text === undefined) return { host: usualHost, listenPort: USUAL_PORT };
  const parts = /^(?:(\[[^\]]+\]|[^:]*):)?(\d+)$/.exec(text);
  if (parts === null && /^[a-z0-9.-]+$/i.test(text)) return { host: text, listenPort: USUAL_PORT };
  const listenPort = Number(parts?.[2]);
  if (parts === null || !(listenPort <= HIGHEST_PORT)) {
    throw new InputError(`--listen ${text}: write host and port, for example 127.0.0.1:${USUAL_PORT}`);
  }
  const host = (parts[1] ?? '').replace(/^\[|\]$/g, '');
  return { host: host === '' ? usualHost : host, listenPort };
}
