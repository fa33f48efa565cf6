import { describe, expect, it } from 'vitest';
import { pairAtTerminal } from '../../host/cli/output/pair-terminal';
import { Devices } from '../../host/server/devices';
import { Pairing } from '../../host/server/pairing';

const ADDRESS = 'http://192.168.7.20:8377/';

/** A terminal: what is typed line by line, and what is said. */
const terminal = (typed: readonly string[], isQuiet = false) => {
  const said: string[] = [];
  const quietly: string[] = [];
  const lines = [...typed];
  const pairing = new Pairing(() => 0);
  const devices = new Devices(undefined);
  const done = pairAtTerminal(
    { pairing, devices, pageAddresses: () => [ADDRESS] },
    {
      out: (line) => said.push(line),
      err: (line) => quietly.push(line),
      ask: () => Promise.resolve(lines.shift()),
    },
    isQuiet,
  );
  return { said, quietly, pairing, devices, done };
};

describe('pairing at the terminal', () => {
  it.each([
    ['p', 'operate'],
    ['w', 'watch'],
  ])(
    'opens by %s for a device that may %s, with the code, the address and a square',
    async (letter, right) => {
      const { said, pairing, done } = terminal([letter]);
      await done;
      const { state } = pairing;
      expect(state).toMatchObject({ kind: 'open', right });
      const text = said.join('\n');
      expect(text).toContain(`code ${state.kind === 'open' ? state.code : ''}`);
      expect(text).toContain(`open ${ADDRESS}`);
      expect(text).toMatch(/[\u2580\u2584\u2588]{5}/);
    },
  );

  it('closes again, says how when it does not understand, and tells who came in', async () => {
    const { said, pairing, devices, done } = terminal(['p', 'n', 'let me in']);
    await done;
    expect(pairing.state.kind).toBe('closed');
    expect(said.filter((line) => line.startsWith('To let a device in'))).toHaveLength(2);
    await devices.add('Blue phone', 'watch');
    expect(said.at(-1)).toBe('paired: Blue phone (watch)');
  });

  it('shows a code that was opened on the page, and keeps standard output for a program', async () => {
    const { said, quietly, pairing, done } = terminal([], true);
    await done;
    pairing.open('operate');
    expect(said).toEqual([]);
    expect(quietly.join('\n')).toContain('for one device, within 5 min');
  });
});
