import { COMMON } from '../../firmware-ts/board/netlist';
import { Network } from '../../firmware-ts/board/simulated/network';
import { valueIn, type NetlistFile } from './netlist-file';

/** Ohm that a meter finds between two nets of the file through the resistors that are fitted. */
export function ohmIn(
  { parts, nets }: NetlistFile,
  [from, to]: readonly [string, string],
  isFitted: (ref: string) => boolean,
): number {
  const METER_AMP = 1e-6;
  const INSULATION_OHM = 1e9;
  const network = new Network();
  const seen = new Set([from, to]);
  for (const { ref, value } of parts) {
    const [one, two] = nets.filter(({ pins }) => pins.some((pin) => pin.ref === ref)).map(({ name }) => name);
    if (!/^R\d/.test(ref) || one === undefined || two === undefined || !isFitted(ref)) continue;
    network.resistor(one, two, valueIn(value));
    seen.add(one).add(two);
  }
  // Nothing hangs in the air: every net leaks to box common.
  for (const net of seen) if (net !== COMMON) network.resistor(net, COMMON, INSULATION_OHM);
  const volt = network.current(from, METER_AMP).current(to, -METER_AMP).solve();
  return (volt(from) - volt(to)) / METER_AMP;
}
