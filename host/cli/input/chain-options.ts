import { factorOfKind } from '../../core/at-work';
import { networkOf, topologies, type Network, type Topology } from '../../core/network';
import type { Chain } from '../../core/proof/circuit-model';
import { senderResponse } from '../../core/sender';
import { typedNumber } from '../../core/text/number';
import type { Surroundings } from '../command';
import { InputError, refusedError } from '../input-error';
import type { Arguments, OptionTable } from '../options';
import { DISSIPATION_OPTIONS, dissipationFrom, LEAD_OPTIONS, leadFrom } from './at-work-options';
import { CURVE_FILE_OPTIONS, loadGauge, loadSender, required } from './gauge-and-sender';

/** The whole chain: gauge, sender, what is fitted, what stands behind the lead. */
export const CHAIN_OPTIONS = {
  ...CURVE_FILE_OPTIONS,
  ...LEAD_OPTIONS,
  ...DISSIPATION_OPTIONS,
  terminals: { kind: 'choice', choices: ['2', '3'], help: 'terminals of the gauge; 2 when left out' },
  fitted: {
    kind: 'text',
    value: 'NETWORK',
    help: `what is fitted, for example series:18 or shunt-then-series:10,100; one of ${topologies.join(', ')}; nothing when left out`,
  },
  'gauge-ohm': {
    kind: 'number',
    value: 'R',
    min: 0.1,
    max: 100_000,
    help: 'resistance of the gauge, for gauge-shunt',
  },
} as const satisfies OptionTable;

export type LoadedChain = {
  readonly chain: Chain;
  readonly unit: string;
  readonly warnings: readonly string[];
};

/** What the files and options say of the chain. Throws InputError, RefusedError. */
export async function loadChain(given: Arguments, surroundings: Surroundings): Promise<LoadedChain> {
  required(given, 'gauge');
  const loaded = await loadSender(required(given, 'sender'), surroundings);
  const gauge = await loadGauge(given, surroundings, loaded.sender.unit);
  const { unit } = gauge.response;
  const sender = senderResponse(loaded.sender, { unit });
  if ('kind' in sender) throw refusedError(sender, '--sender: ');
  const source = leadFrom(given);
  const dissipation = dissipationFrom(given) ?? loaded.dissipation ?? factorOfKind();
  const isCold = source === undefined && sender.quantity === 'temperature';
  return {
    unit,
    chain: {
      gauge: gauge.response,
      sender,
      network: fittedFrom(given),
      terminals: given.text('terminals') === '3' ? 3 : 2,
      heat: source && { source, dissipation },
    },
    warnings: [
      ...gauge.warnings,
      ...loaded.warnings,
      ...(isCold ? ['the sender\u2019s own heat is left out; --lead-V with two known loads counts it'] : []),
    ],
  };
}

const PART_COUNTS: Readonly<Record<Topology, readonly [least: number, most: number]>> = {
  none: [0, 0],
  series: [1, 1],
  shunt: [1, 1],
  'shunt-then-series': [2, 2],
  'series-then-shunt': [2, 2],
  'three-resistor': [3, 3],
  'gauge-shunt': [1, 2],
};

/** "series:18" as a network. Throws InputError. */
function fittedFrom(given: Arguments): Network {
  const text = given.text('fitted');
  if (text === undefined) return { topology: 'none', parts: [] };
  const [name = '', list = ''] = text.split(':');
  const topology = topologies.find((each) => each === name.trim());
  if (topology === undefined)
    throw new InputError(`--fitted ${text}: "${name}" is none of ${topologies.join(', ')}`);
  const ohms = list
    .split(',')
    .filter((part) => part.trim() !== '')
    .map((part) => {
      const read = typedNumber(part.trim());
      if (read.kind === 'refused') throw new InputError(`--fitted ${text}: ${read.message}`);
      if (!(read.value > 0)) throw new InputError(`--fitted ${text}: a resistor has more than 0 ohm`);
      return read.value;
    });
  const [least, most] = PART_COUNTS[topology];
  if (ohms.length < least || ohms.length > most)
    throw new InputError(
      `--fitted ${text}: ${topology} takes ${least === most ? least : `${least} or ${most}`} ohms`,
    );
  if (topology === 'gauge-shunt' && given.number('gauge-ohm') === undefined)
    throw new InputError('--fitted gauge-shunt needs --gauge-ohm');
  return networkOf(topology, ohms, given.number('gauge-ohm'));
}
