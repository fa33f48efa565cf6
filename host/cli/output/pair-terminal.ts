import { renderUnicodeCompact } from 'uqr';
import type { RunningServer } from '../../server';
import type { Surroundings } from '../command';

type Door = Pick<RunningServer, 'pairing' | 'devices' | 'pageAddresses'>;

const HELP = [
  'To let a device in, type one letter and press Enter:',
  '  p   a device that operates: it drives the box and types readings',
  '  w   a device that only watches',
  '  n   nobody: close the door again',
];

/**
 * Lets devices in from the terminal, and shows the code whoever has opened pairing. Ends when nothing more can be typed.
 * `isQuiet`: standard output is for a program, so everything is said on standard error.
 */
export async function pairAtTerminal(
  server: Door,
  surroundings: Pick<Surroundings, 'ask' | 'out' | 'err'>,
  isQuiet: boolean,
): Promise<void> {
  const { pairing, devices } = server;
  const say = isQuiet ? surroundings.err : surroundings.out;
  HELP.forEach(say);
  let shownCode: string | undefined;
  pairing.subscribe(() => {
    const { state } = pairing;
    const code = state.kind === 'open' ? state.code : undefined;
    if (code !== shownCode) offer(server).forEach(say);
    shownCode = code;
  });
  devices.subscribe((id) => {
    const device = devices.byId(id);
    say(device === undefined ? 'a device was removed' : `paired: ${device.name} (${device.right})`);
  });
  for (let line = await surroundings.ask(''); line !== undefined; line = await surroundings.ask('')) {
    const letter = line.trim().toLowerCase();
    if (letter === 'p') pairing.open('operate');
    else if (letter === 'w') pairing.open('watch');
    else if (letter === 'n') pairing.close();
    else HELP.forEach(say);
  }
}

function offer({ pairing, pageAddresses }: Door): string[] {
  const { state } = pairing;
  if (state.kind === 'closed') return ['pairing is closed'];
  const addresses = pageAddresses();
  const [first] = addresses;
  if (first === undefined)
    return [
      `code ${state.code}`,
      'this machine is on no network now; join one or open a hotspot, then ask again',
    ];
  const rest = Math.ceil(state.pausedMs / 1000);
  return [
    renderUnicodeCompact(`${first}#/pair/${state.token}`),
    '',
    `code ${state.code}   for one device, within ${Math.ceil(state.leftMs / 60_000)} min`,
    ...(rest > 0 ? [`too many wrong codes: nobody is let in for ${rest} s`] : []),
    `open ${addresses.join(' or ')}`,
  ];
}
