import { elements, path } from '../../firmware-ts/board/reference-design';
import { circuit } from './circuit';
import type { Component } from './component';

/** Elements of the first build: the smallest. */
export const FIRST_ELEMENTS = 8;

const LIMITER_NODE = `CHAIN-${elements.length}`;
const LAST_NODE = `CHAIN-${FIRST_ELEMENTS}`;

/** Relays with their drivers that are left out: those of the elements that are not there. */
const missing = elements.slice(FIRST_ELEMENTS).flatMap(({ name }, index) => {
  const relay = FIRST_ELEMENTS + 1 + index;
  return [name, `K${relay}`, `Q${relay}`, `R${100 + relay}`, `R${120 + relay}`, `D${1 + relay}`];
});

/** The chain ends at its last element; a drive without a relay ends at the controller, open. */
function rewired(component: Component): Component {
  const nets: Record<string, string> = {};
  const open: string[] = [];
  for (const [number, net] of Object.entries(component.nets)) {
    const drive = /^DRIVE-K(\d+)$/.exec(net);
    if (drive !== null && missing.includes(`K${drive[1] ?? ''}`)) open.push(number);
    else nets[number] = net === LIMITER_NODE ? LAST_NODE : net;
  }
  return {
    ...component,
    nets,
    terminals: component.terminals.map((terminal) =>
      open.includes(terminal.number) ? { ...terminal, kind: 'free' } : terminal,
    ),
  };
}

/** Every part of the first build. Nothing that protects is missing. */
export const firstCircuit: readonly Component[] = circuit
  .filter(({ reference }) => !missing.includes(reference))
  .map(rewired);

/** Ohm that all elements make, without and with the limiter. */
export const firstOhm = {
  elements:
    elements.slice(0, FIRST_ELEMENTS).reduce((sum, { nominalMilliohm }) => sum + nominalMilliohm, 0) / 1000,
  limiter: path.limiter.milliohm / 1000,
} as const;
